"""A line cut into dashes by its length."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import cycle

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Segment
from frameforge.tolerances import DOT_MM, JOINT_MM, SAME_T

__all__ = ["dashed", "parameter_at"]

_STEPS = 60


def dashed(
    segments: Sequence[Segment], dashes_mm: Sequence[float], offset_mm: float = 0.0, *, is_closed: bool = False
) -> list[tuple[Segment, ...]]:
    """Return the dashes of a line as chains of segments, in order.

    ``dashes_mm`` are the lengths, alternately drawn and left out, repeated; an odd number is taken twice over; the
    pattern starts ``offset_mm`` inside itself (SVG 2, section 13.5.6). On a closed line a dash that reaches the end
    runs on into one at the start. A dash of no length is a line of no length, with the direction it has there: it
    stays, since round and square caps show it. Raises ValueError for a negative length and for lengths of no sum.
    """
    pattern = tuple(dashes_mm) * (2 if len(dashes_mm) % 2 else 1)
    if not pattern or min(pattern) < 0 or sum(pattern) <= 0:
        raise ValueError(f"dashes {tuple(dashes_mm)} need lengths of 0 or more, not all of them 0")
    lengths = [length_mm(segment) for segment in segments]
    whole = sum(lengths)
    stretches = _stretches(pattern, offset_mm % sum(pattern), whole)
    chains = [_between(segments, lengths, begin, end) for begin, end in stretches]
    if is_closed and len(stretches) > 1 and stretches[0][0] == 0 and stretches[-1][1] == whole:
        chains[0] = chains.pop() + chains[0]
    return [chain for chain in chains if chain]


def _stretches(pattern: tuple[float, ...], offset: float, whole: float) -> list[tuple[float, float]]:
    """Return where dashes begin and end along a line of the length ``whole``."""
    stretches: list[tuple[float, float]] = []
    at = -offset
    for number, length in enumerate(cycle(pattern)):
        if at >= whole:
            break
        if number % 2 == 0 and (at >= 0 or at + length > 0):
            stretches.append((max(at, 0.0), min(at + length, whole)))
        at += length
    return stretches


def _between(segments: Sequence[Segment], lengths: Sequence[float], begin: float, end: float) -> tuple[Segment, ...]:
    """Return the part of the line between two places, given by their distance along it."""
    chain: list[Segment] = []
    at = 0.0
    for segment, length in zip(segments, lengths, strict=True):
        low, high = max(begin - at, 0.0), min(end - at, length)
        at += length
        if high - low > JOINT_MM or (begin == end and 0 <= low <= high and not chain):
            t0, t1 = (parameter_at(segment, place, length) for place in (low, high))
            chain.append(segment.piece(t0, t1) if t1 - t0 > SAME_T else _dot(segment, t0))
    return tuple(chain)


def _dot(segment: Segment, t: float) -> Line:
    """Return a line of next to no length in the direction of the segment at t."""
    velocity = segment.velocity(t)
    return Line(segment.point(t), segment.point(t) + velocity / max(abs(velocity), JOINT_MM) * DOT_MM / 2)


def parameter_at(segment: Segment, along_mm: float, length: float) -> float:
    """Return the t at which ``along_mm`` of the segment's ``length`` (mm) lies behind; 0 and 1 at its ends.

    Newton on the length of the part up to t, kept in a bracket; the speed is its derivative. Accuracy 1e-9 mm.
    """
    if along_mm <= 0:
        return 0.0
    if along_mm >= length:
        return 1.0
    if isinstance(segment, Line) or (isinstance(segment, Arc) and segment.is_circular):
        return along_mm / length
    low, high, t = 0.0, 1.0, along_mm / length
    for _ in range(_STEPS):
        excess = length_mm(segment.piece(0, t)) - along_mm
        low, high = (low, t) if excess > 0 else (t, high)
        if abs(excess) <= JOINT_MM:
            break
        speed = abs(segment.velocity(t))
        t = t - excess / speed if speed > 0 else low
        if not low < t < high:
            t = (low + high) / 2
    return t
