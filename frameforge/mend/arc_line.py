"""A smooth line of few arcs through points that lie on it but for small errors.

The points are thinned (D. H. Douglas, T. K. Peucker, 1973, Algorithms for the reduction of the number of points
required to represent a digitized line or its caricature, Cartographica 10), each one left is given the direction of
the circle through it and its neighbours, and pairs are joined by two arcs that meet in one tangent (K. M. Bolton,
Biarc curves, Computer-Aided Design 7, 1975).
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Sequence

import numpy as np

from frameforge.check.chords import ComplexArray, FloatArray
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.tolerances import MEND_FIT_MM, MIN_CHORD_MM, SAME_ANGLE_RAD

__all__ = ["off_line", "smooth_lines", "thinned"]

CORNER_RAD = math.radians(40)
"""Where the thinned line turns by more than this at a point, it has a corner there and is not rounded."""
LOOKED_AT = (0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1.0)
MOST_POINTS = 16
"""Points of the thinned line that one pair of arcs may pass."""


def smooth_lines(
    points: Sequence[complex], *, is_closed: bool = False, within_mm: float = MEND_FIT_MM
) -> tuple[tuple[Line | Arc, ...], ...]:
    """Return smooth chains of lines and arcs that follow the points; a new chain begins at each corner.

    The points of a closed line end in the one they begin with. Each chain runs on without a corner. Accuracy: the
    points are at most a few ``within_mm`` away; where arcs would stray further, the chain is the thinned line itself,
    one line a chain. Fewer than two points give nothing.
    """
    points = [p for k, p in enumerate(points) if k == 0 or abs(p - points[k - 1]) > MIN_CHORD_MM]
    if len(points) < 2:
        return ()
    kept = thinned(points, within_mm)
    if len(kept) == 2:
        return ((Line(kept[0], kept[1]),),)
    chains: list[tuple[Line | Arc, ...]] = []
    for stretch, round_again in _between_corners(kept, is_closed):
        chain = _biarcs(stretch, round_again, within_mm)
        if chain is None or _stray(points, chain) > 3 * within_mm:
            chains += [(Line(a, b),) for a, b in itertools.pairwise(stretch)]
        else:
            chains.append(chain)
    return tuple(chains)


def thinned(points: Sequence[complex], within_mm: float) -> list[complex]:
    """Return the fewest of the points, ends included, whose line passes all others within ``within_mm``."""
    z = np.array(points, dtype=np.complex128)
    keep = np.zeros(len(z), dtype=np.bool_)
    keep[[0, -1]] = True
    stack = [(0, len(z) - 1)]
    while stack:
        first, last = stack.pop()
        if last - first < 2:
            continue
        off = off_line(z[first + 1 : last], z[[first, last]])
        worst = int(np.argmax(off))
        if off[worst] > within_mm:
            middle = first + 1 + worst
            keep[middle] = True
            stack += [(first, middle), (middle, last)]
    return [complex(p) for p in z[keep]]


def off_line(z: ComplexArray, line: ComplexArray) -> FloatArray:
    """Return the distance (mm) of each point from the line through other points, at least two."""
    start, step = line[:-1], np.diff(line)
    size = np.maximum(np.abs(step) ** 2, 1e-300)
    t = np.clip(((z[:, None] - start) * np.conj(step)).real / size, 0, 1)
    away: FloatArray = np.abs(z[:, None] - start - t * step).min(axis=1)
    return away


def _between_corners(points: list[complex], is_closed: bool) -> list[tuple[list[complex], bool]]:
    """Return the stretches between corners, and whether the stretch is a whole round without one."""
    steps = [b - a for a, b in itertools.pairwise(points)]
    turns = [abs(cmath.phase(b / a)) for a, b in itertools.pairwise(steps)]
    if is_closed and abs(cmath.phase(steps[0] / steps[-1])) <= CORNER_RAD and max(turns, default=0) <= CORNER_RAD:
        return [(points, True)]
    corners = [0, *(k + 1 for k, turn in enumerate(turns) if turn > CORNER_RAD), len(points) - 1]
    return [(points[a : b + 1], False) for a, b in itertools.pairwise(corners)]


def _biarcs(points: list[complex], round_again: bool, within_mm: float) -> tuple[Line | Arc, ...] | None:
    """Return few arcs along points, tangent to their directions; None where two points do not take a pair of arcs."""
    if len(points) == 2:
        return (Line(points[0], points[1]),)
    ways, last = _directions(points, round_again), len(points) - 1
    chain: list[Line | Arc] = []
    first = 0
    while first < last:
        # The furthest point that one pair of arcs reaches along all between; neighbours at least.
        for to in range(min(last, first + MOST_POINTS), first, -1):
            pair = _biarc(points[first], ways[first], points[to], ways[to])
            if pair is not None and (to == first + 1 or _stray(points[first : to + 1], pair) <= within_mm):
                break
        if pair is None:
            return None
        chain += pair
        first = to
    return tuple(chain)


def _directions(points: list[complex], round_again: bool) -> list[complex]:
    """Return a unit direction at each point: that of the circle through it and its two neighbours.

    The circle through a, b, c has at b the direction (b - a)(c - b)/(c - a); at a, (b - a)(c - a)/(c - b).
    """
    ways = []
    for k, b in enumerate(points):
        if 0 < k < len(points) - 1:
            a, c = points[k - 1], points[k + 1]
            way = (b - a) * (c - b) / (c - a)
        elif round_again:
            a, c = points[-2], points[1]
            way = (b - a) * (c - b) / (c - a)
        else:
            one, two = (points[1], points[2]) if k == 0 else (points[-2], points[-3])
            way = (one - b) * (two - b) / (two - one) * (1 if k == 0 else -1)
        ways.append(way / abs(way))
    return ways


def _biarc(a: complex, s: complex, b: complex, t: complex) -> tuple[Line | Arc, Line | Arc] | tuple[Line] | None:
    """Return two arcs from a in direction s to b in direction t; None where they would turn about.

    With handles of equal length d at both ends, |b - a - d (s + t)| = 2 d gives d, and the joint lies midway between
    the ends of the handles.
    """
    chord = b - a
    along = ((s + t).conjugate() * chord).real
    bend = 2 * (1 - (s.conjugate() * t).real)
    if abs(cmath.phase(s / chord)) > math.pi / 2 or abs(cmath.phase(t / chord)) > math.pi / 2:
        return None
    if bend < 1e-12:
        d = abs(chord) ** 2 / (2 * along)
    else:
        d = (math.sqrt(along * along + bend * abs(chord) ** 2) - along) / bend
    joint = (a + d * s + b - d * t) / 2
    if abs(joint - a) <= 1e-3 * abs(chord) or abs(b - joint) <= 1e-3 * abs(chord):
        return None
    return _arc(a, joint, cmath.phase((joint - a) / s)), _arc(joint, b, cmath.phase(t / (b - joint)))


def _arc(start: complex, end: complex, half_rad: float) -> Line | Arc:
    """Return the arc between two points that turns left by twice ``half_rad``, the angle of tangent and chord."""
    if abs(half_rad) < SAME_ANGLE_RAD:
        return Line(start, end)
    return Arc.from_bulge(start, end, math.tan(half_rad / 2))


def _stray(points: Sequence[complex], chain: Sequence[Line | Arc]) -> float:
    """Return how far points lie from a chain, or it from the line through them, mm, looked at in a few places."""
    z = np.array(points, dtype=np.complex128)
    on = np.array([segment.point(t) for segment in chain for t in LOOKED_AT], dtype=np.complex128)
    return max(float(off_line(z, on).max()), float(off_line(on, z).max()))
