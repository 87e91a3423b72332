"""The card as it comes off the board, the command's own picture told to the page: waste hatched, bits numbered."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

from frameforge.desk.asked import width_of
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.marks import point_values
from frameforge.desk.near import near_place
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.job.made import MadePiece
from frameforge.job.motif_source import MotifSource
from frameforge.job.places import words_at
from frameforge.picture.as_cut import bits_of, bits_words, number_spots
from frameforge.picture.elements import BAR_MM, mm_to_px
from frameforge.picture.look import card_colour
from frameforge.picture.path_text import region_text

__all__ = ["as_cut"]

_GREATEST_SCALE: Final = 9.0
"""Pixels for a millimetre at most, as in the command's picture."""
_ROOM_PX: Final = 26.0
"""Bench round the piece; numbers of bits near its edge may stand there."""
_BELOW_PX: Final = 34.0
"""Room for the 50 mm bar."""
_DIGITS: Final = 2


def as_cut(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return every piece of a recipe as it is cut, with the list of its bits to pick out, for the page.

    ``question`` holds recipe and width (px). Raises what the command raises.
    """
    pieces = made_pieces(str(question["recipe"]), source)[1]
    return {"pieces": [_cut(made, width_of(question)) for made in pieces]}


def _cut(made: MadePiece, width: float) -> dict[str, Any]:
    region = made.piece.region
    box = bounds(region)
    field = width - 2 * _ROOM_PX
    scale = min(field / box.width_mm, field / box.height_mm, _GREATEST_SCALE)
    high = box.height_mm * scale + 2 * _ROOM_PX + _BELOW_PX
    to_px = mm_to_px(scale, complex(width / 2, _ROOM_PX + box.height_mm * scale / 2), box.center)
    bits = bits_of((region,))
    words = bits_words(bits)
    return {
        "name": made.name,
        "width": width,
        "height": round(high, _DIGITS),
        "card": {
            "path": region_text((card.transformed(to_px) for card in made.regions), _DIGITS),
            "colour": card_colour(made.card),
        },
        "bits": _bits(bits, to_px, (width, high)),
        "list": list(_listed(made, bits)),
        "words": f"{words[0].upper()}{words[1:]}.",
        "bar": round(BAR_MM * scale, _DIGITS),
    }


def _bits(bits: Sequence[Region], to_px: Affine, size_px: tuple[float, float]) -> list[dict[str, Any]]:
    """Return every bit of waste as it is drawn, with the place of its number, if it has room, and how it is gone to."""
    found = []
    for bit, spot in zip(bits, number_spots(bits, to_px), strict=True):
        box = bounds(bit)
        reach = math.hypot(box.width_mm, box.height_mm) / 2 * to_px.greatest_stretch
        found.append(
            {
                "path": region_text([bit.transformed(to_px)], _DIGITS),
                "number": None if spot is None else point_values(spot),
                "place": near_place(to_px.apply(box.center), max(reach, 1.0), size_px),
            }
        )
    return found


def _listed(made: MadePiece, bits: Sequence[Region]) -> Iterator[dict[str, Any]]:
    """Yield the lines of the list: bits of one size together, by their first and last numbers."""
    places = words_at(made.piece, (bounds(bit).center for bit in bits))
    numbered = enumerate(bits, start=1)
    for area, group in itertools.groupby(numbered, key=lambda numbered: f"{area_mm2(numbered[1]):.1f}"):
        numbers = [number for number, _ in group]
        first, last = numbers[0], numbers[-1]
        label = f"{first}" if first == last else f"{first} to {last}"
        what = f"{area} mm2" if first == last else f"{area} mm2 each"
        more = f", and {len(numbers) - 1} more" if len(numbers) > 1 else ""
        yield {"first": first, "last": last, "label": label, "what": f"{what}: {places[first - 1]}{more}"}
