"""Outlines cut into parts that have a parallel curve and parts that have none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from frameforge.geometry.arc import Arc
from frameforge.geometry.congruence import Shape, shape_of
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import direction_at, end_direction, start_direction
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.corners import Join
from frameforge.geometry.ribbon.cuts import cut_stretches
from frameforge.geometry.ribbon.fit import Span, fit_parallels
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.whole_curves import whole_curves
from frameforge.tolerances import SAME_SHAPE_MM, SMALLEST_ARC_MM

__all__ = ["Part", "parts_of"]


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
    cut = [[piece for segment in outline for piece in whole_curves(segment)] for outline in outlines]
    shapes = [[_shape(piece) for piece in outline] for outline in cut]
    plans = _plans([shape for outline in shapes for shape in outline if shape is not None], distance_mm, fit_mm)
    fitted = sum(span.near_mm > 0 for spans in plans.values() for span in spans)
    parts = [
        [part for piece, shape in zip(*pair, strict=True) for part in _parts(piece, shape, distance_mm, plans)]
        for pair in zip(cut, shapes, strict=True)
    ]
    return parts, fitted


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
    way0, way1 = direction_at(piece, span.t0), direction_at(piece, span.t1)
    if span.near_mm == 0:
        return Part(piece, span.t0, span.t1, None, True, way0, way1)
    q0, q1 = p0 - 1j * distance_mm * way0, p1 - 1j * distance_mm * way1
    cubic = Cubic(q0, q0 + span.near_mm * way0, q1 - span.far_mm * way1, q1)
    return Part(piece, span.t0, span.t1, cubic, True, way0, way1)


def _plans(
    shapes_of_all: Sequence[Shape], distance_mm: float, fit_mm: float
) -> dict[tuple[float, ...], tuple[Span, ...]]:
    """Return the spans of each different shape; inverted ones have handles of length 0."""
    shapes = {shape.numbers: shape for shape in shapes_of_all}
    if not shapes:
        return {}
    table = SegmentTable.from_segments([shape.curve for shape in shapes.values()])
    cuts = cut_stretches(table, distance_mm, fit_mm)
    fitted = iter(fit_parallels(table, [cut for row in cuts for cut in row if cut.fit_mm > 0], distance_mm))
    plans: dict[tuple[float, ...], tuple[Span, ...]] = {}
    for key, row in zip(shapes, cuts, strict=True):
        spans: list[Span] = []
        for cut in row:
            spans += next(fitted) if cut.fit_mm > 0 else [Span(cut.t0, cut.t1, 0.0, 0.0)]
        plans[key] = tuple(spans)
    return plans
