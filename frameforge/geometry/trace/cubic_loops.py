"""Where cubics cross themselves."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.segment_table import CUBIC, Floats, Ints, SegmentTable

__all__ = ["self_crossings"]


def self_crossings(table: SegmentTable) -> tuple[Ints, Floats, Floats]:
    """Return the row of each cubic that crosses itself within [0, 1], and both t of the crossing, the smaller first.

    Derivation: with P = a t^3 + b t^2 + c t + d, (P(t) - P(s)) / (t - s) = a (u^2 - v) + b u + c for u = t + s and
    v = t s. Its part across a gives u = -(a x c) / (a x b); its part along a then gives v; t and s are the roots of
    x^2 - u x + v. A cubic has one such crossing at most; with equal roots it has a cusp.
    """
    row = np.flatnonzero(table.kind == CUBIC)
    p0, p1, p2, p3 = table.start[row], table.k1[row], table.k2[row], table.end[row]
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0)
    across_b, across_c = (a.conj() * b).imag, (a.conj() * c).imag
    bends = across_b != 0
    u = -across_c / np.where(bends, across_b, 1.0)
    v = u * u + ((a.conj() * b).real * u + (a.conj() * c).real) / np.where(bends, abs(a) ** 2, 1.0)
    spread = u * u - 4 * v
    root = np.sqrt(np.maximum(spread, 0))
    low, high = (u - root) / 2, (u + root) / 2
    is_inside = bends & (spread > 0) & (low > 0) & (high < 1)
    return row[is_inside], low[is_inside], high[is_inside]
