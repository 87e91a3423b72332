"""Where a disc that stands on one point of an edge touches a wall: closed forms for lines and circles."""

from __future__ import annotations

import math
from collections.abc import Callable

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["least_radius_at"]

LEAST_T = 1e-8
"""So near the parameter is found; a radius is least there, so it errs by the square of that."""
GOLDEN = (3 - 5**0.5) / 2
NEWTON_STEPS = 8
"""From a contact found before three or four do; where more are needed the safe search takes over."""
NEAR_T = 0.05
"""No further than this from where it began is the tangent found by Newton taken for the same hollow."""


def least_radius_at(
    wall: Segment, point: complex, normal: complex, part: tuple[float, float], near: float
) -> tuple[float, float]:
    """Return parameter and radius (mm) of the least disc through ``point`` with unit ``normal`` that meets a wall.

    Looked for between the parameters ``part``; ``near`` is where to begin. The disc through P with normal n that passes
    Q has r = |P - Q|^2 / (2 (Q - P).n), infinite where Q lies behind P; the one that is tangent to the wall has the
    least r over Q.
    """

    def radius(t: float) -> float:
        reach = wall.point(t) - point
        depth = 2 * _inner(reach, normal)
        return abs(reach) ** 2 / depth if depth > 1e-12 * abs(reach) else math.inf

    low, high = part
    if isinstance(wall, Line):
        tangent = _on_line(wall, point, normal)
    elif isinstance(wall, Arc) and wall.is_circular:
        tangent = _on_circle(wall, point, normal)
    else:
        t = _tangent_at(wall, point, normal, near)
        if t is None or not low < t < high or radius(t) > radius(near):
            t = _least_at(radius, low, high, near)
        tangent = t, radius(t)
    if tangent is not None and tangent[1] > MIN_CHORD_MM and low < tangent[0] < high:
        return tangent
    least, t = min((radius(t), t) for t in (low, high, near))
    return t, least


def _on_line(wall: Line, point: complex, normal: complex) -> tuple[float, float] | None:
    """Return where the disc is tangent to a line, and its radius.

    With the unit normal m towards P: |m.(P + r n - Q)| = r gives r = m.(P - Q) / (1 - m.n).
    """
    way = wall.end - wall.start
    length = abs(way)
    m = 1j * way / length
    off = _inner(m, point - wall.start)
    m, off = (-m, -off) if off < 0 else (m, off)
    opens = 1 - _inner(m, normal)
    if opens <= 1e-15:
        return None
    return _inner(point + off / opens * normal - wall.start, way) / length**2, off / opens


def _on_circle(wall: Arc, point: complex, normal: complex) -> tuple[float, float] | None:
    """Return where the disc is tangent to a circle, from outside or from inside, and its radius, the lesser of two.

    With d = P - C: |d + r n| = R +- r gives r = (R^2 - |d|^2) / (2 (d.n -+ R)).
    """
    d, radius = point - wall.center, abs(wall.u)
    opens = [2 * (_inner(d, normal) - side) for side in (radius, -radius)]
    tangent = [(radius**2 - abs(d) ** 2) / wide for wide in opens if abs(wide) > 1e-15 * radius]
    least = min((r for r in tangent if r > 0), default=None)
    if least is None:
        return None
    way = d + least * normal
    angle = math.atan2(_inner(wall.v, way), _inner(wall.u, way)) - wall.start_rad
    turned = math.copysign(1.0, wall.sweep_rad) * angle
    return turned % math.tau / abs(wall.sweep_rad), least


def _tangent_at(wall: Segment, point: complex, normal: complex, near: float) -> float | None:
    """Return where close to ``near`` the disc is tangent to a wall and least, None where Newton does not lead there.

    With s = Q - P the radius |s|^2 / (2 s.n) is least where 2 (s.Q') (s.n) = |s|^2 (Q'.n).
    """
    t = near
    for _ in range(NEWTON_STEPS):
        s, v, a = wall.point(t) - point, wall.velocity(t), wall.acceleration(t)
        depth, square, along, across = _inner(s, normal), _inner(s, s), _inner(s, v), _inner(v, normal)
        slope = 2 * along * depth - square * across
        bend = 2 * (_inner(v, v) + _inner(s, a)) * depth - square * _inner(a, normal)
        if depth <= 0 or bend <= 0:
            return None
        step = -slope / bend
        t += step
        if abs(t - near) > NEAR_T or not 0 <= t <= 1:
            return None
        if abs(step) < LEAST_T:
            return t
    return None


def _least_at(value: Callable[[float], float], low: float, high: float, first: float) -> float:
    """Return where a function of one hollow is least between two places, by golden section from ``first`` on."""
    margin = 0.02 * (high - low)
    best = min(max(first, low + margin), high - margin)
    least = value(best)
    while high - low > 2 * LEAST_T:
        wider = high - best if best < (low + high) / 2 else low - best
        tried = best + GOLDEN * wider
        if (found := value(tried)) <= least:
            low, high = (best, high) if wider > 0 else (low, best)
            best, least = tried, found
        else:
            low, high = (low, tried) if wider > 0 else (tried, high)
    return best


def _inner(p: complex, q: complex) -> float:
    """Return the inner product of two vectors."""
    return p.real * q.real + p.imag * q.imag
