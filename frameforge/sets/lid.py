"""The wall of a box lid: a strip of card that goes round a base once and is glued over a lap."""

from __future__ import annotations

import math
from dataclasses import dataclass

from frameforge.frame.base import Edge
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle

__all__ = ["Strip", "fewest_parts", "strip_for"]

_SLACK_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Strip:
    """One part of a strip, mm: its length with its lap, its height, and how many parts go round together."""

    length_mm: float
    height_mm: float
    lap_mm: float
    parts: int = 1

    @property
    def card(self) -> Region:
        """The strip itself, its middle at 0."""
        across, up = self.length_mm / 2, self.height_mm / 2
        return Region(rectangle(-across, -up, across, up))


def strip_for(size: Size, height_mm: float, lap_mm: float, thickness_mm: float, parts: int = 1) -> Strip:
    """Return the strip that stands round the edge of a base: pi (D + t) + lap for a circle.

    The middle of the card runs half its thickness outside the edge. A parallel at d of a convex line of length P is
    P + 2 pi d long (Steiner), so on any base it is P + pi t. In several parts each takes its share, and a lap.
    """
    around = edge_length_mm(Edge.from_size(size)) + math.pi * thickness_mm
    return Strip(around / parts + lap_mm, height_mm, lap_mm, parts)


def fewest_parts(size: Size, lap_mm: float, thickness_mm: float, room_mm: float) -> int | None:
    """Return in how few parts a strip has to be cut to be no longer than ``room_mm``; None where laps take it all."""
    if room_mm <= lap_mm:
        return None
    around = strip_for(size, 1.0, 0.0, thickness_mm).length_mm
    return max(1, math.ceil((around - _SLACK_MM) / (room_mm - lap_mm)))
