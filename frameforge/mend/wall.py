"""Walking along an outline: the point of it nearest to another, and the part between two spots."""

from __future__ import annotations

from frameforge.check.chords import Chords
from frameforge.check.spot import Spot
from frameforge.geometry.along import Along
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline, Segment

__all__ = ["along_at", "foot", "is_ahead", "part_between"]

STEPS = 40
"""Newton steps, and walks over joints, until the foot is found; six to ten are common."""
LONGEST_STEP = 0.5
"""A step of the parameter, so that one wild step does not leave the neighbourhood."""


def foot(spot: Spot, point: complex) -> Spot:
    """Return the spot of the outline nearest to ``point``, going downhill from ``spot`` and on over joints.

    Newton on (P - z).P' = 0. Accuracy 1e-12 of the segment's parameter; at a corner the corner itself.
    """
    turned_back = False
    for _ in range(STEPS):
        segment = spot.segment
        off = segment.point(spot.t) - point
        p1, p2 = segment.velocity(spot.t), segment.acceleration(spot.t)
        slope = (off.conjugate() * p1).real
        bend = abs(p1) ** 2 + (off.conjugate() * p2).real
        step = -slope / (bend if bend > 0 else abs(p1) ** 2)
        step = max(-LONGEST_STEP, min(LONGEST_STEP, step))
        if (spot.t >= 1 and step > 0) or (spot.t <= 0 and step < 0):
            if turned_back:
                return spot
            # At a corner each side may point over to the other one: seen from both, the corner is nearest.
            spot, turned_back = spot.beside(), True
            continue
        moved = spot.at(spot.t + step)
        turned_back = turned_back and moved.t == spot.t
        if abs(moved.t - spot.t) < 1e-15:
            return moved
        spot = moved
    return spot


def along_at(along: Along, spot: Spot) -> float:
    """Return how far along its outline a spot lies, mm."""
    before = along.ends_mm[spot.index - 1] if spot.index else 0.0
    return before + (length_mm(spot.segment.piece(0.0, spot.t)) if spot.t > 0 else 0.0)


def is_ahead(chords: Chords, loop: int, from_mm: float, to_mm: float) -> bool:
    """Return whether the shorter way along a loop from one place to another leads forwards."""
    whole = float(chords.loop_length[loop])
    return (to_mm - from_mm) % whole <= whole / 2


def part_between(outline: Outline, first: Spot, last: Spot) -> tuple[Segment, ...]:
    """Return the segments from one spot forwards to another; nothing where they are one."""
    count = len(outline.segments)
    if first.index == last.index and first.t <= last.t:
        return (first.segment.piece(first.t, last.t),) if first.t < last.t else ()
    between = (last.index - first.index - 1) % count
    middle = [outline.segments[(first.index + 1 + k) % count] for k in range(between)]
    head = (first.segment.piece(first.t, 1.0),) if first.t < 1 else ()
    tail = (last.segment.piece(0.0, last.t),) if last.t > 0 else ()
    return (*head, *middle, *tail)
