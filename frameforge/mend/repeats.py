"""Pieces that come to themselves when they are turned: one of their equal repeats stands for all of them."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import centroid
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Complexes, SegmentTable
from frameforge.tolerances import SAME_SHAPE_MM

__all__ = ["Repeats", "to_repeats"]

LEAST_COUNT = 7
"""Below, the repeats shown on their own would be most of the piece."""
SHOWN = 2.0
"""Repeats shown to each side of the middle of the one that is looked at."""
TELLING = (0.0, 0.3, 0.7)
"""Points at these t tell a segment from any other."""
FIRST_LOOK = 8
"""A turn is first tried on so many points, since most fail there."""
ASIDE = 0.37
"""The middle of the repeat looked at, in repeats from the first corner of the outer edge: where little is even."""


@dataclass(frozen=True, slots=True)
class Repeats:
    """``count`` equal repeats about a centre (mm, y up); ``way`` is the unit direction of the middle of one of them."""

    centre: complex
    count: int
    way: complex

    @property
    def turn_rad(self) -> float:
        """The angle from one repeat to the next."""
        return math.tau / self.count

    def turned(self, number: int) -> Affine:
        """Return the turn by ``number`` repeats."""
        return Affine.from_turn(number * self.turn_rad, self.centre)

    def place(self, at: complex) -> float:
        """Return the number of repeats a point lies from the middle of the one looked at, -count / 2 to count / 2."""
        return cmath.phase((at - self.centre) / self.way) / self.turn_rad if at != self.centre else 0.0

    def shown(self, regions: Sequence[Region]) -> tuple[Region, ...]:
        """Return the piece with few repeats left and plain card in place of all others.

        The card goes from the largest disc of nothing round the centre, or from the centre, to the outermost edge.
        """
        polygons = [to_polygon(region) for region in regions]
        spot = shapely.Point(self.centre.real, self.centre.imag)
        is_card = any(polygon.contains(spot) for polygon in polygons)
        inner = 0.0 if is_card else min(polygon.distance(spot) for polygon in polygons)
        points = np.concatenate([_points(outline) for region in regions for outline in region.outlines])
        return evaluate(union(*regions, self._plain(inner, float(np.abs(points - self.centre).max())))).regions

    def _plain(self, inner_mm: float, outer_mm: float) -> Region:
        """Return plain card in all repeats but those shown."""
        begin = cmath.phase(self.way) + SHOWN * self.turn_rad
        sweep = (self.count - 2 * SHOWN) * self.turn_rad
        outer = Arc.from_circle(self.centre, outer_mm, begin, sweep)
        inner = Arc.from_circle(self.centre, inner_mm, begin + sweep, -sweep) if inner_mm > 0 else None
        if inner is None:
            sides = [Line(outer.end, self.centre), Line(self.centre, outer.start)]
            return Region(Outline((outer, *sides)))
        return Region(Outline((outer, Line(outer.end, inner.start), inner, Line(inner.end, outer.start))))


def to_repeats(regions: Sequence[Region]) -> Repeats | None:
    """Return the most repeats into which the regions go evenly, to 1e-6 mm; None for fewer than seven."""
    centre = centroid(regions)
    told = [_telling(outline, centre) for region in regions for outline in region.outlines]
    points = np.concatenate(told) - centre
    segments = len(points) // len(TELLING)
    if not segments:
        return None
    tree = shapely.STRtree(_spots(points))
    for count in range(segments, LEAST_COUNT - 1, -1):
        if segments % count == 0:
            turned = points * cmath.rect(1, math.tau / count)
            if _are_among(turned[:FIRST_LOOK], points, tree) and _are_among(turned, points, tree):
                way = cmath.rect(1, cmath.phase(points[0]) + ASIDE * math.tau / count)
                return Repeats(centre, count, way)
    return None


def _telling(outline: Outline, centre: complex) -> Complexes:
    """Return points that tell an outline from any other, three for each segment; for a circle, wherever it begins,
    three in all, and none for one about the centre."""
    first = outline.segments[0]
    if not isinstance(first, Arc) or not all(_is_same_circle(first, segment) for segment in outline.segments):
        return _points(outline)
    away = first.center - centre
    if abs(away) <= SAME_SHAPE_MM:
        return np.zeros(0, dtype=np.complex128)
    reach = abs(first.u) * away / abs(away)
    return np.array([first.center - reach, first.center, first.center + reach])


def _is_same_circle(one: Arc, segment: Segment) -> bool:
    """Return whether a segment lies on the circle of an arc."""
    return (
        isinstance(segment, Arc)
        and one.is_circular
        and segment.is_circular
        and abs(segment.center - one.center) + abs(abs(segment.u) - abs(one.u)) <= SAME_SHAPE_MM
    )


def _points(outline: Outline) -> Complexes:
    """Return points that tell an outline from any other."""
    table = SegmentTable.from_segments(outline.segments)
    rows = np.repeat(np.arange(len(table)), len(TELLING))
    return table.point(rows, np.tile(np.array(TELLING), len(table)))


def _spots(points: Complexes) -> np.ndarray[tuple[int], np.dtype[np.object_]]:
    return np.asarray(shapely.points(points.real, points.imag), dtype=object)


def _are_among(some: Complexes, points: Complexes, tree: shapely.STRtree) -> bool:
    """Return whether each of some points is one of the others."""
    nearest = tree.nearest(_spots(some))
    return bool(np.abs(points[nearest] - some).max() <= 2 * SAME_SHAPE_MM)
