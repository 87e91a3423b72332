"""What stands between the parallels of two segments that meet in a corner."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import SAME_ANGLE_RAD, SAME_T

__all__ = ["Corner", "Corners", "Join"]

Join = Literal["round", "mitre", "bevel", "butt", "square"]
"""What goes round a raised corner; the last two close the end of a line: straight across, or half a width beyond."""


@dataclass(frozen=True, slots=True)
class Corners:
    """How raised corners are joined: by an arc, by a point, or by a straight cut.

    A mitre whose point lies further than ``mitre_limit`` times the distance from the corner is made ``beyond``
    instead (1 / cos(turn/2) is that ratio; SVG 2, section 13.5.5, counts it alike).
    """

    join: Literal["round", "mitre", "bevel"] = "round"
    mitre_limit: float = 10.0
    beyond: Literal["round", "bevel"] = "round"

    def join_for(self, turn_rad: float) -> Join:
        """Return the join of a corner with the given turn."""
        if self.join == "mitre" and math.cos(turn_rad / 2) * self.mitre_limit < 1:
            return self.beyond
        return self.join


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the source at ``at``, where the direction turns from ``before`` to ``after`` (unit vectors)."""

    at: complex
    before: complex
    after: complex
    join: Join

    @property
    def turn_rad(self) -> float:
        """The turn, counter-clockwise positive, -pi to pi."""
        return cmath.phase(self.after / self.before)

    def is_raised(self, distance_mm: float) -> bool:
        """Return whether the parallels to the right gape here; a turn right round counts, whichever way it is."""
        return self.turn_rad * distance_mm > 0 or abs(self.turn_rad) >= math.pi - SAME_ANGLE_RAD

    def segments(self, distance_mm: float) -> list[Segment]:
        """Return what joins the parallels of a raised corner."""
        start, end = self.at - 1j * distance_mm * self.before, self.at - 1j * distance_mm * self.after
        if self.join == "round":
            return list(self._arcs(start, end, math.copysign(self.turn_rad, distance_mm)))
        return [Line(a, b) for a, b in pairwise([start, *self._tips(start, end, distance_mm), end])]

    def _tips(self, start: complex, end: complex, distance_mm: float) -> list[complex]:
        """Return the points between the straight lines that go round the corner."""
        if self.join == "mitre":
            half = math.copysign(self.turn_rad, distance_mm) / 2
            return [self.at + (start - self.at) * cmath.rect(1, half) / math.cos(half)]
        if self.join == "square":
            return [start + abs(distance_mm) * self.before, end + abs(distance_mm) * self.before]
        return []

    def _arcs(self, start: complex, end: complex, turn: float) -> Iterator[Arc]:
        """Yield the arcs about the corner, each at most 90 degrees."""
        count = max(1, math.ceil(abs(turn) / (math.pi / 2) - SAME_T))
        begin, radius = cmath.phase(start - self.at), abs(start - self.at)
        cuts = [begin + turn * k / count for k in range(count + 1)]
        points = [start, *(self.at + cmath.rect(radius, q) for q in cuts[1:-1]), end]
        u, v = complex(radius, 0), complex(0, radius)
        for (p0, p1), q in zip(pairwise(points), cuts, strict=False):
            yield Arc(p0, p1, self.at, u, v, q, turn / count)
