"""Lines with a width: what a pen covers that follows a line or an outline, as regions of true curves."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from frameforge.geometry import combine
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import Combined
from frameforge.geometry.dashes import dashed
from frameforge.geometry.line import Line
from frameforge.geometry.measure import bounds, length_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.ribbon.corners import Corners
from frameforge.geometry.ribbon.evaluate import Loop, Task, evaluate
from frameforge.geometry.ribbon.spine import Spine, spine_core
from frameforge.geometry.shapes import circle
from frameforge.tolerances import DOT_MM, FIT_MM, REFINEMENTS, SAME_POINT_MM

__all__ = ["Pen", "dot_region", "stroke_region", "stroke_with_report", "strokes_with_report"]


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is widened (SVG 2, section 13.5).

    ``width_mm`` across; ``cap`` closes open ends: straight across, round, or square half a width beyond; ``join`` goes
    round corners; a mitre whose point lies further than ``mitre_limit`` half widths from its corner is cut straight.
    ``dashes_mm`` are alternately drawn and left out, from ``dash_offset_mm`` on; none: the whole line is drawn.
    """

    width_mm: float
    cap: Literal["butt", "round", "square"] = "butt"
    join: Literal["round", "mitre", "bevel"] = "mitre"
    mitre_limit: float = 4.0
    dashes_mm: tuple[float, ...] = ()
    dash_offset_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a width that is not above 0 and a mitre limit below 1."""
        if not 0 < self.width_mm < math.inf:
            raise ValueError(f"pen of {self.width_mm} mm; its width must be above 0")
        if not self.mitre_limit >= 1:
            raise ValueError(f"mitre limit {self.mitre_limit}; it must be 1 or more")

    @property
    def reach_mm(self) -> float:
        """Half the width: how far the pen covers to either side."""
        return self.width_mm / 2


def stroke_region(line: Outline | Sequence[Segment], pen: Pen, *, fit_mm: float = FIT_MM) -> tuple[Region, ...]:
    """Return what the pen covers along a closed outline, or along an open chain of segments, corners and ends closed.

    A chain's segments follow one another end to end. A line of no length leaves a dot where the caps are round or
    square. The line may cross itself: what is covered twice counts once. Edges are exact lines and arcs, and cubics
    within ``fit_mm`` of the exact parallel of a cubic or elliptical arc.
    """
    return stroke_with_report(line, pen, fit_mm=fit_mm).regions


def stroke_with_report(line: Outline | Sequence[Segment], pen: Pen, *, fit_mm: float = FIT_MM) -> Combined:
    """Return the same with the report: how often it was repeated finer, and places that could not be made exact."""
    return strokes_with_report([line], pen, fit_mm=fit_mm)


def strokes_with_report(
    lines: Sequence[Outline | Sequence[Segment]], pen: Pen, *, fit_mm: float = FIT_MM, refinements: int = REFINEMENTS
) -> Combined:
    """Return what the pen covers along several lines together; much quicker than one by one and uniting them.

    Where something cannot be made exact it is repeated finer, at most ``refinements`` times.
    """
    chains = [chain for line in lines for chain in _drawn(line, pen)]
    short = [chain for chain in chains if chain.is_dot or chain.is_stub(pen) or chain.is_speck(pen, fit_mm)]
    dots = [region for chain in short for region in chain.blot(pen, fit_mm)]
    long = [chain for chain in chains if chain not in short]
    task = Task(
        tuple(loop for chain in long for loop in chain.loops(pen)),
        pen.reach_mm,
        fit_mm,
        Corners(pen.join, pen.mitre_limit, beyond="bevel"),
        lambda inset_mm, chord_mm: spine_core([c.spine(pen) for c in long], pen.reach_mm, inset_mm, chord_mm),
        refinements,
    )
    combined = evaluate(task)
    if not dots:
        return combined
    united = combine.evaluate(combine.union(*combined.regions, *dots))
    return Combined(united.regions, combined.report if combined.report.repeats else united.report)


def dot_region(at: complex, pen: Pen, way: complex = 1) -> tuple[Region, ...]:
    """Return what the pen covers of a line without length at ``at``: a disc, a square along ``way``, or nothing."""
    if pen.cap == "butt":
        return ()
    if pen.cap == "round":
        return (Region(circle(at, pen.reach_mm)),)
    corner = pen.reach_mm * way / abs(way)
    return (Region(Outline.from_points(at + corner * turn for turn in (-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j))),)


@dataclass(frozen=True, slots=True)
class _Chain:
    """Segments end to end, sharing the bits of their joints."""

    segments: tuple[Segment, ...]
    is_closed: bool

    @property
    def is_dot(self) -> bool:
        """Whether it has no length to speak of."""
        return length_mm(self.segments) <= DOT_MM

    @property
    def way(self) -> complex:
        """The direction in which it starts; +x where it has none."""
        first = self.segments[0]
        return first.end - first.start or 1

    def is_stub(self, pen: Pen) -> bool:
        """Whether it is one straight line shorter than the pen's reach: too short to lay ribbons along it."""
        return len(self.segments) == 1 and isinstance(self.segments[0], Line) and abs(self.way) < pen.reach_mm

    def is_speck(self, pen: Pen, fit_mm: float) -> bool:
        """Whether a round pen covers no more than a disc of it, to the error of a fit."""
        is_round = pen.join == "round" and (self.is_closed or pen.cap == "round")
        return is_round and abs(complex((box := bounds(self.segments)).width_mm, box.height_mm)) <= 2 * fit_mm

    def blot(self, pen: Pen, fit_mm: float) -> tuple[Region, ...]:
        """Return what the pen covers of a dot, a speck or a straight line, in closed form."""
        line = self.segments[0]
        if self.is_dot:
            return dot_region(line.start, pen, self.way)
        if self.is_speck(pen, fit_mm):
            return (Region(circle(bounds(self.segments).center, pen.reach_mm)),)
        along = self.way / abs(self.way) * pen.reach_mm
        more = along if pen.cap == "square" else 0
        first, last = line.start - more, line.end + more
        a, b, c, d = first - 1j * along, last - 1j * along, last + 1j * along, first + 1j * along
        if pen.cap != "round":
            return (Region(Outline.from_points((a, b, c, d))),)
        right = cmath.phase(-1j * along)
        ahead = Arc.from_circle(last, pen.reach_mm, right, math.pi).with_ends(b, c)
        behind = Arc.from_circle(first, pen.reach_mm, right + math.pi, math.pi).with_ends(d, a)
        return (Region(Outline((Line(a, b), ahead, Line(c, d), behind))),)

    def spine(self, pen: Pen) -> Spine:
        """Return it as a line to be widened."""
        return Spine(self.segments, self.is_closed, pen.join == "round", pen.cap == "round")

    def loops(self, pen: Pen) -> tuple[Loop, ...]:
        """Return its two sides: a loop each where it is closed, one loop with caps where it is open."""
        back = tuple(segment.reversed() for segment in reversed(self.segments))
        if self.is_closed:
            return Loop((self.segments,)), Loop((back,))
        return (Loop((self.segments, back), pen.cap),)


def _drawn(line: Outline | Sequence[Segment], pen: Pen) -> list[_Chain]:
    """Return the chains that the pen draws: the line, or its dashes."""
    is_closed = isinstance(line, Outline)
    segments = line.segments if isinstance(line, Outline) else _joined(line)
    if not segments:
        return []
    if not pen.dashes_mm or length_mm(segments) <= DOT_MM:
        return [_Chain(segments, is_closed)]
    chains = dashed(segments, pen.dashes_mm, pen.dash_offset_mm, is_closed=is_closed)
    if is_closed and len(chains) == 1 and length_mm(chains[0]) >= length_mm(segments) - DOT_MM:
        return [_Chain(segments, is_closed)]
    return [_Chain(_joined(chain), False) for chain in chains]


def _joined(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """Return the segments with shared joints equal to the bit; a gap is bridged by a line."""
    chain: list[Segment] = []
    for segment in segments:
        if chain and segment.start != chain[-1].end:
            if abs(segment.start - chain[-1].end) > SAME_POINT_MM:
                chain.append(Line(chain[-1].end, segment.start))
            else:
                segment = segment.with_ends(chain[-1].end, segment.end)
        chain.append(segment)
    return tuple(chain)
