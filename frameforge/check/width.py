"""The exact width of one place: least distance between its walls, first on chords, then on the true curves."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.check.chords import Chords, ComplexArray, FloatArray, IntArray
from frameforge.check.spot import Spot, closest_pair

__all__ = ["Width", "is_empty", "least_width", "nearest_mm", "polished", "spot_on"]

SAME_WAY_COS = 0.8
"""A nearer pair of walls counts for the same place only when it lies in about the same direction (37 degrees)."""
DESCENTS = 40
"""Windows walked towards the narrowest pair; each moves at least one chord, places seen needed at most six."""


@dataclass(frozen=True, slots=True)
class Width:
    """A width in mm between the points ``a`` and ``b`` of the edge, on chords ``chord_a`` and ``chord_b``."""

    mm: float
    a: complex
    b: complex
    chord_a: int
    chord_b: int

    @property
    def middle(self) -> complex:
        """Middle between the two contacts."""
        return (self.a + self.b) / 2


def least_width(chords: Chords, begin: Width, window_mm: float) -> Width:
    """Return the least distance between the two walls near the contacts of a disc, on chords.

    Descends window by window until nothing is nearer; a pair whose walls meet round a tip nearer than 1.5 widths
    along the edge is not followed (the width of a tip is the tip's matter, not the neck's).
    """
    best = replace(begin, mm=abs(begin.b - begin.a))
    for _ in range(DESCENTS):
        step = _descend(chords, best, window_mm)
        if step is None or step.mm >= best.mm - 1e-12:
            return best
        best = step
    return best


def _descend(chords: Chords, width: Width, window_mm: float) -> Width | None:
    """Return the nearest allowed pair with one chord near each contact; None where no pair is allowed and nearer."""
    left = _window(chords, width.chord_a, window_mm)
    right = _window(chords, width.chord_b, window_mm)
    i, j = (grid.ravel() for grid in np.meshgrid(left, right, indexing="ij"))
    apart = (i != j) & (chords.after[i] != j) & (chords.before[i] != j)
    i, j = i[apart], j[apart]
    # No pair can be nearer than this: most are out before anything is worked out for them.
    nearest = np.abs(chords.middle[i] - chords.middle[j]) - (chords.length[i] + chords.length[j]) / 2
    i, j = i[nearest < width.mm], j[nearest < width.mm]
    if not len(i):
        return None
    p, q = _closest_points(chords.start[i], chords.end[i], chords.start[j], chords.end[j])
    gap = np.abs(q - p)
    way = (width.b - width.a) / max(width.mm, 1e-300)
    straight = (np.conj(q - p) * way).real >= SAME_WAY_COS * gap
    walked = _walked(chords, i, j, p, q)
    allowed = straight & (walked >= 1.5 * gap) & (gap > 0)
    if not allowed.any():
        return None
    k = int(np.argmin(np.where(allowed, gap, np.inf)))
    return Width(float(gap[k]), complex(p[k]), complex(q[k]), int(i[k]), int(j[k]))


def _window(chords: Chords, chord: int, reach_mm: float) -> IntArray:
    """Return the chords of the same loop within ``reach_mm`` along it of a chord, both ways."""
    loop = chords.loop[chord]
    mine = _within(chords, chord, reach_mm + chords.longest)
    whole = chords.loop_length[loop]
    off = np.abs(chords.along[mine] - chords.along[chord])
    off = np.minimum(off, whole - off)
    near = off <= reach_mm + chords.length[mine]
    near |= (mine == chords.after[chord]) | (mine == chords.before[chord])
    window: IntArray = mine[near]
    return window


def _within(chords: Chords, chord: int, reach_mm: float) -> IntArray:
    """Return the chords of the same loop that start within ``reach_mm`` along it of the start of a chord, in order."""
    loop = chords.loop[chord]
    first, last = chords.first[loop], chords.first[loop + 1]
    along, whole, at = chords.along[first:last], chords.loop_length[loop], chords.along[chord]
    if 2 * reach_mm >= whole:
        return np.arange(first, last)
    low, high = np.searchsorted(along, [(at - reach_mm) % whole, (at + reach_mm) % whole], side="left")
    if low <= high:
        return np.arange(first + low, first + high)
    return np.concatenate([np.arange(first, first + high), np.arange(first + low, last)])


def _walked(chords: Chords, i: IntArray, j: IntArray, p: ComplexArray, q: ComplexArray) -> FloatArray:
    """Return the shorter way along the loop between points of chords, infinite between two loops."""
    s = chords.along[i] + np.abs(p - chords.start[i])
    t = chords.along[j] + np.abs(q - chords.start[j])
    off = np.abs(s - t)
    off = np.minimum(off, chords.loop_length[chords.loop[i]] - off)
    walked: FloatArray = np.where(chords.loop[i] == chords.loop[j], off, np.inf)
    return walked


def _closest_points(
    a0: ComplexArray, a1: ComplexArray, b0: ComplexArray, b1: ComplexArray
) -> tuple[ComplexArray, ComplexArray]:
    """Return the closest points of pairs of chords that do not cross: one of four ends against the other chord."""
    feet = [
        (a0, _foot(a0, b0, b1)),
        (a1, _foot(a1, b0, b1)),
        (_foot(b0, a0, a1), b0),
        (_foot(b1, a0, a1), b1),
    ]
    distance = np.stack([np.abs(p - q) for p, q in feet])
    best = np.argmin(distance, axis=0)
    rows = np.arange(len(a0))
    return np.stack([p for p, _ in feet])[best, rows], np.stack([q for _, q in feet])[best, rows]


def _foot(point: ComplexArray, start: ComplexArray, end: ComplexArray) -> ComplexArray:
    """Return the nearest points on chords."""
    d = end - start
    t = np.clip((np.conj(d) * (point - start)).real / np.abs(d) ** 2, 0, 1)
    foot: ComplexArray = start + t * d
    return foot


def polished(chords: Chords, width: Width) -> Width:
    """Return the width measured on the true curves from the contacts on chords; accuracy 1e-9 mm.

    Stays with the chords where the closest pair of the curves lies elsewhere and is nearer. Between walls all but
    parallel it may lie far along and no nearer: that is the width here too.
    """
    first, second = closest_pair(spot_on(chords, width.chord_a, width.a), spot_on(chords, width.chord_b, width.b))
    a, b = first.point, second.point
    if abs(a - width.a) + abs(b - width.b) > 0.2 * width.mm + 0.5:
        return replace(width, mm=max(width.mm, abs(b - a)))
    return Width(abs(b - a), a, b, width.chord_a, width.chord_b)


def spot_on(chords: Chords, chord: int, point: complex) -> Spot:
    """Return the spot of the true curve that belongs to a point of a chord."""
    start, end = complex(chords.start[chord]), complex(chords.end[chord])
    share = ((end - start).conjugate() * (point - start)).real / abs(end - start) ** 2
    t0, t1 = float(chords.t0[chord]), float(chords.t1[chord])
    outline = chords.outlines[chords.loop[chord]]
    return Spot(outline, int(chords.segment[chord]), min(max(t0 + share * (t1 - t0), 0.0), 1.0))


def is_empty(chords: Chords, width: Width) -> bool:
    """Return whether the disc over the width as diameter holds no other wall (1 % and .002 mm are allowed for)."""
    return nearest_mm(chords, width.middle) >= width.mm / 2 * 0.99 - 0.002


def nearest_mm(chords: Chords, point: complex) -> float:
    """Return how far the nearest chord is from a point, mm."""
    found: tuple[npt.NDArray[np.int64], npt.NDArray[np.float64]] = chords.tree.query_nearest(
        shapely.Point(point.real, point.imag), return_distance=True, all_matches=False
    )
    return float(found[1][0])
