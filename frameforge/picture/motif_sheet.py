"""Motifs as they stand on an edge: one alone with its foot and axis, or the whole catalogue to one scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.motif.motif import Motif
from frameforge.picture.elements import bar, card, line, mm_to_px, page, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import (
    BEETROOT,
    BENCH,
    DEW,
    DRAB,
    DRY_SLATE,
    FLEECE,
    LINE_STEP_PX,
    MARGIN_PX,
    NAME_PX,
    TEXT_PX,
    TITLE_PX,
    WET_SLATE,
    card_colour,
)
from frameforge.picture.path_text import number_text, region_text

__all__ = ["motif_picture", "motif_sheet"]

PAGE_PX: Final = 620.0
FIELD_PX: Final = 380.0
"""A motif alone is drawn as large as this square takes."""

GREATEST_SCALE: Final = 10.0
"""Pixels for a millimetre at most, so that the 50 mm bar fits the page."""

SHEET_COLUMNS: Final = 4
SHEET_PX: Final = 960.0
"""Width of the catalogue's page."""

GAP_PX: Final = 28.0


def motif_picture(motif: Motif, *, name: str = "", lines: Sequence[str] = (), colour: str | None = "moss") -> str:
    """Return one motif as SVG text: card, foot and axis, lines of small text, 50 mm bar."""
    title = name or motif.name
    box = _box(motif)
    scale = min(FIELD_PX / max(box.width_mm, box.height_mm), GREATEST_SCALE)
    floor = MARGIN_PX + TITLE_PX + 36 + box.top * scale
    to_px = mm_to_px(scale, complex(PAGE_PX / 2, floor), complex(box.center.real, 0))
    below = floor - box.bottom * scale + 52
    body = [
        text(complex(MARGIN_PX, MARGIN_PX + TITLE_PX * 0.8), title, size_px=TITLE_PX, is_bold=True),
        line(complex(MARGIN_PX, floor), complex(PAGE_PX - MARGIN_PX, floor), stroke=DEW, width_px=1.5),
        *_edge_card(motif, complex(PAGE_PX / 2, floor), PAGE_PX - 2 * MARGIN_PX, -box.bottom * scale),
        *_card(motif, to_px, card_colour(colour)),
        *_axis(box, to_px),
        *_foot(motif, to_px),
        _foot_words(motif, to_px),
        *bar(PAGE_PX - MARGIN_PX, below, scale),
    ]
    baseline = below + LINE_STEP_PX + 8
    for i, words in enumerate(lines):
        body.append(text(complex(MARGIN_PX, baseline + i * LINE_STEP_PX), words, fill=DRY_SLATE))
    height = (baseline + (len(lines) - 1) * LINE_STEP_PX if lines else below) + MARGIN_PX
    return page(PAGE_PX, height, title, f"{title} standing on its foot", body)


def motif_sheet(title: str, motifs: Sequence[Motif], *, lines: Sequence[Sequence[str]] = ()) -> str:
    """Return the catalogue as SVG text, four motifs a row on one edge, all to one scale, names below.

    ``lines`` holds small text for each motif, in the same order; left empty, only names stand there.
    Raises ValueError when there is no motif.
    """
    if not motifs:
        raise ValueError("a motif sheet needs at least one motif")
    boxes = [_box(motif) for motif in motifs]
    told = [*lines, *(() for _ in motifs)][: len(motifs)]
    cell_px = (SHEET_PX - 2 * MARGIN_PX - GAP_PX * (SHEET_COLUMNS - 1)) / SHEET_COLUMNS
    # Half of a motif may reach farther from its foot's middle than the other half: both sides are kept free.
    widest = max(2 * max(-box.left, box.right) for box in boxes)
    scale = min((cell_px - 24) / widest, GREATEST_SCALE)
    top = MARGIN_PX + TITLE_PX + GAP_PX
    baseline = MARGIN_PX + TITLE_PX * 0.8
    body = [
        text(complex(MARGIN_PX, baseline), title, size_px=TITLE_PX, is_bold=True),
        *bar(SHEET_PX - MARGIN_PX, baseline, scale),
    ]
    for first in range(0, len(motifs), SHEET_COLUMNS):
        row = slice(first, first + SHEET_COLUMNS)
        floor = top + max(box.top for box in boxes[row]) * scale
        sunk = max(-box.bottom for box in boxes[row]) * scale
        for i, (motif, words) in enumerate(zip(motifs[row], told[row], strict=True)):
            middle = MARGIN_PX + i * (cell_px + GAP_PX) + cell_px / 2
            body.extend(_cell(motif, words, complex(middle, floor), cell_px, scale, sunk))
        top = floor + sunk + 20 + NAME_PX + max(len(words) for words in told[row]) * LINE_STEP_PX + GAP_PX
    return page(
        SHEET_PX, top - GAP_PX + MARGIN_PX, title, f"{title}: {', '.join(motif.name for motif in motifs)}", body
    )


