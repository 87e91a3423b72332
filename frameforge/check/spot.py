"""Spots on the true curves, and the closest pair of spots near a pair to begin with."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from frameforge.check.wall_touch import least_radius_at
from frameforge.geometry.direction import direction_at
from frameforge.geometry.outline import Outline, Segment

__all__ = ["Spot", "closest_pair", "disc_radius", "widest_disc"]

NEWTON_STEPS = 20
"""Quadratic once near: six do from a chord's contact; the rest is for walls that are nearly parallel."""
LONGEST_STEP = 0.25
"""A step of the parameter, so that one wild step does not leave the neighbourhood."""

CLIMB_FIRST = 0.1
"""First step of the parameter on the way to the widest disc; samples lie nearer than that to it ..."""
CLIMB_BY = 1 / 16
"""... and by so much each further step is shorter."""
CLIMB_ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Spot:
    """The point at parameter ``t`` of segment number ``index`` of an outline."""

    outline: Outline
    index: int
    t: float

    @property
    def segment(self) -> Segment:
        """The segment it lies on."""
        return self.outline.segments[self.index]

    @property
    def point(self) -> complex:
        """The point itself."""
        return self.segment.point(self.t)

    @property
    def direction(self) -> complex:
        """Unit direction of the outline there, also where a handle has no length."""
        return direction_at(self.segment, self.t)

    def at(self, t: float) -> Spot:
        """Return the spot at another parameter of the same segment, held to 0 .. 1."""
        return Spot(self.outline, self.index, min(max(t, 0.0), 1.0))

    def beside(self) -> Spot:
        """Return the same joint as a spot of the neighbour, or itself where it is not at an end of its segment."""
        count = len(self.outline.segments)
        if self.t >= 1:
            return Spot(self.outline, (self.index + 1) % count, 0.0)
        if self.t <= 0:
            return Spot(self.outline, (self.index - 1) % count, 1.0)
        return self


def closest_pair(first: Spot, second: Spot) -> tuple[Spot, Spot]:
    """Return the pair of spots nearest to each other close to a pair: Newton, going on over joints of segments.

    Where both parameters are held at joints the spots are corners. Accuracy 1e-9 mm; walls exactly parallel keep
    about where they began.
    """
    best = _settled(first, second)
    for _ in range(len(first.outline.segments) + len(second.outline.segments)):
        roads = product(_sides(best[0]), _sides(best[1]))
        nearer = min((_settled(*road) for road in roads), key=_apart)
        if _apart(nearer) >= _apart(best) - 1e-12:
            return best
        best = nearer
    return best


def _sides(spot: Spot) -> tuple[Spot, ...]:
    """Return a spot, and the same joint as a spot of the neighbour where it lies at one."""
    other = spot.beside()
    return (spot,) if other is spot else (spot, other)


def disc_radius(spot: Spot, other: Spot, side: int) -> tuple[float, Spot]:
    """Return the radius in mm of the disc that touches the edge at ``spot`` and the wall near ``other``, and where.

    ``side`` 1: on the left of the outline's direction, -1: on its right. The wall is looked at on the other spot's
    segment, a quarter of it either way.
    """
    part = max(0.0, other.t - LONGEST_STEP), min(1.0, other.t + LONGEST_STEP)
    t, radius = least_radius_at(other.segment, spot.point, side * 1j * spot.direction, part, other.t)
    return radius, other.at(t)


def widest_disc(spot: Spot, other: Spot, side: int) -> tuple[float, Spot, Spot]:
    """Return the radius in mm of the largest disc that touches the edge near ``spot``, and both contacts.

    Climbs along the segment of ``spot`` by parabolas through three discs; other walls are not looked at. Between walls
    exactly parallel all discs are alike and the first one is kept.
    """
    radius, touch = disc_radius(spot, other, side)
    step = CLIMB_FIRST
    for _ in range(CLIMB_ROUNDS):
        before, after = spot.at(spot.t - step), spot.at(spot.t + step)
        tried = [before, after]
        left, right = disc_radius(before, touch, side)[0], disc_radius(after, touch, side)[0]
        bend = left - 2 * radius + right
        if bend < 0 and before.t < spot.t < after.t:
            tried = [spot.at(spot.t + step * (left - right) / (2 * bend))]
        for found in tried:
            greater, place = disc_radius(found, touch, side)
            if radius < greater < float("inf"):
                radius, spot, touch = greater, found, place
        step *= CLIMB_BY
    return radius, spot, touch


def _apart(pair: tuple[Spot, Spot]) -> float:
    """Return the distance of two spots."""
    return abs(pair[0].point - pair[1].point)


def _settled(first: Spot, second: Spot) -> tuple[Spot, Spot]:
    """Return the closest pair on two segments near a pair, held to them: Newton on (P - Q).P' = (P - Q).Q' = 0."""
    for _ in range(NEWTON_STEPS):
        ds, dt = _newton_step(first, second)
        moved = first.at(first.t + ds), second.at(second.t + dt)
        if _apart(moved) > _apart((first, second)) + 1e-12:
            return first, second
        done = abs(moved[0].t - first.t) + abs(moved[1].t - second.t) < 1e-14
        first, second = moved
        if done:
            break
    return first, second


def _newton_step(first: Spot, second: Spot) -> tuple[float, float]:
    """Return the Newton step; a parameter at its end that wants to leave is held there."""
    gap = first.point - second.point
    p1, p2 = first.segment.velocity(first.t), first.segment.acceleration(first.t)
    q1, q2 = second.segment.velocity(second.t), second.segment.acceleration(second.t)
    f, g = _inner(gap, p1), -_inner(gap, q1)
    a, b, c = abs(p1) ** 2 + _inner(gap, p2), -_inner(p1, q1), abs(q1) ** 2 - _inner(gap, q2)
    if (first.t <= 0 and f > 0) or (first.t >= 1 and f < 0):
        return 0.0, _held(-g / c if c > 0 else 0.0)
    if (second.t <= 0 and g > 0) or (second.t >= 1 and g < 0):
        return _held(-f / a if a > 0 else 0.0), 0.0
    det = a * c - b * b
    if det <= 1e-12 * abs(p1) ** 2 * abs(q1) ** 2:
        # Parallel walls, or a saddle: the foot of one point on the other wall is always a way down.
        # At a handle of no length the second stands still, and the first looks for its foot.
        down = max(c, abs(q1) ** 2)
        if down > 0:
            return 0.0, _held(-g / down)
        down = max(a, abs(p1) ** 2)
        return _held(-f / down) if down > 0 else 0.0, 0.0
    return _held((b * g - c * f) / det), _held((b * f - a * g) / det)


def _held(step: float) -> float:
    """Return a step no longer than allowed."""
    return max(-LONGEST_STEP, min(LONGEST_STEP, step))


def _inner(p: complex, q: complex) -> float:
    """Return the inner product of two vectors."""
    return (p.conjugate() * q).real
