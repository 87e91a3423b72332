"""Lengths of cubics and elliptical arcs: adaptive Gauss-Legendre quadrature of the speed."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from frameforge.geometry.segment_table import Complexes, Floats
from frameforge.tolerances import LENGTH_PART

__all__ = ["arc_lengths", "cubic_lengths"]

# Nodes and weights on 0..1. Golub & Welsch, Calculation of Gauss quadrature rules, Math. Comp. 23 (1969); numpy's own.
_X, _W = np.polynomial.legendre.leggauss(12)
_NODES, _WEIGHTS = (_X + 1) / 2, _W / 2

# The halves, which are kept, are better than the whole by about 2^24 where the speed is smooth and by 4 at a point
# without speed; there twenty halvings reach LENGTH_PART.
_HALVINGS = 30

Rows = npt.NDArray[np.intp]
Speed = Callable[[Rows, Floats], Floats]


def cubic_lengths(cubics: Complexes) -> Floats:
    """Return the lengths in mm of cubics, rows of four control points (n, 4); 1e-10 relative, cusps included."""
    d = 3 * np.diff(cubics, axis=1)

    def speed(rows: Rows, t: Floats) -> Floats:
        s = 1 - t
        d0, d1, d2 = (d[rows, i, None] for i in range(3))
        return np.asarray(np.abs(s * s * d0 + 2 * s * t * d1 + t * t * d2), dtype=np.float64)

    return _integrals(speed, np.abs(d).sum(axis=1) / 3)


def arc_lengths(u: Complexes, v: Complexes, angles: Floats) -> Floats:
    """Return the lengths in mm of arcs with half-axes ``u`` and ``v``; 1e-10 relative, flat ellipses included.

    ``angles``: start and sweep of each arc in rad. Circular arcs give radius times sweep.
    """
    start, sweep = angles[:, 0], angles[:, 1]
    lengths = np.abs(u) * np.abs(sweep)
    round_ = np.minimum(np.abs(u * 1j - v), np.abs(u * 1j + v)) <= 1e-12 * np.abs(u)
    if round_.all():
        return lengths
    oval = np.flatnonzero(~round_)
    uo, vo, so, wo = u[oval], v[oval], start[oval], sweep[oval]

    def speed(rows: Rows, t: Floats) -> Floats:
        q = so[rows, None] + t * wo[rows, None]
        velocity = vo[rows, None] * np.cos(q) - uo[rows, None] * np.sin(q)
        return np.asarray(np.abs(wo[rows, None] * velocity), dtype=np.float64)

    lengths[oval] = _integrals(speed, (np.abs(uo) + np.abs(vo)) * np.abs(wo))
    return lengths


def _integrals(speed: Speed, scale: Floats) -> Floats:
    """Return the integral of ``speed(rows, t)`` over t = 0..1 for every row, halving where it has not settled."""
    total = np.zeros(len(scale))
    rows = np.arange(len(scale))
    left, width = np.zeros(len(scale)), np.ones(len(scale))
    whole = _rule(speed, rows, left, width)
    for halving in range(_HALVINGS):
        half = width / 2
        first, second = _rule(speed, rows, left, half), _rule(speed, rows, left + half, half)
        again = np.abs(first + second - whole) > LENGTH_PART * scale[rows]
        done = ~again if halving < _HALVINGS - 1 else np.ones_like(again)
        np.add.at(total, rows[done], (first + second)[done])
        rows, left, half = rows[again], left[again], half[again]
        if not len(rows):
            break
        left, width = np.concatenate((left, left + half)), np.concatenate((half, half))
        rows, whole = np.concatenate((rows, rows)), np.concatenate((first[again], second[again]))
    return total


def _rule(speed: Speed, rows: Rows, left: Floats, width: Floats) -> Floats:
    """Return the 12-point Gauss-Legendre value over left..left + width for every row."""
    values = speed(rows, left[:, None] + width[:, None] * _NODES)
    return np.asarray(width * (values @ _WEIGHTS), dtype=np.float64)
