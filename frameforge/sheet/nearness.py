"""How near a piece on a sheet lies to the others and to the sheet's edge, and where that is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import Closest, segment_distance
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.sheet.design import Sheet
from frameforge.tolerances import CHORD_MM

__all__ = ["Body", "Near", "Neighbours", "nearest_edge"]

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


class Body:
    """A piece made ready for measuring: its card as chords, its segments with the boxes that hold them.

    Moved, it is not made ready anew.
    """

    __slots__ = ("at", "boxes", "card", "segments")

    def __init__(self, piece: Sequence[Region]) -> None:
        """Take a piece where it lies (mm)."""
        self.segments: list[Segment] = [s for region in piece for outline in region.outlines for s in outline.segments]
        found = [bounds((segment,)) for segment in self.segments]
        self.boxes = np.array([(box.left, box.bottom, box.right, box.top) for box in found])
        self.card = boolean.union([to_polygon(region) for region in piece])
        shapely.prepare(self.card)
        self.at = 0j

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, lower, right and upper end, mm."""
        return (*self.boxes[:, :2].min(axis=0), *self.boxes[:, 2:].max(axis=0))

    def moved(self, by_mm: complex) -> Body:
        """Return the body moved on."""
        body = Body.__new__(Body)
        body.segments, body.at = self.segments, self.at + by_mm
        shift = np.array([by_mm.real, by_mm.imag])
        body.boxes = self.boxes + np.tile(shift, 2)
        body.card = shapely.transform(self.card, partial(np.add, shift))
        return body

    def within(self, card: BaseGeometry, reach_mm: float) -> list[Segment]:
        """Return the segments, where they lie, that come as near to a card as that; others have no part in a gap."""
        left, bottom, right, top = self.boxes.T
        boxes = shapely.box(left, bottom, right, top)
        near = np.flatnonzero(shapely.dwithin(card, boxes, reach_mm))
        move = Affine.from_move(self.at)
        return [self.segments[k].transformed(move) for k in near]


class Neighbours:
    """The pieces on a sheet, made ready for asking how near one that is moved comes to them."""

    def __init__(self, pieces: Sequence[Sequence[Region]]) -> None:
        """Keep the pieces as they lie (mm, sheet coordinates)."""
        self._bodies = [Body(piece) for piece in pieces]

    def nearest(self, body: Body, but: int | None = None) -> Near | None:
        """Return where a piece comes nearest to the others, ``but`` one of them not counted; None where there is none.

        The distance is that of the true curves (``geometry.nearest``).
        """
        gaps = self._chord_gaps(body, but)
        if not gaps:
            return None
        over = [k for k, gap in gaps.items() if gap == 0 and self._common(k, body) is not None]
        if over:
            at = self._common(over[0], body) or 0j
            return Near(0.0, at, at, over[0], is_over=True)
        reach = min(gaps.values()) + 2 * _CHORDS_MM
        found = [(self._exact(k, body, reach), k) for k, gap in gaps.items() if gap <= reach]
        closest, other = min(found, key=lambda one: one[0].gap_mm)
        return Near(closest.gap_mm, closest.at_a, closest.at_b, other)

    def _chord_gaps(self, body: Body, but: int | None) -> dict[int, float]:
        """Return how far the chords of the other pieces are, of those that may be the nearest by their boxes."""
        far = {k: _box_gap(other.box, body.box) for k, other in enumerate(self._bodies) if k != but}
        found: dict[int, float] = {}
        least = math.inf
        for k in sorted(far, key=lambda k: far[k]):
            if far[k] > least + 2 * _CHORDS_MM:
                break
            found[k] = float(shapely.distance(self._bodies[k].card, body.card))
            least = min(least, found[k])
        return found

    def _exact(self, number: int, body: Body, reach_mm: float) -> Closest:
        """Return the closest points of two pieces; the curves are no further apart than the chords and a little."""
        other = self._bodies[number]
        return segment_distance(body.within(other.card, reach_mm), other.within(body.card, reach_mm))

    def _common(self, number: int, body: Body) -> complex | None:
        """Return a point of the card that a piece has in common with another; None where they only touch."""
        common = boolean.intersection(self._bodies[number].card, body.card)
        if common.area <= _TOUCH_MM2:
            return None
        point = shapely.point_on_surface(common)
        return complex(point.x, point.y)


def _box_gap(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> float:
    """Return how far two boxes are apart, 0 where they meet."""
    return math.hypot(max(a[0] - b[2], b[0] - a[2], 0.0), max(a[1] - b[3], b[1] - a[3], 0.0))


def nearest_edge(body: Body, sheet: Sheet) -> Near:
    """Return where a piece comes nearest to the edge of its sheet."""
    points = shapely.get_coordinates(body.card)
    low, high = points[points.argmin(axis=0)], points[points.argmax(axis=0)]
    left, bottom, right, top = (complex(*end) for end in (*low, *high))
    edges = body.box
    ways = (
        (edges[0], left, complex(0, left.imag)),
        (sheet.width_mm - edges[2], right, complex(sheet.width_mm, right.imag)),
        (edges[1], bottom, complex(bottom.real, 0)),
        (sheet.height_mm - edges[3], top, complex(top.real, sheet.height_mm)),
    )
    gap_mm, at, edge = min(ways, key=lambda way: way[0])
    return Near(float(gap_mm), at, edge)
