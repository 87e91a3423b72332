"""Which segments lie on one and the same line, circle, ellipse or cubic: their support."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.segment_table import ARC, CUBIC, LINE, Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.clusters import clusters
from frameforge.tolerances import SUPPORT_MM

__all__ = ["is_after", "support_labels"]

_REACH_MM = 100.0  # lines must agree to SUPPORT_MM this far from the foot of their perpendicular from the origin


def support_labels(table: SegmentTable) -> Ints:
    """Return a label for every segment; equal labels mean one support, to SUPPORT_MM.

    Lines and arcs share a support when they lie on one infinite line, circle or ellipse; cubics only when they are
    the same curve from end to end, in either direction.
    """
    labels = np.zeros(len(table), dtype=np.intp)
    taken = 0
    for kind, columns in ((LINE, _line_columns), (ARC, _arc_columns), (CUBIC, _cubic_columns)):
        rows = np.flatnonzero(table.kind == kind)
        if len(rows):
            labels[rows] = taken + clusters(columns(table.taken(rows)), SUPPORT_MM)
            taken = int(labels[rows].max()) + 1
    return labels


def _parts(*points: Complexes) -> tuple[Floats, ...]:
    """Return real and imaginary parts as columns."""
    return tuple(part for point in points for part in (point.real, point.imag))


def _line_columns(lines: SegmentTable) -> tuple[Floats, ...]:
    """Return the foot of the perpendicular from the origin and the doubled direction: alike for both directions."""
    along = lines.end - lines.start
    direction = along / np.maximum(abs(along), 1e-300)
    foot = 1j * direction * (direction.conj() * lines.start).imag
    return _parts(foot, _REACH_MM * direction * direction)


def _arc_columns(arcs: SegmentTable) -> tuple[Floats, ...]:
    """Return centre, sum of the half-axes, and their difference turned to twice the direction of the long one.

    The difference vanishes for circles, whose direction means nothing; doubling makes half a turn no difference.
    """
    long, short = abs(arcs.k2), abs(arcs.k3)
    turned = (long - short) * (arcs.k2 / np.maximum(long, 1e-300)) ** 2
    return (*_parts(arcs.k1), long + short, *_parts(turned))


def _cubic_columns(cubics: SegmentTable) -> tuple[Floats, ...]:
    """Return the four control points, from the lexicographically smaller end."""
    backwards = is_after(cubics.start, cubics.end)
    closed = cubics.start == cubics.end
    backwards = np.where(closed, is_after(cubics.k1, cubics.k2), backwards)
    first, last = (np.where(backwards, *pair) for pair in ((cubics.end, cubics.start), (cubics.start, cubics.end)))
    near, far = (np.where(backwards, *pair) for pair in ((cubics.k2, cubics.k1), (cubics.k1, cubics.k2)))
    return _parts(first, near, far, last)


def is_after(a: Complexes, b: Complexes) -> Bools:
    """Return whether a comes after b: greater x, or the same x and greater y."""
    return np.asarray((a.real > b.real) | ((a.real == b.real) & (a.imag > b.imag)))
