"""What is left of a sheet: the largest disc and the largest upright rectangle, in its rest and in openings.

Both are found on chords and then drawn in until they lie in the free area whole, so what is told can be cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.sheet.design import Design, Placed, Sheet
from frameforge.tolerances import CHORD_MM

__all__ = ["OffCut", "off_cuts"]

STEP_MM = 1.0
"""Cell on which the largest rectangle is looked for before its sides are moved out."""
SIDE_MM = 0.005
"""Sides of the rectangle are moved out to within this of what stops them."""


@dataclass(frozen=True, slots=True)
class OffCut:
    """A rest: of the sheet (``opening_of`` None) or in an opening of the piece at that place of the sheet's list.

    ``disc_at`` is the middle of the largest disc, in sheet coordinates; ``rectangle`` the largest upright one.
    """

    opening_of: int | None
    disc_at: complex
    disc_mm: float
    rectangle: Box


def off_cuts(
    placed: Sequence[Placed],
    designs: Sequence[Design],
    sheet: Sheet,
    used: Sequence[Region] = (),
    *,
    clear_mm: float = 0.0,
    least_mm: float = 10.0,
) -> tuple[OffCut, ...]:
    """Return the rests of a sheet, the one of the sheet itself first, then openings from the largest disc down.

    ``clear_mm`` is kept to every line and to the edge of the sheet; rests whose disc is below ``least_mm`` across
    are left out.
    """
    pieces = [place.regions(tuple(designs)) for place in placed]
    solid = boolean.union([to_polygon(region) for piece in [*pieces, tuple(used)] for region in piece])
    filled = boolean.union([to_polygon(Region(r.outer)) for piece in [*pieces, tuple(used)] for r in piece])
    whole = shapely.box(0, 0, sheet.width_mm, sheet.height_mm)
    rest = _off_cut(None, boolean.difference(whole, filled), clear_mm)
    found = [
        _off_cut(k, boolean.difference(to_polygon(Region(hole.reversed())), solid), clear_mm)
        for k, piece in enumerate(pieces)
        for region in piece
        for hole in region.holes
        if min(bounds(hole).width_mm, bounds(hole).height_mm) >= least_mm
    ]
    found.sort(key=lambda cut: -cut.disc_mm if cut else 0)
    return tuple(cut for cut in [rest, *found] if cut is not None and cut.disc_mm >= least_mm)


def _off_cut(opening_of: int | None, area: BaseGeometry, clear_mm: float) -> OffCut | None:
    """Return the largest disc and rectangle in an area of chords, None when there is no room."""
    free = boolean.buffered(area, -(clear_mm + CHORD_MM), quad_segs=16)
    if free.is_empty:
        return None
    ends = shapely.get_coordinates(shapely.maximum_inscribed_circle(np.array([free]), tolerance=np.array([CHORD_MM])))
    at = complex(*ends[0])
    return OffCut(opening_of, at, 2 * shapely.distance(free.boundary, shapely.Point(at.real, at.imag)), _largest(free))


def _largest(free: BaseGeometry) -> Box:
    """Return the largest upright rectangle: on cells that lie inside whole, then each side moved out in turn."""
    left, bottom, right, top = free.bounds
    step = min(STEP_MM, (right - left) / 8, (top - bottom) / 8)
    x, y = np.arange(left, right + step, step), np.arange(bottom, top + step, step)
    shapely.prepare(free)
    cells = shapely.box(x[:-1, None], y[None, :-1], x[1:, None], y[None, 1:])
    i0, j0, i1, j1 = _largest_block(shapely.contains(free, cells))
    if i1 == i0:
        at = shapely.point_on_surface(free)
        return Box(at.x, at.y, at.x, at.y)
    sides = [float(x[i0]), float(y[j0]), float(x[i1]), float(y[j1])]
    for k in (0, 2, 1, 3):
        _moved_out(free, sides, k, -step if k < 2 else step)
    return Box(*sides)


def _moved_out(free: BaseGeometry, sides: list[float], k: int, step_mm: float) -> None:
    """Move one side of a rectangle out as far as it stays inside, by halving the step."""
    while abs(step_mm) > SIDE_MM:
        tried = [*sides]
        tried[k] += step_mm
        if shapely.contains(free, shapely.box(tried[0], tried[1], tried[2], tried[3])):
            sides[k] = tried[k]
        else:
            step_mm /= 2


def _largest_block(cells: np.ndarray[tuple[int, int], np.dtype[np.bool_]]) -> tuple[int, int, int, int]:
    """Return first and last (exclusive) indices of the largest block of true cells, (0, 0, 0, 0) without one.

    Heights of runs, column by column, with a stack of rising heights (largest rectangle in a histogram).
    """
    best, found = 0, (0, 0, 0, 0)
    height = np.zeros(cells.shape[1], dtype=int)
    for i, column in enumerate(cells):
        height = np.where(column, height + 1, 0)
        stack: list[tuple[int, int]] = []
        for j, h in enumerate([*height.tolist(), 0]):
            start = j
            while stack and stack[-1][1] >= h:
                start, tall = stack.pop()
                if tall * (j - start) > best:
                    best, found = tall * (j - start), (i + 1 - tall, start, i + 1, j)
            stack.append((start, h))
    return found
