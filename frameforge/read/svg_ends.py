"""Ends of a line that bend more tightly than the pen is wide, made straight where nobody could see a difference.

A handle of no length, as drawing programs leave it at corners, bends the curve without bound over its last microns. A
pen's cross stroke would sweep round there; drawn straight, the end is what was meant.
"""

from __future__ import annotations

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import STRAIGHT_END_MM

__all__ = ["halved", "with_straight_ends"]

# Parameters at which the bend is looked at: from a millionth on, each half as large again as the one before.
_STEPS = [1e-6 * 1.5**k for k in range(32)]
_SAMPLES = 16


def with_straight_ends(segments: tuple[Segment, ...], reach_mm: float) -> tuple[Segment, ...]:
    """Return an open chain with both its ends straight as far as they bend more tightly than ``reach_mm``.

    Only cubics at the ends are looked at, and an end is left as it is where the straight piece would lie further than
    STRAIGHT_END_MM from it.
    """
    if not segments:
        return segments
    begun = (*_straight_start(segments[0], reach_mm), *segments[1:])
    ended = _straight_start(begun[-1].reversed(), reach_mm)
    return (*begun[:-1], *(segment.reversed() for segment in reversed(ended)))


def halved(segments: tuple[Segment, ...]) -> tuple[tuple[Segment, ...], tuple[Segment, ...]]:
    """Return an open chain of at least one segment as two, cut in the middle of a segment, so no corner is lost."""
    middle = len(segments) // 2
    cut = segments[middle]
    first, second = cut.piece(0.0, 0.5), cut.piece(0.5, 1.0)
    return (*segments[:middle], first), (second.with_ends(first.end, cut.end), *segments[middle + 1 :])


def _straight_start(segment: Segment, reach_mm: float) -> tuple[Segment, ...]:
    """Return a segment with its tight start replaced by a line, or just as it is."""
    if not isinstance(segment, Cubic):
        return (segment,)
    upto = _tight_upto(segment, reach_mm)
    if upto == 0 or not _is_straight(segment, upto):
        return (segment,)
    rest = segment.piece(upto, 1.0)
    return Line(segment.start, rest.start), rest.with_ends(rest.start, segment.end)


def _tight_upto(cubic: Cubic, reach_mm: float) -> float:
    """Return the parameter from which the curve bends less tightly than the reach; 0 where it does so at once."""
    previous_is_tight = False
    for t in _STEPS:
        velocity, acceleration = cubic.velocity(t), cubic.acceleration(t)
        turning = abs((velocity.conjugate() * acceleration).imag)
        is_tight = abs(velocity) ** 3 < 1.1 * reach_mm * turning
        if not is_tight:
            return t if previous_is_tight else 0.0
        previous_is_tight = True
    return 0.0


def _is_straight(cubic: Cubic, upto: float) -> bool:
    """Return whether the curve's start keeps to its chord."""
    chord = cubic.point(upto) - cubic.start
    if chord == 0:
        return False
    way = chord / abs(chord)
    offsets = (cubic.point(upto * i / _SAMPLES) - cubic.start for i in range(1, _SAMPLES))
    return all(abs((way.conjugate() * offset).imag) <= STRAIGHT_END_MM for offset in offsets)
