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
from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.sheet.design import Design, Placed, Sheet
from frameforge.tolerances import CHORD_MM, NO_GAP_MM

__all__ = ["OffCut", "off_cuts"]

FINE_MM = 1e-3
"""Distance of chords from curves other than whole circles when the largest disc is measured; it is taken off."""
STEP_MM = 1.0
"""Cell on which the largest rectangle is looked for before its sides are moved out."""
SIDE_MM = 0.005
"""Sides of the rectangle are moved out to within this of what stops them."""


_Line = tuple[Box, Outline]


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
    pieces = [*(place.regions(tuple(designs)) for place in placed), tuple(used)]
    regions = [region for piece in pieces for region in piece]
    solid = boolean.union([to_polygon(region) for region in regions])
    filled = boolean.union([to_polygon(Region(region.outer)) for region in regions])
    sides = rectangle(0, 0, sheet.width_mm, sheet.height_mm)
    whole = shapely.box(0, 0, sheet.width_mm, sheet.height_mm)
    lines = [(bounds(line), line) for line in (sides, *(line for region in regions for line in region.outlines))]
    rest = _off_cut(None, boolean.difference(whole, filled), lines, clear_mm)
    # A disc is no wider than the box of its opening: of hundreds of small ones none is looked into.
    openings = [
        (k, hole, box)
        for k, piece in enumerate(pieces[:-1])
        for region in piece
        for hole in region.holes
        if min((box := bounds(hole)).width_mm, box.height_mm) - 2 * clear_mm >= least_mm
    ]
    found = [
        _off_cut(k, boolean.difference(to_polygon(Region(hole.reversed())), solid), lines, clear_mm, box)
        for k, hole, box in openings
    ]
    found.sort(key=lambda cut: -cut.disc_mm if cut else 0)
    return tuple(cut for cut in [rest, *found] if cut is not None and cut.disc_mm >= least_mm)


def _off_cut(
    opening_of: int | None, area: BaseGeometry, lines: Sequence[_Line], clear_mm: float, box: Box | None = None
) -> OffCut | None:
    """Return the largest disc and rectangle in an area of chords, None when there is no room.

    The middle of the disc is found on chords, or is that of the opening's box; its size is measured on the curves.
    """
    free = boolean.buffered(area, -(clear_mm + CHORD_MM), quad_segs=16)
    if free.is_empty:
        return None
    ends = shapely.get_coordinates(shapely.maximum_inscribed_circle(np.array([free]), tolerance=np.array([CHORD_MM])))
    middles = [complex(*ends[0])]
    if box is not None and shapely.contains_xy(free, box.center.real, box.center.imag):
        middles.append(box.center)
    room, at = max(((_room_at(middle, lines), middle) for middle in middles), key=lambda entry: entry[0])
    return OffCut(opening_of, at, 2 * (room - clear_mm), _largest(free))


def _room_at(at: complex, lines: Sequence[_Line]) -> float:
    """Return the distance from a point to the nearest line, exact for whole circles, else short by FINE_MM at most."""
    reach, near = np.inf, []
    for box, line in lines:
        middle, radius = _circle(line)
        if radius:
            reach = min(reach, abs(abs(at - middle) - radius))
        else:
            away = max(box.left - at.real, at.real - box.right, box.bottom - at.imag, at.imag - box.top, 0.0)
            near.append((away, line))
    for away, line in sorted(near, key=lambda entry: entry[0]):
        if away >= reach:
            break
        chords = shapely.LinearRing(flatten_outline(line, FINE_MM).points.view(np.float64).reshape(-1, 2))
        reach = min(reach, shapely.distance(chords, shapely.Point(at.real, at.imag)) - FINE_MM)
    return float(reach)


def _circle(line: Outline) -> tuple[complex, float]:
    """Return middle and radius of a circle drawn as one arc, radius 0 for any other line."""
    arc = line.segments[0]
    if len(line.segments) > 1 or not isinstance(arc, Arc) or abs(abs(arc.u) - abs(arc.v)) > NO_GAP_MM:
        return 0j, 0.0
    return arc.center, abs(arc.u)


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
