"""A segment as curves that can be fitted: no cusp inside, arcs no longer than a quarter, nothing without length."""

from __future__ import annotations

import math

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.quarters import quarters
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import MIN_CHORD_MM, SAME_SHAPE_MM, SAME_T

__all__ = ["whole_curves"]

_GRID = 129
_TURN_RAD = math.pi / 2
# Where the speed falls below this part of its greatest, a cubic has a cusp or nearly so.
_NEARLY_STILL = 0.02


def whole_curves(segment: Segment) -> list[Segment]:
    """Return the segment without what has no length, ellipses cut at the ends of their axes, circles in quarters."""
    if isinstance(segment, Line):
        return [segment] if abs(segment.end - segment.start) > MIN_CHORD_MM else []
    if isinstance(segment, Arc):
        if not segment.is_circular:
            return list(quarters(segment))
        count = math.ceil(abs(segment.sweep_rad) / _TURN_RAD - SAME_T)
        return [segment.piece(k / count, (k + 1) / count) for k in range(count)] if count > 1 else [segment]
    cubic = _with_clear_handles(segment)
    if max(abs(p - cubic.start) for p in (cubic.c1, cubic.c2, cubic.end)) <= MIN_CHORD_MM:
        return []
    return [Line(cubic.start, cubic.end)] if _is_straight(cubic) else _at_cusp(cubic)


def _with_clear_handles(cubic: Cubic) -> Cubic:
    """Return the cubic with handles too short to tell a direction laid on their ends.

    Shapes are rounded to SAME_SHAPE_MM: a shorter handle would point elsewhere in the shape than in the segment.
    """
    c1 = cubic.start if abs(cubic.c1 - cubic.start) <= 2 * SAME_SHAPE_MM else cubic.c1
    c2 = cubic.end if abs(cubic.c2 - cubic.end) <= 2 * SAME_SHAPE_MM else cubic.c2
    return Cubic(cubic.start, c1, c2, cubic.end)


def _at_cusp(cubic: Cubic) -> list[Segment]:
    """Return the cubic, cut where it all but stands still inside: at a cusp its direction jumps.

    P' is a parabola in the plane, so |P'|^2 is a quartic with at most two minima; the least of the grid is refined by
    Newton on P' . P'' = 0.
    """
    t = np.linspace(0, 1, _GRID)[1:-1]
    speed = abs(SegmentTable.from_segments([cubic]).velocity(np.zeros(len(t), dtype=np.intp), t))
    if speed.min() > _NEARLY_STILL * speed.max():
        return [cubic]
    at = float(t[speed.argmin()])
    jerk = 2 * (cubic.acceleration(1) - cubic.acceleration(0))
    for _ in range(8):
        v, a = cubic.velocity(at), cubic.acceleration(at)
        bend = abs(a) ** 2 + (v.conjugate() * jerk / 2).real
        at -= (v.conjugate() * a).real / max(bend, abs(a) ** 2 / 2, 1e-300)
        at = min(max(at, 0.0), 1.0)
    return [cubic.piece(0, at), cubic.piece(at, 1)] if SAME_T < at < 1 - SAME_T else [cubic]


def _is_straight(cubic: Cubic) -> bool:
    """Return whether the cubic runs straight, without turning back, from its start to its end."""
    way = cubic.end - cubic.start
    if abs(way) <= MIN_CHORD_MM:
        return False
    places = [(p - cubic.start) / way for p in (cubic.c1, cubic.c2)]
    return all(abs(z.imag) * abs(way) <= MIN_CHORD_MM and 0 <= z.real <= 1 for z in places)
