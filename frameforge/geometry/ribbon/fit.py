"""Cubics fitted to the parallel curves of cubics and elliptical arcs, many at once.

For a curve P with unit tangent T and curvature k, the parallel at the distance d to the right is Q = P - i d T; its
velocity is P' (1 + d k), so the two run alike while the **speed factor** 1 + d k is above 0.

Each parallel is fitted by one cubic that keeps its ends and tangents, so only the lengths of the two handles are free.
They are found by least squares on points at equal length of the parallel curve (J. Hoschek, Spline approximation of
offset curves, Computer Aided Geometric Design 5 (1988)), the parameters being corrected by foot points between the
rounds (Hoschek, Intrinsic parametrization for approximation, CAGD 5 (1988)).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Span", "Stretch", "fit_parallels"]

_POINTS = 33
_DENSE = 65
_VECTOR_ROUNDS = 3
_NORMAL_ROUNDS = 5
# Rounds that weight each residual by its size, so that the greatest becomes least (C. L. Lawson, 1961).
_EVEN_ROUNDS = 5
_BALANCES = 4
_MOST_SPANS = 24
# So little of the vector residual is kept among the normal ones that a straight parallel has handles at all.
_RIDGE = 1e-12


class Stretch(NamedTuple):
    """A part of a curve to fit: its row in the table, from which to which t, and how near (mm) the cubics must come."""

    row: int
    t0: float
    t1: float
    fit_mm: float


class Span(NamedTuple):
    """One fitted cubic: over t0 .. t1 of the source, handles of ``near_mm`` and ``far_mm`` along the tangents."""

    t0: float
    t1: float
    near_mm: float
    far_mm: float


def fit_parallels(table: SegmentTable, stretches: Sequence[Stretch], distance_mm: float) -> list[tuple[Span, ...]]:
    """Return the spans of every stretch, in order, as few as found.

    Along a stretch the speed factor must not be negative. How near the cubics lie to the exact parallel is measured
    from the source at 65 points of each.
    """
    jobs = [_Job(stretch, [stretch.t0, stretch.t1]) for stretch in stretches]
    while pending := [job for job in jobs if not job.spans]:
        rows = np.concatenate([np.full(len(job.cuts) - 1, job.stretch.row) for job in pending])
        low = np.concatenate([job.cuts[:-1] for job in pending])
        high = np.concatenate([job.cuts[1:] for job in pending])
        near, far, off = _fitted(table, rows, low, high, distance_mm)
        first = 0
        for job in pending:
            part = slice(first, first + len(job.cuts) - 1)
            first = part.stop
            job.settle(near[part].tolist(), far[part].tolist(), off[part])
    return [job.spans for job in jobs]


@dataclass(slots=True)
class _Job:
    """One stretch while the number and the places of its cuts are sought."""

    stretch: Stretch
    cuts: list[float]
    balances: int = 0
    spans: tuple[Span, ...] = ()

    def settle(self, near: list[float], far: list[float], off: Floats) -> None:
        """Keep the spans if all are near enough, else choose other cuts.

        The error of a G1 cubic falls with the sixth power of its length (de Boor, Hollig, Sabin, High accuracy
        geometric Hermite interpolation, CAGD 4 (1987)): that gives the number of spans and how to even them out.
        """
        worst, count, fit_mm = float(off.max()), len(near), self.stretch.fit_mm
        if worst <= fit_mm or count >= _MOST_SPANS:
            cuts = self.cuts
            self.spans = tuple(Span(*row) for row in zip(cuts[:-1], cuts[1:], near, far, strict=True))
        elif count == 1:
            self._cut_evenly(min(_MOST_SPANS, max(2, math.ceil((worst / fit_mm) ** (1 / 6) - 0.15))))
        elif self.balances < _BALANCES:
            self.balances += 1
            self._cut_by(np.diff(self.cuts) * (fit_mm / np.maximum(off, fit_mm / 1e6)) ** (1 / 6))
        else:
            self.balances = 0
            self._cut_evenly(min(_MOST_SPANS, count + 1 + count // 4))

    def _cut_evenly(self, count: int) -> None:
        self._cut_by(np.ones(count))

    def _cut_by(self, widths: Floats) -> None:
        """Cut the stretch in proportion to the widths."""
        t0, t1 = self.stretch.t0, self.stretch.t1
        inner = t0 + (t1 - t0) * np.cumsum(widths)[:-1] / widths.sum()
        self.cuts = [t0, *inner.tolist(), t1]


@dataclass(frozen=True, slots=True, eq=False)
class _Goal:
    """What is fitted: points of parallels at equal lengths along them, one row a cubic."""

    t: Floats
    point: Complexes
    tangent: Complexes

    @classmethod
    def from_source(cls, table: SegmentTable, rows: Ints, low: Floats, high: Floats, distance_mm: float) -> _Goal:
        dense = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, _DENSE)
        speed = abs(table.velocity(_wide(rows, dense), dense)) * np.maximum(_factor(table, rows, dense, distance_mm), 0)
        length = np.zeros_like(dense)
        length[:, 1:] = np.cumsum((speed[:, 1:] + speed[:, :-1]) / 2, axis=1)
        steps = np.linspace(0, 1, _POINTS)
        pairs = zip(length, dense, strict=True)
        t = np.stack([np.interp(steps * s[-1], s, x) if s[-1] > 0 else x[::2] for s, x in pairs])
        t[:, 0], t[:, -1] = low, high
        point, tangent = _parallel(table, rows, t, distance_mm)
        return cls(t, point, tangent)


def _fitted(
    table: SegmentTable, rows: Ints, low: Floats, high: Floats, distance_mm: float
) -> tuple[Floats, Floats, Floats]:
    """Return both handle lengths and the greatest distance from the parallel (mm) for each part of a curve."""
    goal = _Goal.from_source(table, rows, low, high, distance_mm)
    size = np.abs(np.diff(goal.point, axis=1)).sum(axis=1)
    handles = np.stack([size / 3, size / 3])
    w = np.tile(np.linspace(0, 1, _POINTS), (len(rows), 1))
    weights, best, least = np.ones_like(w), handles, np.full(len(rows), np.inf)
    for number in range(_VECTOR_ROUNDS + _NORMAL_ROUNDS + _EVEN_ROUNDS):
        handles = _least_squares(goal, w, handles, size, weights if number >= _VECTOR_ROUNDS else None)
        w, residual = _with_foot_points(goal, w, handles)
        if number < _VECTOR_ROUNDS + _NORMAL_ROUNDS - 1:
            continue
        worst = residual.max(axis=1)
        best, least = np.where(worst < least, handles, best), np.minimum(worst, least)
        weights = weights * residual
        weights = weights / np.maximum(weights.max(axis=1, keepdims=True), 1e-300) + 1e-9
    return best[0], best[1], _off(table, rows, goal, w, best, distance_mm)


def _least_squares(goal: _Goal, w: Floats, handles: Floats, size: Floats, weights: Floats | None) -> Floats:
    """Return the handle lengths with the least sum of squared residuals at the parameters ``w``.

    The cubic is Q0 (B0 + B1) + Q1 (B2 + B3) + near T0 B1 - far T1 B2: linear in both lengths. With ``weights`` only the
    residuals across the tangent count.
    """
    b0, b1, b2, b3 = _bernstein(w)
    rest = goal.point - goal.point[:, :1] * (b0 + b1) - goal.point[:, -1:] * (b2 + b3)
    one, two = goal.tangent[:, :1] * b1, -goal.tangent[:, -1:] * b2
    system = _normal_equations(one, two, rest)
    if weights is not None:
        # The component across the tangent T is the imaginary part after turning by -T.
        root = np.sqrt(weights)
        turned = [np.asarray(root * (z * goal.tangent.conj()).imag + 0j) for z in (one, two, rest)]
        across = _normal_equations(turned[0], turned[1], turned[2])
        system = tuple(c + _RIDGE * v for c, v in zip(across, system, strict=True))
    aa, ab, bb, ar, br = system
    det = aa * bb - ab * ab
    det = np.where(det > 0, det, 1.0)
    solved = np.stack([(ar * bb - br * ab) / det, (br * aa - ar * ab) / det])
    return np.asarray(np.clip(solved, 1e-3 * size, 2 * size), dtype=np.float64)


def _normal_equations(one: Complexes, two: Complexes, rest: Complexes) -> tuple[Floats, ...]:
    """Return the sums of products of two columns with each other and with the right side."""

    def dot(a: Complexes, b: Complexes) -> Floats:
        return np.asarray((a.conj() * b).real.sum(axis=1), dtype=np.float64)

    return dot(one, one), dot(one, two), dot(two, two), dot(one, rest), dot(two, rest)


def _with_foot_points(goal: _Goal, w: Floats, handles: Floats) -> tuple[Floats, Floats]:
    """Return the parameters moved, by one Newton step, to the points of the cubics nearest the goal's points.

    Also returned: how far the goal's points lie across from where the parameters were.
    """
    point, velocity, acceleration = _cubic(goal, w, handles)
    apart = point - goal.point
    slope = (velocity.conj() * apart).real
    bend = abs(velocity) ** 2 + (acceleration.conj() * apart).real
    bend = np.where(bend > 0, bend, abs(velocity) ** 2 + MIN_CHORD_MM**2)
    moved = np.clip(w - slope / bend, 0, 1)
    moved[:, 0], moved[:, -1] = 0, 1
    return np.maximum.accumulate(moved, axis=1), np.abs((apart * goal.tangent.conj()).imag)


def _off(table: SegmentTable, rows: Ints, goal: _Goal, w: Floats, handles: Floats, distance_mm: float) -> Floats:
    """Return how far each cubic lies from the exact parallel: its distance to the source less that of the parallel.

    The foot points on the source are found by Newton from where the fit places them.
    """
    at = np.linspace(0, 1, _DENSE)
    point = _cubic(goal, np.tile(at, (len(rows), 1)), handles)[0]
    t = np.stack([np.interp(at, wk, tk) for wk, tk in zip(w, goal.t, strict=True)])
    low, high, wide = goal.t[:, :1], goal.t[:, -1:], _wide(rows, t)
    for _ in range(4):
        apart, velocity = table.point(wide, t) - point, table.velocity(wide, t)
        slope = (velocity.conj() * apart).real
        bend = abs(velocity) ** 2 + (table.acceleration(wide, t).conj() * apart).real
        bend = np.maximum(bend, 1e-3 * abs(velocity) ** 2 + MIN_CHORD_MM**2)
        t = np.clip(t - slope / bend, low, high)
    return np.asarray(np.abs(abs(table.point(wide, t) - point) - abs(distance_mm)).max(axis=1))


def _cubic(goal: _Goal, w: Floats, handles: Floats) -> tuple[Complexes, Complexes, Complexes]:
    """Return points, velocities and accelerations of the cubics at the parameters ``w``."""
    p0, p3 = goal.point[:, :1], goal.point[:, -1:]
    p1, p2 = p0 + goal.tangent[:, :1] * handles[0][:, None], p3 - goal.tangent[:, -1:] * handles[1][:, None]
    b0, b1, b2, b3 = _bernstein(w)
    v = 1 - w
    velocity = 3 * (v * v * (p1 - p0) + 2 * v * w * (p2 - p1) + w * w * (p3 - p2))
    acceleration = 6 * (v * (p0 - 2 * p1 + p2) + w * (p1 - 2 * p2 + p3))
    return p0 * b0 + p1 * b1 + p2 * b2 + p3 * b3, velocity, acceleration


def _bernstein(w: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Return the Bernstein polynomials of degree 3."""
    v = 1 - w
    return v**3, 3 * v * v * w, 3 * v * w * w, w**3


