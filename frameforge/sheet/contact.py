"""Moving outlines straight on until they stand apart by just the distance asked, never nearer.

A move is bounded first on points along the outlines, then settled on the exact distance of the curves by Newton steps
from the clear side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import Complexes
from frameforge.tolerances import NO_GAP_MM

__all__ = ["DOWN", "LEFT", "SETTLED_MM", "Body", "ahead", "body_of", "moved_on"]

LEFT, DOWN = -1 + 0j, -1j
SETTLED_MM = 1e-4
"""Moves shorter than this are not made."""
AIM_MM = 5e-6
"""So much more than the distance asked is kept, for the rounding of a move; verification allows 1e-6 less."""
SPACING_MM = 0.25
"""Spacing of the points along an outline that bound a move."""
WIDER_MM = 0.02
"""Added to the distance while moves are bounded by points: more than the curves bulge between them."""
STEPS = 12


@dataclass(eq=False)
class Body:
    """A piece with all it holds, or a part already used: outlines as they lie at ``at`` = 0.

    ``front`` and ``back`` are, for each way, the points along the outlines that face it and those that face against
    it, turned so that the way is +x, by rising y: only these can meet. ``circle`` is middle and radius of a plain disc.
    """

    outlines: tuple[Outline, ...]
    front: dict[complex, Complexes]
    back: dict[complex, Complexes]
    box: Box
    members: list[int]
    circle: tuple[complex, float] | None
    at: complex = 0

    def where(self) -> Box:
        """Return the box where the body lies now."""
        x, y = self.at.real, self.at.imag
        return Box(self.box.left + x, self.box.bottom + y, self.box.right + x, self.box.top + y)


def body_of(outlines: Sequence[Outline], members: list[int]) -> Body:
    """Return outlines (card to the left of each) as a body; ``members`` are the numbers of the pieces it stands for."""
    parts = [_points(outline) for outline in outlines]
    points, before, after = (np.concatenate(column) for column in zip(*parts, strict=True))
    front, back = {}, {}
    for way in (LEFT, DOWN):
        # What faces the way: the outward normal, right of the tangent, has a part along it on either side of a point.
        along = np.stack([(-1j * before / way).real, (-1j * after / way).real])
        turned = points / way
        front[way], back[way] = (_rising(turned[side]) for side in ((along > 0).any(axis=0), (along < 0).any(axis=0)))
    return Body(tuple(outlines), front, back, bounds(outlines), members, _circle(outlines))


def _circle(outlines: Sequence[Outline]) -> tuple[complex, float] | None:
    """Return middle and radius when there is one outline and it is a circle drawn as one arc."""
    if len(outlines) != 1 or len(outlines[0].segments) != 1:
        return None
    (arc,) = outlines[0].segments
    if not isinstance(arc, Arc) or abs(arc.v - 1j * arc.u) > NO_GAP_MM:
        return None
    return arc.center, abs(arc.u)


def _rising(points: Complexes) -> Complexes:
    return points[np.argsort(points.imag, kind="stable")]


def _points(outline: Outline) -> tuple[Complexes, Complexes, Complexes]:
    """Return points along an outline, no further apart than the spacing, and the chords before and after each."""
    start = flatten_outline(outline, SPACING_MM / 50).points
    way = np.roll(start, -1) - start
    counts = np.maximum(np.ceil(np.abs(way) / SPACING_MM).astype(int), 1)
    index = np.repeat(np.arange(len(start)), counts)
    number = np.arange(len(index)) - np.repeat(np.cumsum(counts) - counts, counts)
    before = np.where(number == 0, np.roll(way, 1)[index], way[index])
    return start[index] + number / counts[index] * way[index], before, way[index]


def moved_on(
    body: Body, way: complex, others: Iterable[Body], room_mm: float, apart_mm: float, *, exact: bool = True
) -> float:
    """Move one body along ``way`` (left or down) as far as it can go within the room; return how far that was, mm."""
    bound = [(_clear_way(body, other, way, room_mm, apart_mm), other) for other in ahead(body, way, others, apart_mm)]
    step = max(min([room_mm, *(t for t, _ in bound)]), 0.0)
    start = body.at
    if step > SETTLED_MM:
        body.at += step * way
    if exact:
        near = [other for t, other in bound if t <= step + 4 * WIDER_MM]
        _settle(body, way, near, min(room_mm - step, 2 * WIDER_MM), apart_mm)
    return abs(body.at - start)


def ahead(body: Body, way: complex, others: Iterable[Body], apart_mm: float) -> list[Body]:
    """Return the bodies that a move could meet: not wholly behind, and beside the way by less than the distance."""
    reach = apart_mm + SPACING_MM
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


def _clear_way(body: Body, other: Body, way: complex, most: float, apart_mm: float) -> float:
    """Return how far the body may move before points of the two come within the distance and a little.

    Points a and b with b - a = (along + i across) way meet the distance r after along - sqrt(r^2 - across^2).
    """
    reach = max(apart_mm + WIDER_MM, SPACING_MM)
    a, b = body.front[way], other.back[way]
    between_bodies = (other.at - body.at) / way
    first = np.searchsorted(b.imag, a.imag - between_bodies.imag - reach)
    last = np.searchsorted(b.imag, a.imag - between_bodies.imag + reach)
    counts = last - first
    if not counts.any():
        return most
    rows = np.repeat(np.arange(len(a)), counts)
    cols = np.arange(len(rows)) - np.repeat(np.cumsum(counts) - counts, counts) + first[rows]
    between = b[cols] - a[rows] + between_bodies
    between = between[between.real > 0]
    if not len(between):
        return most
    return float(np.min(between.real - np.sqrt(np.maximum(reach**2 - between.imag**2, 0))))


def _settle(body: Body, way: complex, near: list[Body], most: float, apart_mm: float) -> None:
    """Move on by exact distances: Newton steps towards what is nearest, each kept only where all stay clear."""
    if most < SETTLED_MM / 4 or not near:
        return
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


def _least_step(body: Body, way: complex, near: list[Body], apart_mm: float) -> float:
    """Return how far the body may go by the slope of its distances, below 0 where one is too short already."""
    least = math.inf
    for other in near:
        gap, towards = _gap(body, other)
        spare = gap - apart_mm - AIM_MM
        if spare < -AIM_MM / 2:
            return -1.0
        slope = (towards.conjugate() * way).real / (abs(towards) or 1.0)
        if slope > 0:
            least = min(least, max(spare, 0.0) / max(slope, 0.05))
    return least


def _gap(body: Body, other: Body) -> tuple[float, complex]:
    """Return the distance of two bodies, and the direction of the other where they come closest."""
    if body.circle and other.circle:
        between = other.circle[0] + other.at - body.circle[0] - body.at
        return abs(between) - body.circle[1] - other.circle[1], between
    found = distance(_at(body), _at(other))
    return found.gap_mm, found.at_b - found.at_a


def _at(body: Body) -> list[Outline]:
    return [outline.transformed(Affine.from_move(body.at)) for outline in body.outlines]
