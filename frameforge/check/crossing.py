"""crossing: two cut lines that cross, or one that crosses itself: the card between them comes loose."""

from __future__ import annotations

import cmath
import math

import numpy as np

from frameforge.check.chords import FloatArray, IntArray
from frameforge.check.cut_lines import CutLines
from frameforge.check.discs import BoolArray
from frameforge.finding import Finding
from frameforge.tolerances import SAME_POINT_MM

__all__ = ["find_crossings"]

LEAST_ANGLE_RAD = math.radians(1.0)
"""Chords of lines that lie in one another weave; those are double lines."""
SAME_MM = 0.05
"""Crossings nearer than this to one already told are the same one."""


def find_crossings(lines: CutLines) -> tuple[Finding, ...]:
    """Return a warning at each place where lines cross, in a joint too; lines that only touch do not."""
    chords = lines.tree.geometries
    a, b = lines.tree.query(chords, predicate="intersects")
    once = (a < b) & ~_are_neighbours(lines, a, b)
    a, b = a[once], b[once]
    turn = np.abs(np.angle((lines.direction[a] / lines.direction[b]) ** 2)) / 2
    a, b = a[turn > LEAST_ANGLE_RAD], b[turn > LEAST_ANGLE_RAD]
    told: dict[tuple[int, int], complex] = {}
    for place in _crossings(lines, a, b):
        cell = int(place.real // SAME_MM), int(place.imag // SAME_MM)
        near = ((cell[0] + i, cell[1] + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
        if all(abs(place - told[other]) > SAME_MM for other in near if other in told):
            told[cell] = place
    say = "Two cut lines cross here, and the bit between them comes loose. Unite the shapes, or part them."
    return tuple(Finding("crossing", "warning", say, x_mm=z.real, y_mm=z.imag) for z in told.values())


def _crossings(lines: CutLines, a: IntArray, b: IntArray) -> list[complex]:
    """Return where lines cross along pairs of chords that meet: p + t u = q + s v.

    Inside both chords they cross; at the end of one the arms of the two lines on either side decide.
    """
    p, u = lines.start[a], lines.end[a] - lines.start[a]
    q, v = lines.start[b], lines.end[b] - lines.start[b]
    spread = (np.conj(u) * v).imag
    t, s = (np.conj(q - p) * v).imag / spread, (np.conj(q - p) * u).imag / spread
    inside = _is_inside(t, np.abs(u)) & _is_inside(s, np.abs(v))
    found = [complex(z) for z in (p + t * u)[inside]]
    for k in np.flatnonzero(~inside).tolist():
        place = complex(p[k] + t[k] * u[k])
        arms = _arms(lines, int(a[k]), place), _arms(lines, int(b[k]), place)
        if arms[0] and arms[1] and _is_parted(*arms[0], *arms[1]):
            found.append(place)
    return found


def _are_neighbours(lines: CutLines, a: IntArray, b: IntArray) -> BoolArray:
    """Return which pairs of chords, the lower number first, follow on one another on their line: they meet, no more."""
    line = lines.line[a]
    first = np.searchsorted(lines.line, np.arange(len(lines.length) + 1))
    is_seam = np.array(lines.is_closed)[line] & (a == first[line]) & (b == first[line + 1] - 1)
    result: BoolArray = (line == lines.line[b]) & ((b == a + 1) | is_seam)
    return result


def _is_inside(t: FloatArray, length: FloatArray) -> BoolArray:
    """Return where a parameter lies inside its chord and not at an end of it."""
    return (t * length > SAME_POINT_MM) & ((1 - t) * length > SAME_POINT_MM)


def _arms(lines: CutLines, chord: int, place: complex) -> tuple[complex, complex] | None:
    """Return the directions in which a line leaves a place on one of its chords; None at the end of an open line."""
    start, end = complex(lines.start[chord]), complex(lines.end[chord])
    if abs(place - start) <= SAME_POINT_MM:
        before = lines.beside(chord, -1)
        return None if before is None else (complex(lines.start[before]) - start, end - start)
    if abs(place - end) <= SAME_POINT_MM:
        after = lines.beside(chord, 1)
        return None if after is None else (start - end, complex(lines.end[after]) - end)
    return start - place, end - place


def _is_parted(a1: complex, a2: complex, b1: complex, b2: complex) -> bool:
    """Whether one pair of arms lies on either side of the other: exactly one of b1, b2 within the turn a1 to a2."""
    turn = cmath.phase(a2 / a1) % math.tau
    within = [0 < cmath.phase(b / a1) % math.tau < turn for b in (b1, b2)]
    beside = [min(abs(cmath.phase(b / a)) for a in (a1, a2)) < LEAST_ANGLE_RAD for b in (b1, b2)]
    return within[0] != within[1] and not any(beside)
