"""The direction in which a segment runs, also where its velocity is zero."""

from __future__ import annotations

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["direction_at", "end_direction", "start_direction"]


def start_direction(segment: Segment) -> complex:
    """Return the unit vector in which the segment leaves its start.

    A cubic whose first handle lies on its start leaves towards the next control point that differs (l'Hopital's
    rule on P'/|P'|). Raises ValueError when all its points are one.
    """
    if isinstance(segment, Cubic):
        return _towards(segment.start, (segment.c1, segment.c2, segment.end))
    velocity = segment.velocity(0)
    return velocity / abs(velocity)


def end_direction(segment: Segment) -> complex:
    """Return the unit vector in which the segment arrives at its end; as ``start_direction`` of the reversed one.

    Raises ValueError for a cubic whose points are all one.
    """
    if isinstance(segment, Cubic):
        return -_towards(segment.end, (segment.c2, segment.c1, segment.start))
    velocity = segment.velocity(1)
    return velocity / abs(velocity)


def direction_at(segment: Segment, t: float) -> complex:
    """Return the unit tangent at t, 0 to 1."""
    if t == 0:
        return start_direction(segment)
    if t == 1:
        return end_direction(segment)
    velocity = segment.velocity(t)
    if abs(velocity) <= MIN_CHORD_MM:
        return start_direction(segment.piece(t, 1.0))
    return velocity / abs(velocity)


def _towards(point: complex, others: tuple[complex, complex, complex]) -> complex:
    """Return the unit vector from ``point`` to the first of ``others`` that is not the same point."""
    for other in others:
        way = other - point
        if abs(way) > MIN_CHORD_MM:
            return way / abs(way)
    raise ValueError(f"a cubic of no length at {point} has no direction")