def _cell(motif: Motif, words: Sequence[str], at: complex, width: float, scale: float, sunk: float) -> list[str]:
    """Return one motif standing at ``at`` on its stretch of edge, its name and lines below."""
    half = width / 2
    to_px = mm_to_px(scale, at)
    baseline = at.imag + sunk + 20 + NAME_PX * 0.8
    body = [
        line(at - half, at + half, stroke=DEW, width_px=1.5),
        *_edge_card(motif, at, width, -_box(motif).bottom * scale),
        *_card(motif, to_px, card_colour("moss")),
        *_foot(motif, to_px),
        text(complex(at.real, baseline), motif.name, size_px=NAME_PX, is_bold=True, anchor="middle"),
    ]
    for i, told in enumerate(words):
        small = complex(at.real, baseline + (i + 1) * LINE_STEP_PX)
        size = min(TEXT_PX, TEXT_PX * width / max(text_width(told, TEXT_PX), 1.0))
        body.append(text(small, told, size_px=size, fill=DRY_SLATE, anchor="middle"))
    return body


def _box(motif: Motif) -> Box:
    """Return the box of all parts and of the foot, mm."""
    half = complex(motif.foot_mm / 2, 0)
    return bounds(motif.regions).union(Box.from_points((-half, half)))


def _edge_card(motif: Motif, floor: complex, width: float, depth: float) -> list[str]:
    """Return the card below the edge, as far down as the motif reaches, where the motif replaces part of it."""
    if not motif.cut_away:
        return []
    left, top = number_text(floor.real - width / 2, 2), number_text(floor.imag, 2)
    size = f'width="{number_text(width, 2)}" height="{number_text(depth, 2)}"'
    return [f'<rect x="{left}" y="{top}" {size} fill="{DRAB}"/>']


def _card(motif: Motif, to_px: Affine, fill: str) -> list[str]:
    """Return the part cut away with a dashed edge, the joined card, and windows, which show the bench."""
    body = []
    if motif.cut_away:
        path = region_text(region.transformed(to_px) for region in motif.cut_away)
        dashed = f'stroke="{WET_SLATE}" stroke-width="1" stroke-dasharray="4 3"'
        body.append(f'<path d="{path}" fill="{BENCH}" {dashed}/>')
    if motif.join:
        body.append(card(motif.join, to_px, fill))
    if motif.window:
        body.append(card(motif.window, to_px, BENCH))
    return body


def _axis(box: Box, to_px: Affine) -> tuple[str, ...]:
    """Return the axis, cased, from the foot to a little beyond the tip."""
    start, end = to_px.apply(0), to_px.apply(complex(0, box.top)) - 14j
    return (
        line(start, end, stroke=FLEECE, width_px=3.4, dashes="6 4"),
        line(start, end, stroke=WET_SLATE, width_px=1, dashes="6 4"),
    )


def _foot_words(motif: Motif, to_px: Affine) -> str:
    """Return the measure of the foot: below it, or beside it where the motif itself reaches down."""
    words = f"foot {motif.foot_mm:.1f} mm"
    if motif.cut_away:
        return text(to_px.apply(motif.foot_mm / 2) + 10 - 10j, words, fill=BEETROOT)
    return text(to_px.apply(0) + 24j, words, fill=BEETROOT, anchor="middle")


def _foot(motif: Motif, to_px: Affine) -> tuple[str, ...]:
    """Return the foot, cased, with a short tick at both ends."""
    half = complex(motif.foot_mm / 2, 0)
    left, right = to_px.apply(-half), to_px.apply(half)
    strokes = ((left, right), (left - 6j, left + 6j), (right - 6j, right + 6j))
    cased = (line(a, b, stroke=FLEECE, width_px=5) for a, b in strokes)
    return (*cased, *(line(a, b, stroke=BEETROOT, width_px=2.5) for a, b in strokes))
