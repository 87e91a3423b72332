"""double-line: the same place cut twice. A laser burns it, a knife drags it."""

from __future__ import annotations

import math

import numpy as np
import shapely

from frameforge.check.chords import ComplexArray, FloatArray, IntArray
from frameforge.check.cut_lines import CutLines
from frameforge.finding import Finding
from frameforge.tolerances import DOUBLE_LINE_MM
from frameforge.units import format_floor

__all__ = ["LEAST_DOUBLE_MM", "find_double_lines"]

LEAST_DOUBLE_MM = 1.0
"""Lines that touch or cross at a slant lie together for less than this."""
STEP_MM = 0.2
"""Lines are compared at points this close together; the length told is as true as this."""
PARALLEL_RAD = math.radians(2.0)
"""Lines that lie in one another run in one direction, or in opposite ones; chords of one curve differ by this much."""
GAP_MM = 1.0
"""Places doubled less than this apart along a line are one."""


def find_double_lines(lines: CutLines) -> tuple[Finding, ...]:
    """Return a warning in the middle of each stretch that another line, or the same one again, lies in.

    Within ``DOUBLE_LINE_MM`` and for at least ``LEAST_DOUBLE_MM``. The measure is the length cut twice, in mm, to
    ``STEP_MM``.
    """
    at, chord, along, step = _samples(lines)
    a, b = lines.tree.query(np.asarray(shapely.points(at.real, at.imag)), predicate="dwithin", distance=DOUBLE_LINE_MM)
    u, v = lines.direction[chord[a]], lines.direction[b]
    mine, other = lines.line[chord[a]], lines.line[b]
    ahead = lines.along[b] + (np.conj(v) * (at[a] - lines.start[b])).real - along[a]
    is_again = (mine < other) | ((mine == other) & (lines.around(mine, ahead) > LEAST_DOUBLE_MM) & (ahead > 0))
    doubled = is_again & (np.abs(np.angle((u / v) ** 2)) / 2 <= PARALLEL_RAD)
    found = []
    for first, second in np.unique(np.stack([mine[doubled], other[doubled]], axis=1), axis=0).tolist():
        places = np.unique(a[doubled & (mine == first) & (other == second)])
        whole = float(lines.length[first]) if lines.is_closed[first] else math.inf
        for stretch, place in _stretches(along[places], step[places], whole):
            length = float(place[-1] - place[0] + (step[places[stretch[0]]] + step[places[stretch[-1]]]) / 2)
            if length >= LEAST_DOUBLE_MM:
                middle = np.argmin(np.abs(place - (place[0] + place[-1]) / 2))
                found.append(_finding(complex(at[places[stretch[middle]]]), length))
    return tuple(found)


def _samples(lines: CutLines) -> tuple[ComplexArray, IntArray, FloatArray, FloatArray]:
    """Return points on all chords, their chords, where they lie along the line, and the length each stands for."""
    length = np.abs(lines.end - lines.start)
    parts = np.ceil(length / STEP_MM).astype(np.int64)
    chord = np.repeat(np.arange(len(parts)), parts)
    nth = np.arange(len(chord)) - np.repeat(np.cumsum(parts) - parts, parts)
    share = (nth + 0.5) / parts[chord]
    at = lines.start[chord] + share * (lines.end - lines.start)[chord]
    return at, chord, lines.along[chord] + share * length[chord], (length / parts)[chord]


def _stretches(along: FloatArray, step: FloatArray, whole_mm: float) -> list[tuple[IntArray, FloatArray]]:
    """Return the samples in runs without a gap of more than ``GAP_MM``: their numbers and where they lie (mm).

    On a closed line of the length ``whole_mm`` a run goes on over the seam: there it counts beyond the whole.
    """
    gaps = np.diff(along) - (step[1:] + step[:-1]) / 2
    runs = np.split(np.arange(len(along)), np.flatnonzero(gaps > GAP_MM) + 1)
    over_seam = len(runs) > 1 and along[0] + whole_mm - along[-1] - (step[0] + step[-1]) / 2 <= GAP_MM
    told = [(run, along[run]) for run in runs]
    if over_seam:
        (first, place), (last, before) = told[0], told.pop()
        told[0] = np.concatenate((last, first)), np.concatenate((before, place + whole_mm))
    return told


def _finding(place: complex, length: float) -> Finding:
    say = f"{format_floor(length)} are cut twice: two lines lie in one another. Delete one of them."
    return Finding("double-line", "warning", say, x_mm=place.real, y_mm=place.imag, measured=length, limit=0.0)
