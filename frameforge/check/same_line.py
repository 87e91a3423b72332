"""Closed lines that enclose nothing, and such as lie in one another: they bound no card of their own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from frameforge.check.chords import ComplexArray
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import chord_count, sample
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.tolerances import LINE_CHORD_MM

__all__ = ["once_each"]

SAME_MM: Final = 0.01
"""Lines this close all along are one: cutters step as far."""
FLAT: Final = 1e-6
"""A line whose hull has less area than this, in mm2 for each mm of its length, runs out and back in itself."""
MOST_COMPARED: Final = 200
"""Points of a line that are held against another."""


@dataclass(frozen=True, slots=True, eq=False)
class _Kept:
    area_mm2: float
    length_mm: float
    box: Box
    points: ComplexArray

    def is_like(self, other: _Kept) -> bool:
        """Whether every point of one lies on the other, where size and place agree."""
        if abs(self.length_mm - other.length_mm) > SAME_MM or self._differs(other):
            return False
        return self._lies_in(other) and other._lies_in(self)

    def _differs(self, other: _Kept) -> bool:
        away = abs(self.box.center - other.box.center) + abs(self.box.width_mm - other.box.width_mm)
        return away > 2 * SAME_MM or abs(self.area_mm2 - other.area_mm2) > SAME_MM * self.length_mm

    def _lies_in(self, other: _Kept) -> bool:
        some = self.points[:: max(1, len(self.points) // MOST_COMPARED)]
        ring = shapely.linestrings(np.stack([other.points.real, other.points.imag], axis=-1))
        return bool(np.all(shapely.dwithin(ring, shapely.points(some.real, some.imag), SAME_MM + LINE_CHORD_MM)))


def once_each(outlines: Sequence[Outline]) -> tuple[Outline, ...]:
    """Return the outlines that enclose something, without those that lie in an earlier one to within ``SAME_MM``."""
    cells: dict[tuple[int, int], list[_Kept]] = {}
    result = []
    for outline in outlines:
        mine = _measured(outline)
        if _encloses_nothing(mine):
            continue
        if any(mine.is_like(other) for cell in _around(mine.box.center) for other in cells.get(cell, ())):
            continue
        cells.setdefault(_cell(mine.box.center), []).append(mine)
        result.append(outline)
    return tuple(result)


def _measured(outline: Outline) -> _Kept:
    points = [
        sample(segment, np.linspace(0.0, 1.0, chord_count(segment, LINE_CHORD_MM) + 1)) for segment in outline.segments
    ]
    return _Kept(abs(area_mm2(outline)), length_mm(outline), bounds(outline), np.concatenate(points))


def _encloses_nothing(line: _Kept) -> bool:
    """Whether a line has no width anywhere. The area alone does not say it: that of a figure of eight may be 0."""
    if line.area_mm2 > FLAT * line.length_mm:
        return False
    hull = shapely.convex_hull(shapely.multipoints(np.stack([line.points.real, line.points.imag], axis=-1)))
    return bool(shapely.area(hull) <= FLAT * line.length_mm)


def _cell(point: complex) -> tuple[int, int]:
    return int(point.real // (4 * SAME_MM)), int(point.imag // (4 * SAME_MM))


def _around(point: complex) -> Iterator[tuple[int, int]]:
    """Return the cell of a point and the eight about it."""
    x, y = _cell(point)
    return ((x + i, y + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
