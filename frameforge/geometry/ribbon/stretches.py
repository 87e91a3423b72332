"""Outlines cut into parts that have a parallel curve and parts that have none."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.congruence import Shape, shape_of
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.quarters import quarters
from frameforge.geometry.ribbon.corners import Join
from frameforge.geometry.ribbon.fit import Span, Stretch, fit_parallels
from frameforge.geometry.segment_table import Floats, Ints, SegmentTable
from frameforge.tolerances import MIN_CHORD_MM, SAME_SHAPE_MM, SAME_T, SMALLEST_ARC_MM, SMOOTH_MM

__all__ = ["Part", "parts_of"]

_GRID = 129
_BISECTIONS = 45
_TURN_RAD = math.pi / 2
# A cut that only shares out the turning is left out where another cut is nearer than this.
_APART = 0.02
# Where the speed falls below this part of its greatest, a cubic has a cusp or nearly so.
_NEARLY_STILL = 0.02
# Beside a cusp the fit is this much nearer than the cusps lie to each other.
_NEARER = 10


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a source segment, ``source`` over t0 .. t1, and its parallel: None where it is **inverted**.

    Inverted means that the parallel runs against the source there: nothing of it bounds a parallel outline.
    ``is_fitted`` tells a fitted parallel from an exact one. ``start_way`` and ``end_way`` are the unit tangents of
    the source at both ends. ``cap`` is what closes a line that ends here; None: the usual corner follows.
    """

    source: Segment
    t0: float
    t1: float
    parallel: Segment | None
    is_fitted: bool
    start_way: complex
    end_way: complex
    cap: Join | None = None


def parts_of(outlines: Sequence[Iterable[Segment]], distance_mm: float, fit_mm: float) -> tuple[list[list[Part]], int]:
    """Return the parts of every outline in order, and how many cubics were fitted for them.

    ``distance_mm`` counts to the right of the segments. Segments without length are left out. Copies of one curve
    are fitted once, so the count depends on the number of different curves only.
    """
    cut = [[piece for segment in outline for piece in _whole_curves(segment)] for outline in outlines]
    shapes = [[_shape(piece) for piece in outline] for outline in cut]
    plans = _plans([shape for outline in shapes for shape in outline if shape is not None], distance_mm, fit_mm)
    fitted = sum(span.near_mm > 0 for spans in plans.values() for span in spans)
    parts = [
        [part for piece, shape in zip(*pair, strict=True) for part in _parts(piece, shape, distance_mm, plans)]
        for pair in zip(cut, shapes, strict=True)
    ]
    return parts, fitted


def _whole_curves(segment: Segment) -> list[Segment]:
    """Return the segment without what has no length, ellipses cut at the ends of their axes, circles in quarters."""
    if isinstance(segment, Line):
        return [segment] if abs(segment.end - segment.start) > MIN_CHORD_MM else []
    if isinstance(segment, Arc):
        if not segment.is_circular:
            return list(quarters(segment))
        count = math.ceil(abs(segment.sweep_rad) / _TURN_RAD - SAME_T)
        return [segment.piece(k / count, (k + 1) / count) for k in range(count)] if count > 1 else [segment]
    reach = max(abs(p - segment.start) for p in (segment.c1, segment.c2, segment.end))
    if reach <= MIN_CHORD_MM:
        return []
    return [Line(segment.start, segment.end)] if _is_straight(segment) else _at_cusp(segment)


def _at_cusp(cubic: Cubic) -> list[Segment]:
    """Return the cubic, cut where it all but stands still inside: at a cusp its direction jumps.

    P' is a parabola in the plane, so |P'|^2 is a quartic with at most two minima; the least of the grid is refined by
    Newton on P' . P'' = 0.
    """
    t = np.linspace(0, 1, _GRID)[1:-1]
    speed = abs(SegmentTable.from_segments([cubic]).velocity(np.zeros(len(t), dtype=np.intp), t))
    if speed.min() > _NEARLY_STILL * speed.max():
        return [cubic]
    at = float(t[speed.argmin()])
    jerk = 2 * (cubic.acceleration(1) - cubic.acceleration(0))
    for _ in range(8):
        v, a = cubic.velocity(at), cubic.acceleration(at)
        bend = abs(a) ** 2 + (v.conjugate() * jerk / 2).real
        at -= (v.conjugate() * a).real / max(bend, abs(a) ** 2 / 2, 1e-300)
        at = min(max(at, 0.0), 1.0)
    return [cubic.piece(0, at), cubic.piece(at, 1)] if SAME_T < at < 1 - SAME_T else [cubic]


