"""A piece as it comes off the board: the card that is left, and every bit of waste numbered, the smallest first."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.picture.elements import bar, card, mm_to_px, page, text
from frameforge.picture.finding_table import wrapped
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import (
    BENCH,
    DRY_SLATE,
    EDGE_PX,
    FLEECE,
    LINE_STEP_PX,
    MARGIN_PX,
    TITLE_PX,
    WET_SLATE,
    card_colour,
)
from frameforge.picture.path_text import number_text, region_text

__all__ = ["as_cut_picture", "bits_of", "bits_words", "number_spots"]

PAGE_PX: Final = 900.0
FIELD_PX: Final = PAGE_PX - 2 * MARGIN_PX - 40
GREATEST_SCALE: Final = 9.0
"""Pixels for a millimetre at most."""

_NUMBER_PX: Final = 10.0
_FINE_PX: Final = 0.5
"""The middle of a bit is looked for to this."""
_HATCH: Final = (
    '<pattern id="waste" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    f'<rect width="5" height="5" fill="{BENCH}"/>'
    f'<path d="M 0 0 V 5" stroke="{WET_SLATE}" stroke-width="0.9"/></pattern>'
)
_AROUND: Final = tuple(
    (away, math.radians(turn)) for away in (1.0, 9.0, 18.0, 28.0) for turn in (-90, 90, 0, 180, -45, -135, 45, 135)
)
"""Where the number of a bit too small to hold it may stand: px beyond its edge, direction."""


@dataclass(frozen=True, slots=True)
class _Spot:
    """The middle of a bit in px, and how much room there is round it."""

    at: complex
    room_px: float


def bits_of(regions: Iterable[Region]) -> tuple[Region, ...]:
    """Return the waste inside the regions, the smallest first, equal ones clockwise from the top."""
    bits = [Region(hole.reversed()) for region in regions for hole in region.holes]
    return tuple(sorted(bits, key=lambda bit: (round(area_mm2(bit), 3), _clock(bounds(bit).center))))


def bits_words(bits: Sequence[Region]) -> str:
    """Return how many bits there are to pick out and the smallest: "49 bits to pick out, the smallest 3.2 mm2"."""
    if not bits:
        return "nothing to pick out"
    many = "1 bit" if len(bits) == 1 else f"{len(bits)} bits"
    return f"{many} to pick out, {'of' if len(bits) == 1 else 'the smallest'} {area_mm2(bits[0]):.1f} mm2"


def as_cut_picture(
    name: str, regions: Sequence[Region], card_name: str | None = None, parts: Sequence[Region] = ()
) -> str:
    """Return the picture as SVG text, 900 px wide: the card on the bench, its waste hatched, all bits numbered.

    ``parts`` are the cards that the regions are parted into, where they are; what parts them is no waste.
    Raises ValueError when there is no region.
    """
    box = bounds(regions)
    scale = min(FIELD_PX / box.width_mm, FIELD_PX / box.height_mm, GREATEST_SCALE)
    top = MARGIN_PX + TITLE_PX + 24
    high = box.height_mm * scale
    to_px = mm_to_px(scale, complex(PAGE_PX / 2, top + high / 2), box.center)
    bits = bits_of(regions)
    baseline = top + high + 44
    words = f"{bits_words(bits)[0].upper()}{bits_words(bits)[1:]}."
    told = [*wrapped(words, PAGE_PX / 2 - MARGIN_PX)]
    body = [
        f"<defs>{_HATCH}</defs>",
        text(complex(MARGIN_PX, MARGIN_PX + TITLE_PX * 0.8), f"{name}, as cut", size_px=TITLE_PX, is_bold=True),
        card(parts or regions, to_px, card_colour(card_name)),
        *(_waste(bit, to_px) for bit in bits),
        *(_number(at, str(k)) for k, at in enumerate(number_spots(bits, to_px), start=1) if at is not None),
        *bar(PAGE_PX - MARGIN_PX, baseline, scale),
        *(text(complex(MARGIN_PX, baseline + k * LINE_STEP_PX), row, fill=DRY_SLATE) for k, row in enumerate(told)),
    ]
    height = baseline + (len(told) - 1) * LINE_STEP_PX + MARGIN_PX
    return page(PAGE_PX, height, name, f"{name} as cut: {words}", body)


def _clock(z: complex) -> float:
    """Return the direction clockwise from the top, in turns."""
    return round((math.pi / 2 - math.atan2(z.imag, z.real)) / math.tau, 6) % 1.0


def _waste(bit: Region, to_px: Affine) -> str:
    """Return one bit, hatched."""
    return (
        f'<path d="{region_text([bit.transformed(to_px)])}" fill="url(#waste)" stroke="{WET_SLATE}" '
        f'stroke-width="{number_text(EDGE_PX, 2)}" stroke-linejoin="round"/>'
    )


def number_spots(bits: Sequence[Region], to_px: Affine) -> list[complex | None]:
    """Return where the number of every bit stands (px): in its middle, or beside it; None where there is no room."""
    shapes = [to_polygon(bit.transformed(to_px), _FINE_PX / 4) for bit in bits]
    tree = shapely.STRtree(np.asarray(shapes, dtype=object)) if shapes else None
    halves = [text_width(str(number), _NUMBER_PX, is_bold=True) / 2 + 1 for number in range(1, len(bits) + 1)]
    spots = [_middle(shape) for shape in shapes]
    fits = [spot.room_px >= math.hypot(half, _NUMBER_PX * 0.4) for spot, half in zip(spots, halves, strict=True)]
    taken = [(spot.at, half) for spot, half, has_room in zip(spots, halves, fits, strict=True) if has_room]
    found: list[complex | None] = []
    for shape, spot, half, has_room in zip(shapes, spots, halves, fits, strict=True):
        at = spot.at if has_room else _beside(shape, half, tree, taken)
        if at is None and _is_free(spot.at, half, taken):
            at = spot.at
        if at is not None and not has_room:
            taken.append((at, half))
        found.append(at)
    return found


def _middle(shape: shapely.Polygon) -> _Spot:
    """Return the middle of the largest disc in a bit."""
    disc = shapely.maximum_inscribed_circle(shape, tolerance=_FINE_PX)
    x, y = disc.coords[0]
    return _Spot(complex(x, y), float(disc.length))


def _beside(
    shape: shapely.Polygon, half: float, tree: shapely.STRtree | None, taken: Sequence[tuple[complex, float]]
) -> complex | None:
    """Return a place beside a bit that lies on no bit and no number, None where there is none."""
    assert tree is not None
    left, up, right, down = shape.bounds
    for away, turn in _AROUND:
        c, s = math.cos(turn), math.sin(turn)
        reach_x = (right - left) / 2 + away + half
        reach_y = (down - up) / 2 + away + _NUMBER_PX * 0.5
        at = complex((left + right) / 2 + reach_x * c, (up + down) / 2 + reach_y * s)
        box = shapely.box(at.real - half, at.imag - _NUMBER_PX * 0.45, at.real + half, at.imag + _NUMBER_PX * 0.45)
        if not len(tree.query(box, predicate="intersects")) and _is_free(at, half, taken):
            return at
    return None


def _is_free(at: complex, half: float, taken: Sequence[tuple[complex, float]]) -> bool:
    """Return whether a number ``2 half`` wide (px) lies on no other there."""
    return all(abs(at.real - p.real) > half + h or abs(at.imag - p.imag) > _NUMBER_PX for p, h in taken)


def _number(at: complex, words: str) -> str:
    """Return a number with its middle at a point, cased so that it reads on card, hatching and bench."""
    plain = text(
        complex(at.real, at.imag + _NUMBER_PX * 0.36), words, size_px=_NUMBER_PX, is_bold=True, anchor="middle"
    )
    return plain.replace("<text ", f'<text stroke="{FLEECE}" stroke-width="3" paint-order="stroke" ', 1)
