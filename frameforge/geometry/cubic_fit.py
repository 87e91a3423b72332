"""Cubics fitted to smooth curves, many at once: ends and tangents are kept, few cubics are used.

One cubic that keeps the ends and the tangents of a curve has only the lengths of its two handles free. They are found
by least squares on points at equal length of the curve (J. Hoschek, Spline approximation of offset curves, Computer
Aided Geometric Design 5 (1988)), the parameters being corrected by foot points between the rounds (Hoschek, Intrinsic
parametrization for approximation, CAGD 5 (1988)).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np

from frameforge.geometry.segment_table import Complexes, Floats, Ints
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Curves", "Span", "Stretch", "fit_curves", "wide_rows"]

_POINTS = 33
_DENSE = 65
_VECTOR_ROUNDS = 3
_NORMAL_ROUNDS = 5
# Rounds that weight each residual by its size, so that the greatest becomes least (C. L. Lawson, 1961).
_EVEN_ROUNDS = 5
_BALANCES = 4
_MOST_SPANS = 24
# No handle is shorter than this part of the curve.
_LEAST_HANDLE = 1e-3
# So little of the vector residual is kept among the normal ones that a straight curve has handles at all.
_RIDGE = 1e-12


class Curves(Protocol):
    """Smooth curves, one row a curve, each with a parameter t; ``rows`` and ``t`` are arrays of one shape."""

    def speed(self, rows: Ints, t: Floats) -> Floats:
        """Return the length passed per t, mm."""

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points (mm) and unit tangents."""

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        """Return how far ``points`` lie from the curves between the ``ends`` in t; ``t`` is near the foot of each."""


class Stretch(NamedTuple):
    """A part of a curve to fit: its row, from which to which t, and how near (mm) the cubics must come."""

    row: int
    t0: float
    t1: float
    fit_mm: float


class Span(NamedTuple):
    """One fitted cubic: over the parameters t0 .. t1 of the curve, with handles ``near_mm`` and ``far_mm`` long."""

    t0: float
    t1: float
    near_mm: float
    far_mm: float


def fit_curves(curves: Curves, stretches: Sequence[Stretch]) -> list[tuple[Span, ...]]:
    """Return the spans of every stretch, in order, as few as found; the distance is measured at 65 points of each."""
    jobs = [_Job(stretch, [stretch.t0, stretch.t1]) for stretch in stretches]
    while pending := [job for job in jobs if not job.spans]:
        rows = np.concatenate([np.full(len(job.cuts) - 1, job.stretch.row) for job in pending])
        low = np.concatenate([job.cuts[:-1] for job in pending])
        high = np.concatenate([job.cuts[1:] for job in pending])
        near, far, off = _fitted(curves, rows, low, high)
        first = 0
        for job in pending:
            part = slice(first, first + len(job.cuts) - 1)
            first = part.stop
            job.settle(near[part].tolist(), far[part].tolist(), off[part])
    return [job.spans for job in jobs]


def wide_rows(rows: Ints, t: Floats) -> Ints:
    """Return one row number a line of ``t`` repeated to the shape of ``t``."""
    return np.broadcast_to(rows[:, None], t.shape)


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
    """What is fitted: points of curves at equal lengths along them, one row a cubic."""

    t: Floats
    point: Complexes
    tangent: Complexes

    @classmethod
    def from_curves(cls, curves: Curves, rows: Ints, low: Floats, high: Floats) -> _Goal:
        dense = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, _DENSE)
        speed = curves.speed(wide_rows(rows, dense), dense)
        length = np.zeros_like(dense)
        length[:, 1:] = np.cumsum((speed[:, 1:] + speed[:, :-1]) / 2, axis=1)
        steps = np.linspace(0, 1, _POINTS)
        pairs = zip(length, dense, strict=True)
        t = np.stack([np.interp(steps * s[-1], s, x) if s[-1] > 0 else x[::2] for s, x in pairs])
        t[:, 0], t[:, -1] = low, high
        point, tangent = curves.place(wide_rows(rows, t), t)
        return cls(t, point, tangent)


def _fitted(curves: Curves, rows: Ints, low: Floats, high: Floats) -> tuple[Floats, Floats, Floats]:
    """Return both handle lengths and the greatest distance from the curve (mm) for each part of a curve."""
    goal = _Goal.from_curves(curves, rows, low, high)
    size = np.abs(np.diff(goal.point, axis=1)).sum(axis=1)
    w = np.tile(np.linspace(0, 1, _POINTS), (len(rows), 1))
    weights, best, least = np.ones_like(w), np.zeros((2, len(rows))), np.full(len(rows), np.inf)
    for number in range(_VECTOR_ROUNDS + _NORMAL_ROUNDS + _EVEN_ROUNDS):
        handles = _least_squares(goal, w, size, weights if number >= _VECTOR_ROUNDS else None)
        w, residual = _with_foot_points(goal, w, handles)
        worst = residual.max(axis=1)
        if number == _VECTOR_ROUNDS - 1:
            plain, plainly = handles, worst
        if number < _VECTOR_ROUNDS + _NORMAL_ROUNDS - 1:
            continue
        best, least = np.where(worst < least, handles, best), np.minimum(worst, least)
        weights = weights * residual
        weights = weights / np.maximum(weights.max(axis=1, keepdims=True), 1e-300) + 1e-9
    # Where a curve turns sharply at one end, looking across its tangents alone can leave no handle there.
    lost = (best.min(axis=0) <= 2 * _LEAST_HANDLE * size) & (plainly < least)
    best = np.where(lost, plain, best)
    return best[0], best[1], _off(curves, rows, goal, w, best)


def _least_squares(goal: _Goal, w: Floats, size: Floats, weights: Floats | None) -> Floats:
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
    return np.asarray(np.clip(solved, _LEAST_HANDLE * size, 2 * size), dtype=np.float64)


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
    return np.maximum.accumulate(moved, axis=1), np.abs((apart * goal.tangent.conj()).imag)


def _off(curves: Curves, rows: Ints, goal: _Goal, w: Floats, handles: Floats) -> Floats:
    """Return how far each cubic lies from its curve; feet on the curve are sought from where the fit places them."""
    at = np.linspace(0, 1, _DENSE)
    point = _cubic(goal, np.tile(at, (len(rows), 1)), handles)[0]
    t = np.stack([np.interp(at, wk, tk) for wk, tk in zip(w, goal.t, strict=True)])
    off = curves.off_mm(wide_rows(rows, t), t, (goal.t[:, :1], goal.t[:, -1:]), point)
    return np.asarray(off.max(axis=1))


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
