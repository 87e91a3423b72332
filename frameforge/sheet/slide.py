"""Pieces of a sheet moved together: left and down until they meet the margin or stand apart by just the distance asked.

A group moves as one: a piece with everything in its openings. A piece that lies alone in an opening is put in the
middle of it. Moves are bounded on points along the outlines, then settled on the exact distance of the curves, always
from the clear side: no move brings two pieces nearer than asked.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Complexes
from frameforge.sheet.design import Design, Placed, Sheet

__all__ = ["SETTLED_MM", "slid"]

SETTLED_MM = 1e-4
"""Moves shorter than this are not made."""
AIM_MM = 5e-6
"""So much more than the distance asked is kept, for the rounding of a move; verification allows 1e-6 less."""
SPACING_MM = 0.25
"""Spacing of the points along an outline that bound a move."""
WIDER_MM = 0.02
"""Added to the distance while moves are bounded by points: more than the curves bulge between them."""
ROUNDS = 12
EXACT_ROUNDS = 3
STEPS = 12
LEFT, DOWN = -1 + 0j, -1j


@dataclass(eq=False)
class _Body:
    """A piece with all it holds, or a part already used: outlines and points as they lie at ``at`` = 0."""

    outlines: tuple[Outline, ...]
    points: Complexes
    box: Box
    members: list[int]
    at: complex = 0

    def where(self) -> Box:
        """Return the box where the body lies now."""
        x, y = self.at.real, self.at.imag
        return Box(self.box.left + x, self.box.bottom + y, self.box.right + x, self.box.top + y)


def slid(
    placed: Sequence[Placed],
    designs: Sequence[Design],
    sheet: Sheet,
    used: Sequence[Region] = (),
    *,
    is_whole: bool = True,
) -> tuple[Placed, ...]:
    """Return the pieces of a sheet, moved; ``inside_of`` must be told. The order of the pieces is kept.

    Unless ``is_whole`` only what lies alone in openings is moved.
    """
    pieces = [place.regions(tuple(designs)) for place in placed]
    children = defaultdict(list)
    for k, place in enumerate(placed):
        children[place.inside_of].append(k)
    bodies = [_body([r.outer for r in pieces[k]], _all_inside(k, children)) for k in children[None]] if is_whole else []
    fixed = [_body(region.outlines, []) for region in used]
    _slide(bodies, fixed, sheet)
    moves = [0j] * len(placed)
    for body in bodies:
        for k in body.members:
            moves[k] = body.at
    for host, held in children.items():
        if host is not None and len(held) == 1:
            by = _to_middle(pieces[host], pieces[held[0]], sheet.apart_mm)
            for k in _all_inside(held[0], children):
                moves[k] += by
    return tuple(
        replace(place, x_mm=place.x_mm + by.real, y_mm=place.y_mm + by.imag)
        for place, by in zip(placed, moves, strict=True)
    )


def _all_inside(k: int, children: dict[int | None, list[int]]) -> list[int]:
    """Return the piece and all that lies in its openings, and in theirs."""
    return [k, *(deeper for child in children.get(k, []) for deeper in _all_inside(child, children))]


def _to_middle(host: tuple[Region, ...], child: tuple[Region, ...], apart_mm: float) -> complex:
    """Return the move that centres a lone piece in the opening round it, 0 where it would come too near."""
    middle = bounds(child).center
    holes = [hole for region in host for hole in region.holes if bounds(hole).contains(middle)]
    if not holes:
        return 0
    hole = min(holes, key=lambda h: bounds(h).width_mm)
    by = bounds(hole).center - middle
    moved = [region.outer.transformed(Affine.from_move(by)) for region in child]
    return by if distance(moved, [o for r in host for o in r.outlines]).gap_mm >= apart_mm else 0


def _body(outlines: Sequence[Outline], members: list[int]) -> _Body:
    points = np.concatenate([_points(outline) for outline in outlines])
    return _Body(tuple(outlines), points, bounds(outlines), members)


def _points(outline: Outline) -> Complexes:
    """Return points along an outline, no further apart than the spacing."""
    start = flatten_outline(outline, SPACING_MM / 50).points
    way = np.roll(start, -1) - start
    counts = np.maximum(np.ceil(np.abs(way) / SPACING_MM).astype(int), 1)
    index = np.repeat(np.arange(len(start)), counts)
    part = (np.arange(len(index)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[index]
    return np.asarray(start[index] + part * way[index], dtype=np.complex128)


def _slide(bodies: list[_Body], fixed: list[_Body], sheet: Sheet) -> None:
    """Move the bodies left and down in turn, bounded by points until nothing moves much, then exactly."""
    for exact, rounds, enough in ((False, ROUNDS, 20 * SETTLED_MM), (True, EXACT_ROUNDS, SETTLED_MM)):
        for _ in range(rounds):
            longest = 0.0
            for way in (LEFT, DOWN):
                for body in sorted(bodies, key=_left if way == LEFT else _bottom):
                    longest = max(longest, _moved(body, way, [*bodies, *fixed], sheet, exact))
            if longest < enough:
                break


def _left(body: _Body) -> float:
    return body.where().left


def _bottom(body: _Body) -> float:
    return body.where().bottom


def _moved(body: _Body, way: complex, others: list[_Body], sheet: Sheet, exact: bool) -> float:
    """Move one body along ``way`` as far as it can go; return how far that was."""
    box = body.where()
    room = (box.left if way == LEFT else box.bottom) - sheet.margin_mm
    bound = [(_clear_way(body, other, way, room, sheet.apart_mm), other) for other in _ahead(body, way, others, sheet)]
    step = max(min([room, *(t for t, _ in bound)]), 0.0)
    start = body.at
    if step > SETTLED_MM:
        body.at += step * way
    if exact:
        near = [other for t, other in bound if t <= step + 4 * WIDER_MM]
        _settle(body, way, near, min(room - step, 2 * WIDER_MM), sheet.apart_mm)
    return abs(body.at - start)


def _ahead(body: _Body, way: complex, others: list[_Body], sheet: Sheet) -> list[_Body]:
    """Return the bodies that a move could meet: not wholly behind, and beside the way by less than the distance."""
    reach = sheet.apart_mm + SPACING_MM
    box = body.where().grown(reach)
    found = []
    for other in others:
        it = other.where()
        if way == LEFT:
            meets = it.left < box.right and it.bottom < box.top and it.top > box.bottom
        else:
            meets = it.bottom < box.top and it.left < box.right and it.right > box.left
        if meets and other is not body:
            found.append(other)
    return found


def _clear_way(body: _Body, other: _Body, way: complex, most: float, apart_mm: float) -> float:
    """Return how far the body may move before points of the two come within the distance and a little.

    Points a and b with b - a = (along + i across) way meet the distance r after along - sqrt(r^2 - across^2).
    """
    reach = max(apart_mm + WIDER_MM, SPACING_MM)
    a, b = (body.points + body.at) / way, (other.points + other.at) / way
    b = b[np.argsort(b.imag)]
    low, high = a.imag.min() - reach, a.imag.max() + reach
    b = b[np.searchsorted(b.imag, low) : np.searchsorted(b.imag, high)]
    if not len(b):
        return most
    first, last = np.searchsorted(b.imag, a.imag - reach), np.searchsorted(b.imag, a.imag + reach)
    counts = last - first
    rows = np.repeat(np.arange(len(a)), counts)
    cols = np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts) + first[rows]
    between = b[cols] - a[rows]
    between = between[between.real > 0]
    if not len(between):
        return most
    return float(np.min(between.real - np.sqrt(np.maximum(reach**2 - between.imag**2, 0))))


def _settle(body: _Body, way: complex, near: list[_Body], most: float, apart_mm: float) -> None:
    """Move on by exact distances: Newton steps towards what is nearest, each kept only where all stay clear."""
    gone, known = 0.0, _least_step(body, way, near, apart_mm)
    for _ in range(STEPS):
        step = min(known, most - gone)
        if step < SETTLED_MM / 4:
            return
        body.at += step * way
        after = _least_step(body, way, near, apart_mm)
        if after < 0:
            body.at -= step * way
            known = step / 2
        else:
            gone, known = gone + step, after


def _least_step(body: _Body, way: complex, near: list[_Body], apart_mm: float) -> float:
    """Return how far the body may go by the slope of its distances, below 0 where one is too short already."""
    least = math.inf
    mine = _at(body)
    for other in near:
        found = distance(mine, _at(other))
        spare = found.gap_mm - apart_mm - AIM_MM
        if spare < -AIM_MM / 2:
            return -1.0
        towards = found.at_b - found.at_a
        slope = (towards.conjugate() * way).real / (abs(towards) or 1.0)
        if slope > 0:
            least = min(least, max(spare, 0.0) / max(slope, 0.05))
    return least


def _at(body: _Body) -> list[Outline]:
    return [outline.transformed(Affine.from_move(body.at)) for outline in body.outlines]
