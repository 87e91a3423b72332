"""double-line: the same place cut twice. A laser burns it, a knife drags it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from frameforge.check.chords import FloatArray, IntArray
from frameforge.check.cut_lines import CutLines
from frameforge.finding import Finding
from frameforge.tolerances import DOUBLE_LINE_MM
from frameforge.units import format_floor

__all__ = ["LEAST_DOUBLE_MM", "find_double_lines"]

LEAST_DOUBLE_MM = 1.0
"""Lines that touch or cross at a slant lie together for less than this."""
PARALLEL_RAD = math.radians(2.0)
"""Lines that lie in one another run in one direction, or in opposite ones; chords of one curve differ by this much."""
GAP_MM = 1.0
"""Places doubled less than this apart along a line are one."""


@dataclass(frozen=True, slots=True, eq=False)
class _Shared:
    """Stretches along lines, from ``begin`` to ``end`` mm, that lie in the line ``other`` as well."""

    line: IntArray
    other: IntArray
    begin: FloatArray
    end: FloatArray


def find_double_lines(lines: CutLines) -> tuple[Finding, ...]:
    """Return a warning in the middle of each stretch that another line, or the same one again, lies in.

    Within ``DOUBLE_LINE_MM`` and for at least ``LEAST_DOUBLE_MM``. The measure is the length cut twice, in mm. A
    stretch ends where its chords do: accuracy .02 mm on lines, that of a chord where a curve turns away.
    """
    shared = _shared(lines)
    found = []
    for first, second in np.unique(np.stack([shared.line, shared.other], axis=1), axis=0).tolist():
        mine = (shared.line == first) & (shared.other == second)
        whole = float(lines.length[first]) if lines.is_closed[first] else math.inf
        for begin, end in _stretches(shared.begin[mine], shared.end[mine], whole):
            if end - begin >= LEAST_DOUBLE_MM:
                found.append(_finding(lines.point(first, (begin + end) / 2), min(end - begin, whole)))
    return tuple(found)


def _shared(lines: CutLines) -> _Shared:
    """Return the stretches of chords that lie within ``DOUBLE_LINE_MM`` of parallel chords further on, or of later
    lines.

    At t along a chord from p with direction u, the line of another, from q with direction v, is |v x (p - q + t u)|
    away, and the foot lies v.(p - q + t u) along it: both are linear in t, so each leaves one stretch.
    """
    a, b = lines.tree.query(lines.tree.geometries, predicate="dwithin", distance=DOUBLE_LINE_MM)
    u, v = lines.direction[a], lines.direction[b]
    near = (lines.line[a] <= lines.line[b]) & (np.abs(np.angle((u / v) ** 2)) / 2 <= PARALLEL_RAD) & (a != b)
    a, b, u, v = a[near], b[near], u[near], v[near]
    reach = np.conj(v) * (lines.start[a] - lines.start[b])
    turn = np.conj(v) * u
    low, high = np.zeros(len(a)), np.abs(lines.end[a] - lines.start[a])
    low, high = _within(low, high, reach.imag, turn.imag, -DOUBLE_LINE_MM, DOUBLE_LINE_MM)
    low, high = _within(low, high, reach.real, turn.real, 0.0, np.abs(lines.end[b] - lines.start[b]))
    middle = (low + high) / 2
    ahead = lines.along[b] + reach.real + middle * turn.real - lines.along[a] - middle
    line, other = lines.line[a], lines.line[b]
    is_again = (line != other) | ((lines.around(line, ahead) > LEAST_DOUBLE_MM) & (ahead > 0))
    keep = is_again & (high > low)
    begin = lines.along[a]
    return _Shared(line[keep], other[keep], (begin + low)[keep], (begin + high)[keep])


def _within(
    low: FloatArray, high: FloatArray, at: FloatArray, slope: FloatArray, least: float, most: float | FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return the part of each stretch low .. high of t in which ``at + slope t`` lies between least and most."""
    is_flat = np.abs(slope) < 1e-12
    safe = np.where(is_flat, 1.0, slope)
    one, two = (least - at) / safe, (most - at) / safe
    inside = (at >= least) & (at <= most)
    first = np.where(is_flat, np.where(inside, -np.inf, np.inf), np.minimum(one, two))
    last = np.where(is_flat, np.where(inside, np.inf, -np.inf), np.maximum(one, two))
    return np.maximum(low, first), np.minimum(high, last)


def _stretches(begin: FloatArray, end: FloatArray, whole_mm: float) -> Iterator[tuple[float, float]]:
    """Yield runs of stretches without a gap of more than ``GAP_MM`` between them, in mm along the line.

    On a closed line of the length ``whole_mm`` a run goes on over the seam: there it counts beyond the whole.
    """
    order = np.argsort(begin, kind="stable")
    begin, reached = begin[order], np.maximum.accumulate(end[order])
    cuts = np.flatnonzero(begin[1:] - reached[:-1] > GAP_MM) + 1
    firsts, lasts = begin[np.append(0, cuts)].tolist(), reached[np.append(cuts - 1, len(begin) - 1)].tolist()
    if len(firsts) > 1 and firsts[0] + whole_mm - lasts[-1] <= GAP_MM:
        firsts, lasts = firsts[1:], [*lasts[1:-1], lasts[0] + whole_mm]
    yield from zip(firsts, lasts, strict=True)


def _finding(place: complex, length: float) -> Finding:
    say = f"{format_floor(length)} are cut twice: two lines lie in one another. Delete one of them."
    return Finding("double-line", "warning", say, x_mm=place.real, y_mm=place.imag, measured=length, limit=0.0)
