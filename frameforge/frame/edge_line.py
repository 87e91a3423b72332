"""The finished edge between two feet: straight from foot to foot, with an arc on it to either side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.frame.profile import Complexes
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import chord_count, sample
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM

__all__ = ["EdgeLine", "steepest_mm"]


Ends = tuple[complex, complex]
"""Something at the start and at the end of a line."""


@dataclass(frozen=True, slots=True)
class EdgeLine:
    """A line from ``start`` to ``end``, two points of a convex edge clockwise round 0, with an arc in its middle.

    ``rise_mm`` is how far the arc stands away from the straight line, outwards (seen from the middle) above 0, inwards
    below; 0 leaves the line straight. The arc begins and ends ``aside_mm`` from the two ends of the line.
    """

    start: complex
    end: complex
    rise_mm: float = 0.0
    aside_mm: float = 0.0

    @property
    def chord_mm(self) -> float:
        """Straight distance of the two ends."""
        return abs(self.end - self.start)

    @property
    def along(self) -> complex:
        """The unit direction from start to end."""
        return (self.end - self.start) / self.chord_mm

    @property
    def outward(self) -> complex:
        """The unit direction across the line, away from the middle."""
        return 1j * self.along

    @property
    def top(self) -> complex:
        """The middle of the finished edge: the point furthest from the straight line."""
        return (self.start + self.end) / 2 + self.rise_mm * self.outward

    @property
    def arc(self) -> Arc | None:
        """The arc, from start to end; None where the line is straight.

        Over a chord c with the rise d the radius is (c^2/4 + d^2) / 2d, the bulge (tangent of a quarter turn) 2d/c.
        """
        first, last = self.start + self.aside_mm * self.along, self.end - self.aside_mm * self.along
        if self.rise_mm == 0:
            return None
        if not self.aside_mm:
            first, last = self.start, self.end
        return Arc.from_bulge(first, last, -2 * self.rise_mm / abs(last - first))

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The line from start to end, piece by piece."""
        arc = self.arc
        if arc is None:
            return (Line(self.start, self.end),)
        if not self.aside_mm:
            return (arc,)
        return Line(self.start, arc.start), arc, Line(arc.end, self.end)

    def outside(self, reach_mm: float, axes: Ends | None = None, hems: Ends | None = None) -> Region:
        """Return a block on the line that covers all of the edge's disc beyond it, less than half of the disc.

        ``reach_mm`` is the greatest distance from 0 to the edge. The edge is convex and symmetric about 0, so it runs
        through -start and -end too, and from start to end keeps between the lines -end to start and -start to end,
        which are parallel. ``axes`` are the directions of the motifs at both ends, for a line that lies in the card:
        then the block goes right up to them. ``hems`` are points under the motifs that it is to cover as well.
        """
        middle = (self.start + self.end) / abs(self.start + self.end)
        up = 2 * reach_mm + abs(self.rise_mm)
        first, last = axes or (middle, middle)
        start, end = hems or (self.start, self.end)
        corners = (end, end + last * up, (self.start + self.end) / 2 + middle * 2 * up, start + first * up)
        sides = (Line(a, b) for a, b in pairwise((*corners, start)))
        return Region(Outline((*self._hemmed(hems), *sides)))

    def inside(self) -> Region:
        """Return what lies between the line and the middle of the piece, 0."""
        return Region(Outline((*self.segments, Line(self.end, 0j), Line(0j, self.start))).reversed())

    def cap(self, hems: Ends | None = None) -> Region | None:
        """Return what lies between the arc and the straight line; None where the line is straight.

        ``hems`` are points under the motifs, for an arc that goes outwards from foot to foot: the straight line then
        runs between those.
        """
        arc = self.arc
        if arc is None:
            return None
        if self.rise_mm < 0:
            return Region(Outline((arc, Line(arc.end, arc.start))))
        if hems is not None:
            return Region(Outline((*self._hemmed(hems), Line(hems[1], hems[0]))).reversed())
        return Region(Outline((Line(arc.start, arc.end), arc.reversed())))

    def corners(self, hems: Ends, along_mm: float) -> tuple[Region, Region]:
        """Return two slivers on the inner side of the line's ends: each between a hem and a place so far along it."""
        first, last = self.segments[0], self.segments[-1]
        begin = first.piece(0.0, along_mm / abs(first.end - first.start))
        end = last.piece(1 - along_mm / abs(last.end - last.start), 1.0)
        return (
            Region(Outline((Line(hems[0], begin.start), begin, Line(begin.end, hems[0]))).reversed()),
            Region(Outline((end, Line(end.end, hems[1]), Line(hems[1], end.start))).reversed()),
        )

    def _hemmed(self, hems: Ends | None) -> tuple[Segment, ...]:
        """Return the line with a bit to the hem at both ends."""
        if hems is None:
            return self.segments
        return Line(hems[0], self.start), *self.segments, Line(self.end, hems[1])

    def points(self, chord_mm: float = CHORD_MM) -> Complexes:
        """Return points along the line (mm, in order), the top among them, their chords within ``chord_mm`` of it."""
        found = []
        for segment in self.segments:
            count = chord_count(segment, chord_mm)
            found.append(sample(segment, np.linspace(0, 1, 2 * math.ceil(count / 2) + 1)))
        return np.concatenate(found)


def steepest_mm(chord_mm: float, turn_rad: float) -> float:
    """Return the rise at which an arc over a chord leaves it at ``turn_rad``.

    An arc of rise d leaves its chord c at the angle 2 atan(2d/c).
    """
    return chord_mm / 2 * math.tan(turn_rad / 2)
