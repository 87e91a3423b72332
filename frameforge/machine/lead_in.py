"""Lead-in: the cut begins in the waste and comes to the line at a slant; its first burn or dent is thrown away."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.region import Region

__all__ = ["Waste", "lengths_tried_mm"]

SLANTS_RAD = (math.radians(45), math.radians(90))
"""Angles between lead-in and line that are tried, the smoothest first."""
LEAST_LEAD_IN_MM = 0.2
"""A shorter one keeps nothing off the line."""
SHORTER = 0.7
"""Where the waste has no room for a length, this part of it is tried."""
FREE = 0.3
"""On its way the lead-in is at least this part of the way left from the card; along a straight edge it is 0.7."""
AT_LINE, AT_LINE_MM = 0.02, 0.04
"""This part of the way next to the line, and no more than that, lies as near to the chords of the card as they do to
its curves."""
STATIONS = (1.0, 0.8, 0.6, 0.4, 0.2)


@dataclass(frozen=True, slots=True, eq=False)
class Waste:
    """What is not card."""

    card: BaseGeometry

    @classmethod
    def around(cls, region: Region) -> Waste:
        """Return the waste outside a region and in its holes."""
        card = to_polygon(region)
        shapely.prepare(card)
        return cls(card)

    def lead_in(self, point: complex, direction: complex, length_mm: float) -> Line | None:
        """Return the line through waste that ends at ``point`` of an outline run in ``direction``, card on its left.

        It is ``length_mm`` long; None where there is no room for it.
        """
        for slant in SLANTS_RAD:
            begin = point - length_mm * direction * cmath.rect(1, slant)
            if self._is_free(begin, point):
                return Line(begin, point)
        return None

    def _is_free(self, begin: complex, end: complex) -> bool:
        """Whether the way stays off the card until it reaches its end."""
        stations = [end + share * (begin - end) for share in STATIONS]
        points = shapely.points([z.real for z in stations], [z.imag for z in stations])
        room = shapely.distance(self.card, points)
        wanted = [FREE * share * abs(begin - end) for share in STATIONS]
        if any(mm < least for mm, least in zip(room, wanted, strict=True)):
            return False
        near = end + min(AT_LINE, AT_LINE_MM / abs(begin - end)) * (begin - end)
        way = shapely.linestrings([(begin.real, begin.imag), (near.real, near.imag)])
        return not shapely.intersects(self.card, way)


def lengths_tried_mm(length_mm: float) -> list[float]:
    """Return the lengths that are tried where the waste is narrow: the whole, then shorter and shorter ones."""
    found = [length_mm]
    while found[-1] * SHORTER >= LEAST_LEAD_IN_MM:
        found.append(found[-1] * SHORTER)
    return found
