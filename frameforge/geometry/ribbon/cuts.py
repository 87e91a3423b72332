"""Where curves are cut before their parallels are fitted: inverted stretches apart, no stretch too long."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from frameforge.geometry.ribbon.fit import Stretch
from frameforge.geometry.segment_table import Floats, Ints, SegmentTable
from frameforge.tolerances import SAME_T, SMOOTH_MM

__all__ = ["cut_stretches"]

_GRID = 129
_BISECTIONS = 45
_TURN_RAD = math.pi / 2
# A cut that only shares out the turning is left out where another cut is nearer than this.
_APART = 0.02
# Beside a cusp the fit is this much nearer than the cusps lie to each other.
_NEARER = 10


def cut_stretches(table: SegmentTable, distance_mm: float, fit_mm: float) -> list[list[Stretch]]:
    """Return for every curve of the table the stretches into which it is cut; inverted ones have a fit of 0.

    Cuts: where the speed factor 1 + d k changes its sign, and so that no part turns by more than 90 degrees.
    """
    t = np.linspace(0, 1, _GRID)
    rows = np.broadcast_to(np.arange(len(table))[:, None], (len(table), _GRID))
    grid = np.broadcast_to(t, rows.shape)
    velocity = table.velocity(rows, grid)
    factor = _signed_factor(table, rows, grid, distance_mm)
    turns = np.abs(np.angle(velocity[:, 1:] * velocity[:, :-1].conj()))
    turned = np.concatenate([np.zeros((len(table), 1)), np.cumsum(turns, axis=1)], axis=1)
    result = []
    for row in range(len(table)):
        roots = [_root(table, row, t[k], t[k + 1], distance_mm) for k in _sign_changes(factor[row])]
        cuts = _spread([0.0, *roots, 1.0], SAME_T)
        parts = _parted(table, row, cuts, distance_mm)
        count = max(1, math.ceil(turned[row, -1] / _TURN_RAD - 1e-6))
        even = np.interp(np.arange(1, count) * (turned[row, -1] / count), turned[row], t).tolist()
        result.append(
            [piece for part in _told_apart(table, row, parts, distance_mm, fit_mm) for piece in _cut(part, even)]
        )
    return result


def _spread(cuts: list[float], apart: float) -> list[float]:
    """Return the cuts without those that lie nearer than ``apart`` to the one before, the ends kept."""
    kept = [cuts[0]]
    for cut in cuts[1:-1]:
        if cut - kept[-1] > apart and cuts[-1] - cut > apart:
            kept.append(cut)
    return [*kept, cuts[-1]]


def _cut(part: Stretch, even: list[float]) -> list[Stretch]:
    """Return the stretch cut at those places that lie well inside it; inverted ones stay whole."""
    if part.fit_mm == 0:
        return [part]
    inner = [cut for cut in even if part.t0 < cut < part.t1]
    cuts = _spread([part.t0, *inner, part.t1], _APART)
    return [Stretch(part.row, t0, t1, part.fit_mm) for t0, t1 in pairwise(cuts)]


def _parted(table: SegmentTable, row: int, cuts: list[float], distance_mm: float) -> list[tuple[float, float, bool]]:
    """Return the parts between the cuts; the speed factor in the middle tells which are inverted."""
    middle = np.array([(t0 + t1) / 2 for t0, t1 in pairwise(cuts)])
    factor = _signed_factor(table, np.full(len(middle), row), middle, distance_mm)
    return [(t0, t1, bool(f <= 0)) for (t0, t1), f in zip(pairwise(cuts), factor, strict=True)]


def _told_apart(
    table: SegmentTable, row: int, parts: list[tuple[float, float, bool]], distance_mm: float, fit_mm: float
) -> list[Stretch]:
    """Return the parts as stretches, each fitted near enough for the crossings at its ends to exist.

    At both ends of an inverted part the parallel has a cusp, and its branches cross just before. The fitted ones need
    not, unless they lie nearer to the exact ones than the cusps lie to each other. Where an inverted part is smaller
    than SMOOTH_MM it is passed over, as part of its neighbour.
    """
    sizes = [_size(table, row, part, distance_mm) if part[2] else math.inf for part in parts]
    kept: list[list[float]] = []
    fits: list[float] = []
    for k, (t0, t1, inverted) in enumerate(parts):
        if inverted and sizes[k] > SMOOTH_MM:
            kept.append([t0, t1])
            fits.append(0.0)
            continue
        beside = min(
            (sizes[i] for i in (k - 1, k + 1) if 0 <= i < len(parts) and sizes[i] > SMOOTH_MM), default=math.inf
        )
        near = min(fit_mm, beside / _NEARER)
        if kept and fits[-1] > 0:
            kept[-1][1], fits[-1] = t1, min(fits[-1], near)
        else:
            kept.append([t0, t1])
            fits.append(near)
    return [Stretch(row, t0, t1, fit) for (t0, t1), fit in zip(kept, fits, strict=True)]


def _size(table: SegmentTable, row: int, part: tuple[float, float, bool], distance_mm: float) -> float:
    """Return how far the exact parallel of a part strays from where it starts, mm."""
    t = np.linspace(part[0], part[1], 9)
    rows = np.full(len(t), row)
    velocity = table.velocity(rows, t)
    point = table.point(rows, t) - 1j * distance_mm * velocity / np.maximum(abs(velocity), 1e-300)
    return float(abs(point - point[0]).max())


def _sign_changes(factor: Floats) -> list[int]:
    """Return the grid steps over which the speed factor changes its sign."""
    return np.flatnonzero((factor[1:] > 0) != (factor[:-1] > 0)).tolist()


def _root(table: SegmentTable, row: int, low: float, high: float, distance_mm: float) -> float:
    """Return where the speed factor passes 0 between ``low`` and ``high``, by bisection."""
    one = np.array([row])
    is_positive = _signed_factor(table, one, np.array([low]), distance_mm)[0] > 0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        if (_signed_factor(table, one, np.array([middle]), distance_mm)[0] > 0) == is_positive:
            low = middle
        else:
            high = middle
    return float(low)


def _signed_factor(table: SegmentTable, rows: Ints, t: Floats, distance_mm: float) -> Floats:
    """Return |P'|^3 (1 + d k): the speed factor times what is never negative, so that no place divides by 0."""
    velocity, acceleration = table.velocity(rows, t), table.acceleration(rows, t)
    return np.asarray(abs(velocity) ** 3 + distance_mm * (velocity.conj() * acceleration).imag)
