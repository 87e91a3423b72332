"""How far a point lies from an edge of the card, and on which side of it."""

from __future__ import annotations

import math

from frameforge.frame.base import Edge

__all__ = ["is_within", "point_distance_mm"]

_NEWTON_STEPS = 30
_STARTS = 256


def is_within(point: complex, edge: Edge) -> bool:
    """Whether a point lies inside an edge, seen from the middle."""
    return abs(point) < abs(edge.point(edge.tau_towards(math.atan2(point.real, point.imag))))


def point_distance_mm(point: complex, edge: Edge) -> float:
    """Return the distance of a point from an edge, mm.

    Newton on (P - Q(tau)).T(tau) = 0 from where its spoke meets the edge. Deeper inside than the edge's least radius of
    curvature there may be several such places; there it starts from the nearest of some that are spread all round.
    """
    found = _nearest(point, edge, edge.tau_towards(math.atan2(point.real, point.imag)))
    if found is not None and (found <= edge.least_radius_mm or not is_within(point, edge)):
        return found
    starts = (math.tau * k / _STARTS for k in range(_STARTS))
    start = min(starts, key=lambda tau: abs(point - edge.point(tau)))
    found = _nearest(point, edge, start)
    return abs(point - edge.point(start)) if found is None else found


def _nearest(point: complex, edge: Edge, tau: float) -> float | None:
    """Return the distance to the place that Newton ends at; None where it would run away from a nearest place."""
    for _ in range(_NEWTON_STEPS):
        across = point - edge.point(tau)
        tangent = edge.tangent(tau)
        miss = (across.conjugate() * tangent).real
        # d/dtau of (P - Q).T is -speed + turn (P - Q).N
        slope = -edge.speed(tau) + edge.turn_rate(tau) * (across.conjugate() * 1j * tangent).real
        if slope >= 0:
            return None
        step = miss / slope
        tau -= step
        if abs(step) < 1e-14:
            break
    return abs(point - edge.point(tau))
