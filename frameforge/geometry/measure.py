"""Area, length, bounds and centroid, taken from the segments themselves and not from chords.

Area and centroid by Green's theorem in closed form: what lies between a segment and its chord, plus the polygon of
the chords. For lines that bulge is nothing; for arcs it is the affine image of a circular segment; for cubics it is
a polynomial of the control points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from frameforge.geometry.box import Box
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.quadrature import arc_lengths, cubic_lengths
from frameforge.geometry.region import Region
from frameforge.geometry.segment_arrays import Complexes, Floats, SegmentArrays, segment_arrays

__all__ = ["Shape", "area_mm2", "bounds", "centroid", "length_mm"]

Shape = Segment | Outline | Region | Iterable[Segment | Outline | Region]
"""What can be measured: a segment, an outline, a region, or several of them."""


def area_mm2(shape: Shape) -> float:
    """Return the signed area in mm2: counter-clockwise counts positive, clockwise negative (y up).

    The holes of a region run clockwise, so a region's area is that of its card. For a lone segment or an open chain
    it is the area swept by the ray from the origin. Accuracy: rounding only.
    """
    arrays, origin = _measured(shape)
    chords, bulges = _areas(arrays, origin)
    return float(np.sum(chords) + np.sum(bulges))


def centroid(shape: Outline | Region | Iterable[Outline | Region]) -> complex:
    """Return the centre of gravity of the area within. Raises ValueError when there is no area."""
    arrays, origin = _measured(shape)
    chords, bulges = _areas(arrays, origin)
    area = float(np.sum(chords) + np.sum(bulges))
    if area == 0:
        raise ValueError("a shape without area has no centroid")
    return complex(_first_moment(arrays, origin, chords, bulges) / area + origin)


def length_mm(shape: Shape) -> float:
    """Return the length in mm of all segments together; 1e-10 relative for cubics and elliptical arcs."""
    arrays = segment_arrays(_segments(shape))
    lines = np.abs(arrays.lines[:, 1] - arrays.lines[:, 0])
    arcs = arc_lengths(arrays.arcs[:, 3], arrays.arcs[:, 4], arrays.angles) if len(arrays.arcs) else lines[:0]
    cubics = cubic_lengths(arrays.cubics) if len(arrays.cubics) else lines[:0]
    return float(lines.sum() + arcs.sum() + cubics.sum())


def bounds(shape: Shape) -> Box:
    """Return the upright box of the curves (mm), from the roots of the derivative. Raises ValueError when empty."""
    arrays = segment_arrays(_segments(shape))
    ends = np.concatenate((arrays.lines.ravel(), arrays.arcs[:, :2].ravel(), arrays.cubics[:, [0, 3]].ravel()))
    if not len(ends):
        raise ValueError("an empty shape has no bounds")
    xs = np.concatenate((ends.real, *_extremes(arrays, real=True)))
    ys = np.concatenate((ends.imag, *_extremes(arrays, real=False)))
    return Box(float(xs.min()), float(ys.min()), float(xs.max()), float(ys.max()))


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


def _measured(shape: Shape) -> tuple[SegmentArrays, complex]:
    """Return the arrays and the point that areas are taken about.

    For closed outlines any point gives the same area; a joint of theirs keeps the numbers small.
    """
    if not isinstance(shape, Segment | Outline | Region):
        shape = tuple(shape)
        closed = all(not isinstance(part, Segment) for part in shape)
    else:
        closed = not isinstance(shape, Segment)
    segments = tuple(_segments(shape))
    return segment_arrays(segments), segments[0].start if closed and segments else 0j


def _cross(a: Complexes, b: Complexes) -> Floats:
    """Return the cross products: the imaginary part of conj(a) b."""
    return a.real * b.imag - a.imag * b.real


def _chords(arrays: SegmentArrays, origin: complex) -> tuple[Complexes, Complexes]:
    """Return starts and ends of all segments, seen from ``origin``: lines, then arcs, then cubics."""
    starts = np.concatenate((arrays.lines[:, 0], arrays.arcs[:, 0], arrays.cubics[:, 0])) - origin
    ends = np.concatenate((arrays.lines[:, 1], arrays.arcs[:, 1], arrays.cubics[:, 3])) - origin
    return starts, ends


def _areas(arrays: SegmentArrays, origin: complex) -> tuple[Floats, Floats]:
    """Return the areas under all chords, and those between curve and chord of arcs, then cubics.

    Arc: the affine map (1, i) -> (u, v) takes a circular segment of sweep w to it, so (u x v) (w - sin w) / 2.
    Cubic: with a, b, c the control points seen from the start, 1/2 integral of P x P' dt over products of Bernstein
    polynomials is 3/20 (a x b + a x c + 2 b x c).
    """
    chords = _cross(*_chords(arrays, origin)) / 2
    sweep = arrays.angles[:, 1]
    arcs = _cross(arrays.arcs[:, 3], arrays.arcs[:, 4]) * (sweep - np.sin(sweep)) / 2
    a, b, c = (arrays.cubics[:, i] - arrays.cubics[:, 0] for i in (1, 2, 3))
    cubics = 0.15 * (_cross(a, b) + _cross(a, c) + 2 * _cross(b, c))
    return chords, np.concatenate((arcs, cubics))


# Five Gauss-Legendre nodes integrate polynomials to degree 9 exactly; the moment of a cubic has degree 8.
_X, _W = np.polynomial.legendre.leggauss(5)
_NODES, _WEIGHTS = (_X + 1) / 2, _W / 2


def _first_moment(arrays: SegmentArrays, origin: complex, chords: Floats, bulges: Floats) -> complex:
    """Return the integral of z - origin over the area.

    A triangle from the origin over a chord has its centre at a third of the sum of its corners. A circular segment
    of the unit circle has the moment 2/3 sin^3(w/2) along its middle; the affine map carries it over. For a cubic,
    seen from its start, the moment is 1/3 of the integral of P (P x P') dt.
    """
    starts, ends = _chords(arrays, origin)
    total = np.sum(chords * (starts + ends) / 3)
    centers, u, v = arrays.arcs[:, 2] - origin, arrays.arcs[:, 3], arrays.arcs[:, 4]
    half = arrays.angles[:, 1] / 2
    middle = arrays.angles[:, 0] + half
    along = 2 / 3 * np.sin(half) ** 3 * (u * np.cos(middle) + v * np.sin(middle))
    total += np.sum(bulges[: len(half)] * centers + _cross(u, v) * along)
    total += np.sum(_cubic_moments(arrays.cubics) + bulges[len(half) :] * (arrays.cubics[:, 0] - origin))
    return complex(total)


def _cubic_moments(cubics: Complexes) -> Complexes:
    """Return the integrals of z over what lies between each cubic and its chord, z seen from the cubic's start."""
    a, b, c = (cubics[:, i, None] - cubics[:, 0, None] for i in (1, 2, 3))
    t, s = _NODES, 1 - _NODES
    point = 3 * s * s * t * a + 3 * s * t * t * b + t**3 * c
    velocity = 3 * (s * s * a + 2 * s * t * (b - a) + t * t * (c - b))
    return np.asarray((point * _cross(point, velocity)) @ _WEIGHTS / 3, dtype=np.complex128)


def _extremes(arrays: SegmentArrays, *, real: bool) -> tuple[Floats, Floats]:
    """Return the coordinates where arcs and cubics turn back inside the segment, x or y."""
    center, u, v = (arrays.arcs[:, i].real if real else arrays.arcs[:, i].imag for i in (2, 3, 4))
    return _arc_extremes(center, u, v, arrays.angles), _cubic_extremes(
        arrays.cubics.real if real else arrays.cubics.imag
    )


def _arc_extremes(center: Floats, u: Floats, v: Floats, angles: Floats) -> Floats:
    """Return center +- hypot(u, v) where that angle lies within the sweep."""
    reach = np.hypot(u, v)
    start, sweep = angles[:, 0], angles[:, 1]
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
