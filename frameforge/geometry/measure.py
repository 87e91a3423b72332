"""Area, length, bounds and centroid, taken from the segments themselves and not from chords.

Area and centroid by Green's theorem in closed form: what lies between a segment and its chord, plus the polygon of
the chords. For lines that bulge is nothing; for arcs it is the affine image of a circular segment; for cubics it is
a polynomial of the control points.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import numpy as np

from frameforge.geometry.box import Box
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.quadrature import arc_lengths, cubic_lengths
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import ARC, CUBIC, Bools, Complexes, Floats, Ints, SegmentTable

__all__ = ["Shape", "area_mm2", "bounds", "centroid", "length_mm", "lengths_mm", "outline_sizes", "ring_areas_mm2"]

Shape = Segment | Outline | Region | Iterable[Segment | Outline | Region]
"""What can be measured: a segment, an outline, a region, or several of them."""


def area_mm2(shape: Shape) -> float:
    """Return the signed area in mm2: counter-clockwise counts positive, clockwise negative (y up).

    The holes of a region run clockwise, so a region's area is that of its card. For a lone segment or an open chain
    it is the area swept by the ray from the origin. Accuracy: rounding only.
    """
    table, origin = _measured(shape)
    chords, bulges = _areas(table, origin)
    return float(np.sum(chords) + np.sum(bulges))


def ring_areas_mm2(table: SegmentTable, first: Ints) -> Floats:
    """Return the signed area in mm2 of closed rings of segments; ring k is the rows first[k] .. first[k + 1] - 1."""
    origin = np.repeat(table.start[first[:-1]], np.diff(first))
    chords, bulges = _areas(table, origin)
    return np.asarray(np.add.reduceat(chords + bulges, first[:-1]), dtype=np.float64)


def centroid(shape: Outline | Region | Iterable[Outline | Region]) -> complex:
    """Return the centre of gravity of the area within. Raises ValueError when there is no area."""
    table, origin = _measured(shape)
    chords, bulges = _areas(table, origin)
    area = float(np.sum(chords) + np.sum(bulges))
    if area == 0:
        raise ValueError("a shape without area has no centroid")
    return complex(_first_moment(table, origin, chords, bulges) / area + origin)


def length_mm(shape: Shape) -> float:
    """Return the length in mm of all segments together; 1e-10 relative for cubics and elliptical arcs."""
    return float(_lengths(_table(shape)[0]).sum())


def lengths_mm(segments: Sequence[Segment]) -> Floats:
    """Return the length in mm of every segment; 1e-10 relative for cubics and elliptical arcs."""
    return _lengths(SegmentTable.from_segments(segments))


def outline_sizes(outlines: Sequence[Outline]) -> tuple[Floats, Floats]:
    """Return the signed area in mm2 and the length in mm of every outline."""
    if not outlines:
        return np.zeros(0), np.zeros(0)
    table = SegmentTable.from_segments([segment for outline in outlines for segment in outline.segments])
    first = np.concatenate([[0], np.cumsum([len(outline.segments) for outline in outlines])]).astype(np.intp)
    return ring_areas_mm2(table, first), np.asarray(np.add.reduceat(_lengths(table), first[:-1]))


def _lengths(table: SegmentTable) -> Floats:
    lengths: Floats = np.abs(table.end - table.start)
    arcs, cubics = np.flatnonzero(table.kind == ARC), np.flatnonzero(table.kind == CUBIC)
    if len(arcs):
        lengths[arcs] = arc_lengths(
            table.k2[arcs], table.k3[arcs], np.column_stack((table.q0[arcs], table.sweep[arcs]))
        )
    if len(cubics):
        points = (table.start, table.k1, table.k2, table.end)
        lengths[cubics] = cubic_lengths(np.column_stack([point[cubics] for point in points]))
    return lengths


def bounds(shape: Shape) -> Box:
    """Return the upright box of the curves (mm), from the roots of the derivative. Raises ValueError when empty."""
    table = _table(shape)[0]
    if not len(table):
        raise ValueError("an empty shape has no bounds")
    for known, box in _BOXES:
        if known is table:
            return box
    ends = np.concatenate((table.start, table.end))
    xs = np.concatenate((ends.real, *_extremes(table, real=True)))
    ys = np.concatenate((ends.imag, *_extremes(table, real=False)))
    box = Box(float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max()))
    if any(table is known for _, known in _LAST):
        _BOXES.append((table, box))
    return box


def _segments(shape: Shape) -> Iterator[Segment]:
    """Yield every segment of the shape."""
    if isinstance(shape, Segment):
        yield shape
    elif isinstance(shape, Outline):
        yield from shape.segments
    elif isinstance(shape, Region):
        for outline in shape.outlines:
            yield from outline.segments
    else:
        for part in shape:
            yield from _segments(part)


def _measured(shape: Shape) -> tuple[SegmentTable, complex]:
    """Return the segments and the point that areas are taken about.

    For closed outlines any point gives the same area; a joint of theirs keeps the numbers small.
    """
    table, is_closed = _table(shape)
    return table, complex(table.start[0]) if is_closed and len(table) else 0j


_LAST: Final[deque[tuple[Region, SegmentTable]]] = deque(maxlen=4)
"""The regions that were measured last: one and the same is asked for its area, its box and its length."""

_BOXES: Final[deque[tuple[SegmentTable, Box]]] = deque(maxlen=4)
"""The boxes of the regions that were measured last, by their segments."""


def _table(shape: Shape) -> tuple[SegmentTable, bool]:
    """Return the segments of a shape, and whether it is of closed outlines alone."""
    if not isinstance(shape, Segment | Outline | Region):
        shape = tuple(shape)
        if len(shape) != 1:
            is_closed = all(not isinstance(part, Segment) for part in shape)
            return SegmentTable.from_segments(tuple(_segments(shape))), is_closed
        shape = shape[0]
    if not isinstance(shape, Region):
        return SegmentTable.from_segments(tuple(_segments(shape))), not isinstance(shape, Segment)
    for region, known in _LAST:
        if region is shape:
            return known, True
    table = SegmentTable.from_segments(tuple(_segments(shape)))
    _LAST.append((shape, table))
    return table, True


def _cross(a: Complexes, b: Complexes) -> Floats:
    """Return the cross products: the imaginary part of conj(a) b."""
    return np.asarray(a.real * b.imag - a.imag * b.real, dtype=np.float64)


def _areas(table: SegmentTable, origin: complex | Complexes) -> tuple[Floats, Floats]:
    """Return the areas under all chords, and those between curve and chord.

    Arc: the affine map (1, i) -> (u, v) takes a circular segment of sweep w to it, so (u x v) (w - sin w) / 2.
    Cubic: with a, b, c the control points seen from the start, 1/2 integral of P x P' dt over products of Bernstein
    polynomials is 3/20 (a x b + a x c + 2 b x c).
    """
    chords = _cross(table.start - origin, table.end - origin) / 2
    arcs = _cross(table.k2, table.k3) * (table.sweep - np.sin(table.sweep)) / 2
    a, b, c = (point - table.start for point in (table.k1, table.k2, table.end))
    cubics = 0.15 * (_cross(a, b) + _cross(a, c) + 2 * _cross(b, c))
    return chords, np.where(table.kind == ARC, arcs, np.where(table.kind == CUBIC, cubics, 0.0))


# Five Gauss-Legendre nodes integrate polynomials to degree 9 exactly; the moment of a cubic has degree 8.
_X, _W = np.polynomial.legendre.leggauss(5)
_NODES, _WEIGHTS = (_X + 1) / 2, _W / 2


def _first_moment(table: SegmentTable, origin: complex, chords: Floats, bulges: Floats) -> complex:
    """Return the integral of z - origin over the area.

    A triangle from the origin over a chord has its centre at a third of the sum of its corners. A circular segment
    of the unit circle has the moment 2/3 sin^3(w/2) along its middle; the affine map carries it over. For a cubic,
    seen from its start, the moment is 1/3 of the integral of P (P x P') dt.
    """
    total = np.sum(chords * (table.start + table.end - 2 * origin) / 3)
    rows = table.kind == ARC
    u, v, half = table.k2[rows], table.k3[rows], table.sweep[rows] / 2
    middle = table.q0[rows] + half
    along = 2 / 3 * np.sin(half) ** 3 * (u * np.cos(middle) + v * np.sin(middle))
    total += np.sum(bulges[rows] * (table.k1[rows] - origin) + _cross(u, v) * along)
    rows = table.kind == CUBIC
    start = table.start[rows]
    total += np.sum(_cubic_moments(table.k1[rows] - start, table.k2[rows] - start, table.end[rows] - start))
    return complex(total + np.sum(bulges[rows] * (start - origin)))


def _cubic_moments(a: Complexes, b: Complexes, c: Complexes) -> Complexes:
    """Return the integrals of z over what lies between each cubic and its chord; z, a, b, c as seen from its start."""
    a, b, c = a[:, None], b[:, None], c[:, None]
    t, s = _NODES, 1 - _NODES
    point = 3 * s * s * t * a + 3 * s * t * t * b + t**3 * c
    velocity = 3 * (s * s * a + 2 * s * t * (b - a) + t * t * (c - b))
    return np.asarray((point * _cross(point, velocity)) @ _WEIGHTS / 3, dtype=np.complex128)


def _extremes(table: SegmentTable, *, real: bool) -> tuple[Floats, Floats]:
    """Return the coordinates where arcs and cubics turn back inside the segment, x or y."""

    def part(points: Complexes, rows: Bools) -> Floats:
        return points[rows].real if real else points[rows].imag

    arcs, cubics = table.kind == ARC, table.kind == CUBIC
    angles = table.q0[arcs], table.sweep[arcs]
    corners = [part(points, cubics) for points in (table.start, table.k1, table.k2, table.end)]
    center, u, v = (part(points, arcs) for points in (table.k1, table.k2, table.k3))
    return _arc_extremes(center, u, v, *angles), _cubic_extremes(np.column_stack(corners))


def _arc_extremes(center: Floats, u: Floats, v: Floats, start: Floats, sweep: Floats) -> Floats:
    """Return center +- hypot(u, v) where that angle lies within the sweep."""
    reach = np.hypot(u, v)
    low = np.minimum(start, start + sweep)
    found = []
    for turn, sign in ((0.0, 1.0), (np.pi, -1.0)):
        behind = np.mod(np.arctan2(v, u) + turn - low, 2 * np.pi)
        inside = behind <= np.abs(sweep)
        found.append(center[inside] + sign * reach[inside])
    return np.concatenate(found)


def _cubic_extremes(p: Floats) -> Floats:
    """Return the values at the roots in 0..1 of the derivative of cubics, rows of four coordinates.

    The derivative is 3 (a t^2 + 2 b t + c); the roots are q/a and c/q with q = -(b + sign(b) sqrt(b^2 - ac)), which
    loses no digits (Press et al., Numerical Recipes, 3rd ed., section 5.6).
    """
    c = p[:, 1] - p[:, 0]
    b = p[:, 2] - p[:, 1] - c
    a = p[:, 3] - 3 * p[:, 2] + 3 * p[:, 1] - p[:, 0]
    q = -(b + np.copysign(np.sqrt(np.maximum(b * b - a * c, 0)), b))
    with np.errstate(divide="ignore", invalid="ignore"):
        roots = np.stack((q / a, c / q), axis=1)
    rows, _ = np.nonzero(inside := (roots > 0) & (roots < 1))
    t, s = roots[inside], 1 - roots[inside]
    p = p[rows]
    return np.asarray(
        s**3 * p[:, 0] + 3 * s * s * t * p[:, 1] + 3 * s * t * t * p[:, 2] + t**3 * p[:, 3], dtype=np.float64
    )
