"""The guide of a piece: its edges, and for every repeat the spoke, the foot marks, its number and the motif's outline.

On a circle spokes run out from the middle. On an oval the line of a repeat is the normal of the edge where it sits,
which does not go through the middle: a spoke would put it askew.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.frame.base import Edge
from frameforge.frame.piece import PlacedMotif
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline, Segment
from frameforge.picture.paper.labels import CLEAR_MM, Label, are_near, label_marks
from frameforge.picture.paper.marks import Marks, Stroke, straight

__all__ = ["GuideRow", "piece_guide"]

_EDGE_MM: Final = 0.35
_OUTLINE_MM: Final = 0.15
_SPOKE_MM: Final = 0.12
_MARK_MM: Final = 0.3
_SPOKE_GREY: Final = 0.45
_MARK_REACH_MM: Final = 2.5
"""How far a foot mark goes to either side of the edge."""
_INWARD_MM: Final = 12.0
"""How far the line of a repeat goes inside an oval edge."""
_CROSS_MM: Final = 4.0
_DASHES_MM: Final = (2.0, 1.2)
_LABEL_MM: Final = 2.5
"""How far the lines of the repeats run past the outermost one."""
_ROW_STEP_MM: Final = 9.0
_RAISE_MM: Final = 1.0
"""Labels of a further row go out by so much at a time until they are clear of the others."""
_STEPS: Final = 12
_PROBES: Final = (0.0, 0.25, 0.5, 0.75)


@dataclass(frozen=True, slots=True)
class GuideRow:
    """A row on the guide: the edge its repeats stand on, the repeats, and whether they are feet without a motif.

    ``told`` says for a repeat what stands below its number: degrees on a circle, mm along the edge on an oval.
    """

    edge: Edge
    repeats: tuple[PlacedMotif, ...]
    is_bare: bool
    told: Callable[[PlacedMotif], str]


def piece_guide(base: Edge, inner: Sequence[Outline], rows: Sequence[GuideRow]) -> Marks:
    """Return the guide of a piece round the point 0; ``inner`` are its opening and its holes."""
    strokes = [Stroke(base.region().outer.segments, _EDGE_MM)]
    strokes += [Stroke(outline.segments, _EDGE_MM) for outline in inner]
    strokes += _centre(base)
    height = max([0.0, *(_reach_mm(base, row) for row in rows)]) + _LABEL_MM
    told: list[_Told] = []
    for number, row in enumerate(rows):
        strokes += _tip_line(row)
        letter = chr(ord("a") + number) if len(rows) > 1 else ""
        told.append(_told(base, row, letter, height, [mark for before in told for mark in before.marks]))
        height = told[-1].height_mm + _ROW_STEP_MM
    boxes = [mark.box for one in told for mark in one.marks]
    for row, one in zip(rows, told, strict=True):
        for repeat, label in zip(row.repeats, one.labels, strict=True):
            strokes += _repeat(base, row, repeat, label.at, boxes)
    whole = Marks(bounds(segment for stroke in strokes for segment in stroke.run), tuple(strokes), ())
    for mark in (mark for one in told for mark in one.marks):
        whole = whole.joined(mark)
    return whole


@dataclass(frozen=True, slots=True)
class _Told:
    """The labels of a row, their marks on paper, and how high over the base its lines end."""

    height_mm: float
    labels: Sequence[Label]
    marks: Sequence[Marks]


def _told(base: Edge, row: GuideRow, letter: str, height: float, before: Sequence[Marks]) -> _Told:
    """Return what is told of a row: from a height on, as low as it keeps clear of what is told of rows before it."""
    ways = [_way_out(row.edge, repeat) for repeat in row.repeats]
    while True:
        labels = [
            Label(
                _out_to(base, repeat.seat.middle, way, height),
                way,
                f"{letter}{repeat.position}",
                row.told(repeat),
                repeat.position,
            )
            for repeat, way in zip(row.repeats, ways, strict=True)
        ]
        marks = tuple(label_marks(labels))
        if not any(are_near(mark.box, other.box) for mark in marks for other in before):
            return _Told(height, labels, marks)
        height += _RAISE_MM


def _centre(base: Edge) -> list[Stroke]:
    """Return the cross in the middle and the two lines through it, up to the edge."""
    a, b = base.size.width_mm / 2, base.size.height_mm / 2
    cross = [straight(-_CROSS_MM, _CROSS_MM, 0.25), straight(-1j * _CROSS_MM, 1j * _CROSS_MM, 0.25)]
    lines = [
        straight(-a, a, 0.08, grey=0.6, dashes_mm=(0.6, 1.4)),
        straight(-1j * b, 1j * b, 0.08, grey=0.6, dashes_mm=(0.6, 1.4)),
    ]
    return [*cross, *lines]


def _repeat(base: Edge, row: GuideRow, repeat: PlacedMotif, end: complex, labels: Sequence[Box]) -> Iterator[Stroke]:
    """Yield the line of a repeat, left out behind labels, its foot marks, the line its foot stands on, its outline."""
    seat, way = repeat.seat, _way_out(row.edge, repeat)
    start = 0j if base.is_circle else seat.middle - _INWARD_MM * way
    for a, b in _outside(start, end, labels):
        yield straight(a, b, _SPOKE_MM, grey=_SPOKE_GREY)
    if seat.left != seat.right:
        yield straight(seat.left, seat.right, 0.15)
        for foot in (seat.left, seat.right):
            across = row.edge.normal(row.edge.tau_towards(math.atan2(foot.real, foot.imag)))
            yield straight(foot - _MARK_REACH_MM * across, foot + _MARK_REACH_MM * across, _MARK_MM)
    if not row.is_bare:
        for outline in _outlines(repeat):
            yield Stroke(outline.segments, _OUTLINE_MM, grey=0.25)


def _outside(start: complex, end: complex, boxes: Sequence[Box]) -> Iterator[tuple[complex, complex]]:
    """Yield the parts of a straight line that keep clear of boxes, in order."""
    way = end - start
    hidden = sorted(span for box in boxes if (span := _span_in(start, way, box)) is not None)
    at = 0.0
    for first, last in hidden:
        if first > at:
            yield start + at * way, start + first * way
        at = max(at, last)
    if at < 1:
        yield start + at * way, end


def _span_in(start: complex, way: complex, box: Box) -> tuple[float, float] | None:
    """Return from where to where along a line, of 1, it runs nearer to a box than words may come; None: nowhere.

    The common part of two strips (T. L. Kay, J. T. Kajiya, 1986, "Ray tracing complex scenes", SIGGRAPH 20, 269-278).
    """
    spans = [(0.0, 1.0)]
    for at, step, low, high in (
        (start.real, way.real, box.left, box.right),
        (start.imag, way.imag, box.bottom, box.top),
    ):
        sides = low - CLEAR_MM - at, high + CLEAR_MM - at
        if abs(step) > 1e-12:
            near, far = sorted(side / step for side in sides)
            spans.append((near, far))
        elif not sides[0] < 0 < sides[1]:
            return None
    first, last = max(near for near, _ in spans), min(far for _, far in spans)
    return (first, last) if first < last else None


def _outlines(repeat: PlacedMotif) -> Iterator[Outline]:
    """Yield all outlines of a repeat where it goes."""
    for region in repeat.motif.regions:
        yield from (outline.transformed(repeat.placement) for outline in region.outlines)


def _way_out(edge: Edge, repeat: PlacedMotif) -> complex:
    """Return the unit direction away from the middle along the line of a repeat."""
    return 1j * repeat.seat.tangent if not edge.is_circle else cmath.rect(1, cmath.phase(repeat.seat.middle))


def _reach_mm(base: Edge, row: GuideRow) -> float:
    """Return how far outside the base the row goes."""
    points = [
        segment.point(t) for repeat in row.repeats for o in _outlines(repeat) for segment in o.segments for t in _PROBES
    ]
    return max((_height_mm(base, point) for point in points), default=0.0)


def _height_mm(edge: Edge, point: complex) -> float:
    """Return how far outside the edge a point lies, below 0 inside."""
    if edge.is_circle:
        return abs(point) - edge.size.width_mm / 2
    return edge.height_mm(point, edge.tau_towards(math.atan2(point.real, point.imag)))


def _out_to(base: Edge, start: complex, way: complex, height_mm: float) -> complex:
    """Return the point of a line out from ``start`` that lies at a height over the base."""
    point = start
    for _ in range(_STEPS):
        point += way * (height_mm - _height_mm(base, point))
    return point


def _tip_line(row: GuideRow) -> Iterator[Stroke]:
    """Yield the dashed line through the tips: parallel to the edge, at the height of the tallest motif."""
    if row.is_bare or not row.repeats:
        return
    tips = [_tip(repeat) for repeat in row.repeats]
    heights = [_height_mm(row.edge, tip) for tip in tips]
    height = max(heights, key=abs)
    if height <= -row.edge.least_radius_mm:
        return
    line: tuple[Segment, ...] = row.edge.parallel(height).region().outer.segments
    yield Stroke(line, 0.12, _DASHES_MM, _SPOKE_GREY)


def _tip(repeat: PlacedMotif) -> complex:
    """Return the point of a motif that is farthest from its foot, on the piece."""
    points = [segment.point(t) for region in repeat.motif.regions for segment in region.outer.segments for t in _PROBES]
    return repeat.placement.apply(max(points, key=lambda point: abs(point.imag)))
