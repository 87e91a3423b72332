"""How near a piece on a sheet lies to the others and to the sheet's edge, and where that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.region import Region
from frameforge.sheet.design import Sheet
from frameforge.tolerances import CHORD_MM

__all__ = ["Near", "Neighbours", "nearest_edge"]

_CHORDS_MM: Final = 2 * CHORD_MM
"""Chords of two pieces lie no further apart than their curves by more than this."""

_TOUCH_MM2: Final = 1e-3
"""Card in common that is no more than chords make of a touch."""


@dataclass(frozen=True, slots=True)
class Near:
    """A distance in mm and its two ends: on the piece, and on what it is measured to.

    ``other`` is the number of the other piece, None for the edge of the sheet. Where two pieces overlap, ``is_over``,
    the distance is 0 and both ends lie where they do. A piece beyond the edge has a distance below 0.
    """

    gap_mm: float
    at: complex
    other_at: complex
    other: int | None = None
    is_over: bool = False


class Neighbours:
    """The pieces on a sheet, made ready for asking how near one that is moved comes to them."""

    def __init__(self, pieces: Sequence[Sequence[Region]]) -> None:
        """Keep the pieces as they lie (mm, sheet coordinates)."""
        self._pieces = tuple(tuple(piece) for piece in pieces)
        self._cards = np.array([_card(piece) for piece in pieces], dtype=object)
        shapely.prepare(self._cards)

    def nearest(self, piece: Sequence[Region], but: int | None = None) -> Near | None:
        """Return where a piece comes nearest to the others, ``but`` one of them not counted; None where there is none.

        The distance is that of the true curves (``geometry.nearest``).
        """
        others = [k for k in range(len(self._pieces)) if k != but]
        if not others:
            return None
        card = _card(piece)
        gaps = shapely.distance(self._cards[others], card)
        over = [k for k, gap in zip(others, gaps, strict=True) if gap == 0 and self._common(k, card) is not None]
        if over:
            at = self._common(over[0], card) or 0j
            return Near(0.0, at, at, over[0], is_over=True)
        near = [k for k, gap in zip(others, gaps, strict=True) if gap <= gaps.min() + 2 * _CHORDS_MM]
        mine = [outline for region in piece for outline in region.outlines]
        found = [(distance(mine, [o for r in self._pieces[k] for o in r.outlines]), k) for k in near]
        closest, other = min(found, key=lambda one: one[0].gap_mm)
        return Near(closest.gap_mm, closest.at_a, closest.at_b, other)

    def _common(self, number: int, card: BaseGeometry) -> complex | None:
        """Return a point of the card that a piece has in common with another; None where they only touch."""
        common = boolean.intersection(self._cards[number], card)
        if common.area <= _TOUCH_MM2:
            return None
        point = shapely.point_on_surface(common)
        return complex(point.x, point.y)


def nearest_edge(piece: Sequence[Region], sheet: Sheet) -> Near:
    """Return where a piece comes nearest to the edge of its sheet."""
    box = bounds(piece)
    points = np.concatenate([shapely.get_coordinates(to_polygon(region)) for region in piece])
    low, high = points[points.argmin(axis=0)], points[points.argmax(axis=0)]
    left, bottom, right, top = (complex(*end) for end in (*low, *high))
    ways = (
        (box.left, left, complex(0, left.imag)),
        (sheet.width_mm - box.right, right, complex(sheet.width_mm, right.imag)),
        (box.bottom, bottom, complex(bottom.real, 0)),
        (sheet.height_mm - box.top, top, complex(top.real, sheet.height_mm)),
    )
    gap_mm, at, edge = min(ways, key=lambda way: way[0])
    return Near(gap_mm, at, edge)


def _card(piece: Sequence[Region]) -> BaseGeometry:
    return boolean.union([to_polygon(region) for region in piece])