def _is_straight(cubic: Cubic) -> bool:
    """Return whether the cubic runs straight, without turning back, from its start to its end."""
    way = cubic.end - cubic.start
    if abs(way) <= MIN_CHORD_MM:
        return False
    places = [(p - cubic.start) / way for p in (cubic.c1, cubic.c2)]
    return all(abs(z.imag) * abs(way) <= MIN_CHORD_MM and 0 <= z.real <= 1 for z in places)


def _shape(piece: Segment) -> Shape | None:
    """Return the shape of a piece whose parallel must be fitted."""
    if isinstance(piece, Cubic) or (isinstance(piece, Arc) and not piece.is_circular):
        return shape_of(piece, SAME_SHAPE_MM)
    return None


def _parts(
    piece: Segment, shape: Shape | None, distance_mm: float, plans: dict[tuple[float, ...], tuple[Span, ...]]
) -> list[Part]:
    """Return the parts of one piece."""
    if isinstance(piece, Line):
        way = start_direction(piece)
        move = -1j * distance_mm * way
        return [Part(piece, 0.0, 1.0, Line(piece.start + move, piece.end + move), False, way, way)]
    if shape is None:
        assert isinstance(piece, Arc)
        return [_circular_part(piece, distance_mm)]
    spans = plans[shape.numbers]
    if shape.is_turned:
        spans = tuple(Span(1 - s.t1, 1 - s.t0, s.far_mm, s.near_mm) for s in reversed(spans))
    return [_fitted_part(piece, span, distance_mm) for span in spans]


def _circular_part(arc: Arc, distance_mm: float) -> Part:
    """Return the part of a whole circular arc: its parallel has the radius r + d where it turns left, else r - d."""
    ways = start_direction(arc), end_direction(arc)
    radius = abs(arc.u)
    other = radius + distance_mm if arc.turns_left else radius - distance_mm
    if other <= SMALLEST_ARC_MM:
        return Part(arc, 0.0, 1.0, None, False, *ways)
    u, v = arc.u * (other / radius), arc.v * (other / radius)
    parallel = Arc.from_ellipse(arc.center, u, v, arc.start_rad, arc.sweep_rad)
    ends = arc.start - 1j * distance_mm * ways[0], arc.end - 1j * distance_mm * ways[1]
    return Part(arc, 0.0, 1.0, parallel.with_ends(*ends), False, *ways)


def _fitted_part(piece: Segment, span: Span, distance_mm: float) -> Part:
    """Return the part with its cubic placed by the ends and tangents of the piece itself."""
    p0, p1 = piece.point(span.t0), piece.point(span.t1)
    way0, way1 = _way(piece, span.t0), _way(piece, span.t1)
    if span.near_mm == 0:
        return Part(piece, span.t0, span.t1, None, True, way0, way1)
    q0, q1 = p0 - 1j * distance_mm * way0, p1 - 1j * distance_mm * way1
    cubic = Cubic(q0, q0 + span.near_mm * way0, q1 - span.far_mm * way1, q1)
    return Part(piece, span.t0, span.t1, cubic, True, way0, way1)


def _way(piece: Segment, t: float) -> complex:
    """Return the unit tangent at t."""
    if t == 0:
        return start_direction(piece)
    if t == 1:
        return end_direction(piece)
    velocity = piece.velocity(t)
    if abs(velocity) <= MIN_CHORD_MM:
        return start_direction(piece.piece(t, 1.0))
    return velocity / abs(velocity)


def _plans(
    shapes_of_all: Sequence[Shape], distance_mm: float, fit_mm: float
) -> dict[tuple[float, ...], tuple[Span, ...]]:
    """Return the spans of each different shape; inverted ones have handles of length 0."""
    shapes = {shape.numbers: shape for shape in shapes_of_all}
    if not shapes:
        return {}
    table = SegmentTable.from_segments([shape.curve for shape in shapes.values()])
    cuts = _cuts(table, distance_mm, fit_mm)
    fitted = iter(fit_parallels(table, [cut for row in cuts for cut in row if cut.fit_mm > 0], distance_mm))
    plans: dict[tuple[float, ...], tuple[Span, ...]] = {}
    for key, row in zip(shapes, cuts, strict=True):
        spans: list[Span] = []
        for cut in row:
            spans += next(fitted) if cut.fit_mm > 0 else [Span(cut.t0, cut.t1, 0.0, 0.0)]
        plans[key] = tuple(spans)
    return plans


def _cuts(table: SegmentTable, distance_mm: float, fit_mm: float) -> list[list[Stretch]]:
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
    return low


def _signed_factor(table: SegmentTable, rows: Ints, t: Floats, distance_mm: float) -> Floats:
    """Return |P'|^3 (1 + d k): the speed factor times what is never negative, so that no place divides by 0."""
    velocity, acceleration = table.velocity(rows, t), table.acceleration(rows, t)
    return np.asarray(abs(velocity) ** 3 + distance_mm * (velocity.conj() * acceleration).imag)
