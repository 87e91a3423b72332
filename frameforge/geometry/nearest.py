"""Where two sets of outlines come closest, on the true curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.segment_table import ARC, Complexes, Floats, Ints, SegmentTable
from frameforge.tolerances import NEAREST_MM, NO_GAP_MM

__all__ = ["Closest", "distance", "segment_distance"]

# Each round cuts every chord that can still win into four, so its distance from the curve falls by sixteen.
_CUT = 4
_ROUNDS = 12
# Beyond this many pairs the curves run side by side; the nearest ones are kept, since all the rest are as near
# to within what the chords are away from their curves.
_MOST_PAIRS = 4000
_BLOCK = 500_000
_STARTS = 6
_NEWTON_STEPS = 60
# A few units in the last place: Newton may step to and fro between neighbours for ever.
_SETTLED = 1e-15


@dataclass(frozen=True, slots=True)
class Closest:
    """The least distance in mm, 0 where the curves meet or cross, and the two points that have it."""

    gap_mm: float
    at_a: complex
    at_b: complex


def distance(a: Sequence[Outline], b: Sequence[Outline]) -> Closest:
    """Return the closest pair of points between the outlines ``a`` and the outlines ``b``.

    Outlines are lines here, not areas: one that lies inside the other has the distance of the lines. Where several
    pairs are equally close, one of them. Accuracy: 1e-9 mm where the closest pair is isolated; where curves run side
    by side the gap is at most NEAREST_MM too great. Raises ValueError when a side has no outline.

    Method: chords with a bound on their distance from the curve, cut finer where a pair may still be the closest,
    then Newton on the true curves, kept within the segments.
    """
    segments_a = [segment for outline in a for segment in outline.segments]
    segments_b = [segment for outline in b for segment in outline.segments]
    return segment_distance(segments_a, segments_b)


def segment_distance(segments_a: Sequence[Segment], segments_b: Sequence[Segment]) -> Closest:
    """Return the closest pair of points between two lots of segments, as ``distance`` does for outlines.

    Raises ValueError when a side has no segment.
    """
    if not segments_a or not segments_b:
        raise ValueError("a distance needs an outline on both sides")
    tables = SegmentTable.from_segments(segments_a), SegmentTable.from_segments(segments_b)
    found = (_closest(segments_a[i], t, segments_b[j], s) for i, t, j, s in _starts(*tables))
    best = min(found, key=lambda each: each.gap_mm)
    return Closest(0.0, best.at_a, best.at_b) if best.gap_mm < NO_GAP_MM else best


@dataclass(frozen=True, slots=True, eq=False)
class _Chords:
    """Pieces of curves: which segment, from which t on, how long in t; end points; greatest distance from the curve."""

    index: Ints
    t: Floats
    step: Floats
    start: Complexes
    end: Complexes
    off: Floats

    @classmethod
    def cut(cls, table: SegmentTable, index: Ints, t: Floats, step: Floats) -> _Chords:
        """Return the chords over t .. t + step of the numbered segments.

        Over a step h of t a chord is at most h^2/8 max|P''| away (de Boor, A Practical Guide to Splines, ch. III).
        """
        off = _bend(table)[index] * step * step / 8
        return cls(index, t, step, table.point(index, t), table.point(index, t + step), off)

    def finer(self, table: SegmentTable, rows: Ints) -> _Chords:
        """Return the chosen chords, each cut into four, in order."""
        step = np.repeat(self.step[rows] / _CUT, _CUT)
        t = np.repeat(self.t[rows], _CUT) + step * np.tile(np.arange(_CUT), len(rows))
        return _Chords.cut(table, np.repeat(self.index[rows], _CUT), t, step)


def _starts(a: SegmentTable, b: SegmentTable) -> list[tuple[int, float, int, float]]:
    """Return (segment of a, t, segment of b, s) from which the closest pair is reached, nearest first."""
    chords_a, chords_b = (
        _Chords.cut(table, np.arange(len(table)), np.zeros(len(table)), np.ones(len(table))) for table in (a, b)
    )
    rows, cols = _possible(chords_a, chords_b)
    for _ in range(_ROUNDS):
        rows, cols, gaps, at = _kept(chords_a, rows, chords_b, cols)
        if (chords_a.off[rows] + chords_b.off[cols]).max() <= NEAREST_MM:
            break
        used_a, rows = np.unique(rows, return_inverse=True)
        used_b, cols = np.unique(cols, return_inverse=True)
        chords_a, chords_b = chords_a.finer(a, used_a), chords_b.finer(b, used_b)
        four = np.arange(_CUT)
        rows = (rows[:, None, None] * _CUT + four[:, None] + 0 * four).ravel()
        cols = (cols[:, None, None] * _CUT + 0 * four[:, None] + four).ravel()
    order = np.argsort(gaps, kind="stable")[:_STARTS]
    rows, cols, at = rows[order], cols[order], at[:, order]
    t = chords_a.t[rows] + at[0] * chords_a.step[rows]
    s = chords_b.t[cols] + at[1] * chords_b.step[cols]
    return list(zip(chords_a.index[rows].tolist(), t.tolist(), chords_b.index[cols].tolist(), s.tolist(), strict=True))


def _bend(table: SegmentTable) -> Floats:
    """Return an upper bound of |P''| for every segment: linear in t for cubics, greatest on the long axis for arcs."""
    start, k1, k2, end = table.start, table.k1, table.k2, table.end
    cubic = 6 * np.maximum(abs(start - 2 * k1 + k2), abs(k1 - 2 * k2 + end))
    return np.asarray(np.where(table.kind == ARC, table.sweep**2 * abs(k2), cubic))


def _possible(a: _Chords, b: _Chords) -> tuple[Ints, Ints]:
    """Return the pairs of chords that may be the closest, by the discs round them; all pairs, block by block."""
    middle_a, middle_b = (a.start + a.end) / 2, (b.start + b.end) / 2
    reach_a, reach_b = np.abs(a.end - a.start) / 2 + a.off, np.abs(b.end - b.start) / 2 + b.off
    size = max(1, _BLOCK // len(middle_b))
    least, found = np.inf, []
    for first in range(0, len(middle_a), size):
        block = slice(first, first + size)
        apart = np.abs(middle_a[block, None] - middle_b)
        least = min(least, float((apart + a.off[block, None] + b.off).min()))
        lower = apart - reach_a[block, None] - reach_b
        rows, cols = np.nonzero(lower <= least)
        found.append((rows + first, cols, lower[rows, cols]))
    rows, cols, lower = (np.concatenate(part) for part in zip(*found, strict=True))
    near = lower <= least
    return rows[near], cols[near]


def _kept(a: _Chords, rows: Ints, b: _Chords, cols: Ints) -> tuple[Ints, Ints, Floats, Floats]:
    """Return the pairs that may still be the closest, with the distance of their chords and where on each it is."""
    gaps, at = _chord_gaps(a.start[rows], a.end[rows], b.start[cols], b.end[cols])
    off = a.off[rows] + b.off[cols]
    near = np.flatnonzero(gaps - off <= (gaps + off).min())
    if len(near) > _MOST_PAIRS:
        near = near[np.argsort(gaps[near] - off[near], kind="stable")[:_MOST_PAIRS]]
    return rows[near], cols[near], gaps[near], at[:, near]


def _chord_gaps(a0: Complexes, a1: Complexes, b0: Complexes, b1: Complexes) -> tuple[Floats, Floats]:
    """Return the distance of each pair of straight chords and where on each, 0..1, it is taken (2 rows).

    Two straight lines that do not cross are closest at an end of one of them.
    """
    candidates = [_foot(a0, b0, b1), _foot(a1, b0, b1), _foot(b0, a0, a1), _foot(b1, a0, a1)]
    gaps = np.stack([gap for gap, _ in candidates])
    feet = [foot for _, foot in candidates]
    zero, one = np.zeros(len(a0)), np.ones(len(a0))
    on_a = np.stack([zero, one, feet[2], feet[3]])
    on_b = np.stack([feet[0], feet[1], zero, one])
    pick = gaps.argmin(axis=0)[None]
    gap = np.take_along_axis(gaps, pick, 0)[0]
    at = np.stack([np.take_along_axis(x, pick, 0)[0] for x in (on_a, on_b)])
    crosses, t, s = _crossing(a0, a1 - a0, b0, b1 - b0)
    return np.where(crosses, 0.0, gap), np.where(crosses, np.stack([t, s]), at)


def _foot(p: Complexes, a: Complexes, b: Complexes) -> tuple[Floats, Floats]:
    """Return the distance from each point to each chord, and where on the chord its foot is."""
    way = b - a
    square = np.maximum(np.abs(way) ** 2, np.finfo(np.float64).tiny)
    t = np.clip(((p - a) * way.conj()).real / square, 0, 1)
    return np.abs(a + t * way - p), t


def _crossing(a: Complexes, u: Complexes, b: Complexes, v: Complexes) -> tuple[npt.NDArray[np.bool_], Floats, Floats]:
    """Return which chords a + t u and b + s v cross, and t and s there."""
    cross = (u.conj() * v).imag
    safe = np.where(cross == 0, 1.0, cross)
    t, s = ((b - a).conj() * v).imag / safe, ((b - a).conj() * u).imag / safe
    return (cross != 0) & (t >= 0) & (t <= 1) & (s >= 0) & (s <= 1), t, s


def _closest(a: Segment, t: float, b: Segment, s: float) -> Closest:
    """Return the closest pair near (t, s): Newton on half the squared distance, both kept in 0..1.

    Where the Hessian is not positive definite its curvature terms are left out (Gauss-Newton); a step that does not
    bring the points nearer is halved.
    """
    gap = abs(a.point(t) - b.point(s))
    for _ in range(_NEWTON_STEPS):
        dt, ds = _step(a, t, b, s)
        for _ in range(30):
            new_t, new_s = min(max(t + dt, 0.0), 1.0), min(max(s + ds, 0.0), 1.0)
            new_gap = abs(a.point(new_t) - b.point(new_s))
            if new_gap <= gap:
                break
            dt, ds = dt / 2, ds / 2
        else:
            break
        settled = abs(new_t - t) + abs(new_s - s) <= _SETTLED
        t, s, gap = new_t, new_s, new_gap
        if settled:
            break
    return Closest(gap, a.point(t), b.point(s))


def _step(a: Segment, t: float, b: Segment, s: float) -> tuple[float, float]:
    """Return the Newton step in t and s; one that stands at its end and would leave stays there."""
    apart, va, vb = a.point(t) - b.point(s), a.velocity(t), b.velocity(s)
    ft, fs = (apart.conjugate() * va).real, -(apart.conjugate() * vb).real
    held_t, held_s = (t == 0 and ft > 0) or (t == 1 and ft < 0), (s == 0 and fs > 0) or (s == 1 and fs < 0)
    tt = abs(va) ** 2 + (apart.conjugate() * a.acceleration(t)).real
    ss = abs(vb) ** 2 - (apart.conjugate() * b.acceleration(s)).real
    ts = -(va.conjugate() * vb).real
    if held_t or held_s:
        return (0.0 if held_t else -ft / _positive(tt, va)), (0.0 if held_s else -fs / _positive(ss, vb))
    det = tt * ss - ts * ts
    if tt <= 0 or det <= 1e-12 * tt * ss:
        tt, ss = abs(va) ** 2, abs(vb) ** 2
        det = tt * ss - ts * ts
        if det <= 1e-12 * tt * ss:
            return -ft / _positive(0, va) / 2, -fs / _positive(0, vb) / 2
    return (ts * fs - ss * ft) / det, (ts * ft - tt * fs) / det


def _positive(curvature: float, velocity: complex) -> float:
    """Return the second derivative where it is positive, else its part without curvature."""
    return curvature if curvature > 0 else abs(velocity) ** 2 or 1.0
