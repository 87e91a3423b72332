"""Arcs cut into the parts that files carry: quarters at most, or cubics."""

from __future__ import annotations

import cmath
import itertools
import math

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.tolerances import SAME_ANGLE_RAD

__all__ = ["axis_rad", "quarters", "to_cubics"]


def quarters(arc: Arc) -> tuple[Arc, ...]:
    """Return the arc in parts of at most 90 degrees.

    A circle's arc is cut evenly. An ellipse's is cut where it meets its own axes: with a joint at the pointed end,
    rounding the joints cannot move the curve there by the ratio of the half-axes.
    """
    if arc.is_circular:
        n = max(1, math.ceil(abs(arc.sweep_rad) / (math.pi / 2) - SAME_ANGLE_RAD))
        cuts = [k / n for k in range(n + 1)]
    else:
        cuts = _axis_cuts(arc)
    return (arc,) if len(cuts) == 2 else tuple(arc.piece(a, b) for a, b in itertools.pairwise(cuts))


def axis_rad(arc: Arc) -> float:
    """Return how far the arc's own angle lags behind the angle counted from the long half-axis, rad.

    With p = (u - iv)/2 and m = (u + iv)/2 the curve is p e^iq + m e^-iq; the long half-axis is where both terms
    point the same way, at q = (arg m - arg p)/2.
    """
    p, m = (arc.u - 1j * arc.v) / 2, (arc.u + 1j * arc.v) / 2
    return (cmath.phase(p) - cmath.phase(m)) / 2


def _axis_cuts(arc: Arc) -> list[float]:
    """Return the t of both ends and of every place between where an elliptical arc meets its axes."""
    quarter = math.pi / 2
    first = (arc.start_rad + axis_rad(arc)) / quarter
    last = first + arc.sweep_rad / quarter
    low, high = min(first, last), max(first, last)
    inside = [k for k in range(math.ceil(low), math.floor(high) + 1) if low + 1e-9 < k < high - 1e-9]
    cuts = [(k - first) / (last - first) for k in inside]
    return [0.0, *sorted(cuts), 1.0]


def to_cubics(arc: Arc, tolerance_mm: float) -> tuple[Cubic, ...]:
    """Return cubics that follow the arc within ``tolerance_mm`` and share its ends, tangents and middle.

    Each spans the angle w with handles of 4/3 tan(w/4) half-axes. An affine map stretches the distance of the unit
    circle's cubic from its arc by the long half-axis at most.
    """
    radius = arc.greatest_radius
    n = max(1, math.ceil(abs(arc.sweep_rad) / (math.pi / 2) - SAME_ANGLE_RAD))
    while radius * _outside(abs(arc.sweep_rad) / n) > tolerance_mm:
        n += 1
    return tuple(_cubic(arc.piece(k / n, (k + 1) / n)) for k in range(n)) if n > 1 else (_cubic(arc),)


def _outside(sweep_rad: float) -> float:
    """Return an upper bound of how far the cubic of a unit arc lies outside it.

    |P|^2 - 1 = 16 sin^6(w/4) / cos^2(w/4) x t^2 (1-t)^2 (1-2t)^2; with s = t(1-t) the last factor is s^2 (1-4s), at
    most 1/108, and |P| - 1 is at most half of |P|^2 - 1.
    """
    return 2 / 27 * math.sin(sweep_rad / 4) ** 6 / math.cos(sweep_rad / 4) ** 2


def _cubic(arc: Arc) -> Cubic:
    """Return the one cubic of an arc of at most 90 degrees."""
    handle = 4 / 3 * math.tan(arc.sweep_rad / 4) / arc.sweep_rad
    return Cubic(arc.start, arc.start + handle * arc.velocity(0), arc.end - handle * arc.velocity(1), arc.end)
