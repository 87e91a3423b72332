"""A sliver taken out of an outline: its neighbours carried on until they meet, or joined by a short line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Segment
from frameforge.tolerances import JOINT_MM, SLIVER_MM

__all__ = ["Joined", "joined_over"]

NEWTON_STEPS = 20
LEAST_SINE = 0.01
"""Neighbours that run in directions nearer to one another than this do not meet in a point worth the name."""
FURTHEST = 2.0
"""Neighbours are carried on, or shortened, by at most so many lengths of the longest sliver to meet each other."""
TRIMMED = (1.0, 2.0, 4.0)
"""Else so many of them are taken off on either side, what lies there with it, and a line goes across."""


class Joined(NamedTuple):
    """What takes the place of a sliver: ``before`` and ``after`` it so many segments go, ``new`` ones come."""

    before: int
    after: int
    new: tuple[Segment, ...]


def joined_over(segments: Sequence[Segment]) -> Iterator[Joined]:
    """Yield the ways to do without the first segment of a closed chain, a sliver shorter than ``SLIVER_MM``.

    The one that changes least comes first; there is none where the chain is too short.
    """
    if len(segments) < 3:
        return
    if (met := _met(segments[-1], segments[1])) is not None:
        yield met
    yield from _bridged(segments)


def _met(before: Segment, after: Segment) -> Joined | None:
    """Return both neighbours up to where they meet: Newton on B(s) = A(t), begun at s = 1 and t = 0."""
    if before == after:
        return None
    s, t = 1.0, 0.0
    for _ in range(NEWTON_STEPS):
        gap = after.point(t) - before.point(s)
        p, q = before.velocity(s), after.velocity(t)
        det = (p.conjugate() * q).imag
        if abs(det) < LEAST_SINE * abs(p) * abs(q):
            return None
        ds, dt = (gap.conjugate() * q).imag / det, (gap.conjugate() * p).imag / det
        s, t = s + ds, t + dt
        if abs(ds * p) + abs(dt * q) < JOINT_MM / 100:
            break
    if abs(after.point(t) - before.point(s)) > JOINT_MM or s <= 0 or t >= 1:
        return None
    if max(abs(before.point(s) - before.end), abs(after.point(t) - after.start)) > FURTHEST * SLIVER_MM:
        return None
    one, two = before.piece(0.0, s), after.piece(t, 1.0)
    if min(length_mm(one), length_mm(two)) < SLIVER_MM:
        return None
    joint = one.end
    return Joined(1, 1, (one.with_ends(before.start, joint), two.with_ends(joint, after.end)))


def _bridged(segments: Sequence[Segment]) -> Iterator[Joined]:
    """Yield what is left on either side, and a line between."""
    behind = [segment.reversed() for segment in reversed(segments[1:])]
    for trimmed in TRIMMED:
        before, one = _shortened(behind, trimmed * SLIVER_MM)
        after, two = _shortened(segments[1:], trimmed * SLIVER_MM)
        if before + after > len(segments) - 2:
            return
        start = one.start if one else behind[before - 1].end
        end = two.start if two else segments[after].end
        if abs(end - start) >= SLIVER_MM:
            across = Line(start, end)
            yield Joined(before, after, (*((one.reversed(),) if one else ()), across, *((two,) if two else ())))


def _shortened(ahead: Sequence[Segment], by_mm: float) -> tuple[int, Segment | None]:
    """Return how many segments go when a chain is shortened at its start, and what is left of the last one of them.

    What would be left as a sliver goes too.
    """
    for count, segment in enumerate(ahead, start=1):
        length = length_mm(segment)
        if length - by_mm >= SLIVER_MM:
            rest = segment.piece(by_mm / length, 1.0)
            return count, rest.with_ends(rest.start, segment.end)
        by_mm -= length
        if by_mm <= 0:
            return count, None
    return len(ahead), None