def _parallel(table: SegmentTable, rows: Ints, t: Floats, distance_mm: float) -> tuple[Complexes, Complexes]:
    """Return points of the parallels at t, and the unit tangents there."""
    wide = _wide(rows, t)
    velocity = table.velocity(wide, t)
    speed = abs(velocity)
    # Where a handle lies on its end the velocity is 0 there; the tangent is that of a place close by.
    still = speed <= MIN_CHORD_MM
    if still.any():
        nearby = np.clip(t, t.min(axis=1, keepdims=True) + 1e-6, t.max(axis=1, keepdims=True) - 1e-6)
        velocity = np.where(still, table.velocity(wide, nearby), velocity)
        speed = abs(velocity)
    tangent = velocity / np.maximum(speed, 1e-300)
    return table.point(wide, t) - 1j * distance_mm * tangent, tangent


def _factor(table: SegmentTable, rows: Ints, t: Floats, distance_mm: float) -> Floats:
    """Return the speed factor 1 + d k of the parallels."""
    wide = _wide(rows, t)
    velocity = table.velocity(wide, t)
    cross = (velocity.conj() * table.acceleration(wide, t)).imag
    return np.asarray(1 + distance_mm * cross / np.maximum(abs(velocity) ** 3, 1e-300))


def _wide(rows: Ints, t: Floats) -> Ints:
    """Return the row numbers repeated to the shape of ``t``."""
    return np.broadcast_to(rows[:, None], t.shape)
