"""The bent seat as a map: along the foot goes along the edge, up goes along the edge's normal.

A point (x, y) of a motif goes to C(s0 + x) + y N: C is the edge by the length walked, N its normal there. On the edge
nothing is stretched; at the height y lengths along it are multiplied by 1 + k y, k being the edge's curvature, and
lengths across it stay. Where that factor is not above 0 the motif folds over.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace

import numpy as np

from frameforge.frame.profile import Complexes, Floats, Indices
from frameforge.frame.walk import Walk
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.tolerances import SUPPORT_MM

__all__ = ["Bends"]


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """Motifs bent along one edge, one a place: the middles of their feet lie at the lengths ``at_mm`` along it.

    ``side`` is 1 where up points away from the middle, -1 where towards it (x then runs counter-clockwise);
    ``drop_mm`` is how high the line of the motif that lies on the edge stands above its foot. Images are in the
    piece's place. ``which`` numbers the places; all arrays are of one shape, entry by entry.
    """

    walk: Walk
    at_mm: Floats
    side: int
    drop_mm: float = 0.0

    def __len__(self) -> int:
        """Return the number of places."""
        return len(self.at_mm)

    def taken(self, places: Indices) -> Bends:
        """Return the same motifs at some of the places."""
        return replace(self, at_mm=self.at_mm[places])

    def point(self, which: Indices, z: Complexes) -> Complexes:
        """Return C(s0 + x) + y N."""
        walked, up = self._flat(which, z)
        spot = self.walk.spot(walked)
        return np.asarray(spot.point + up * 1j * spot.tangent)

    def moving(self, which: Indices, z: Complexes, v: Complexes) -> tuple[Complexes, Complexes]:
        """Return the images of moving points and of their velocities, (1 + k y) x' T + y' N."""
        walked, up = self._flat(which, z)
        spot = self.walk.spot(walked)
        velocity = self.side * spot.tangent * ((1 + spot.curvature * up) * v.real + 1j * v.imag)
        return np.asarray(spot.point + up * 1j * spot.tangent), np.asarray(velocity)

    def curve(
        self, which: Indices, flat: tuple[Complexes, Complexes, Complexes]
    ) -> tuple[Complexes, Complexes, Complexes]:
        """Return the images of a moving point with its velocity and acceleration.

        With T' = -k N and N' = k T per mm walked, and r the change of k per mm: the acceleration is
        [(1 + k y) x'' + r y x'^2 + 2 k x' y'] T + [y'' - k (1 + k y) x'^2] N.
        """
        z, v, a = flat
        walked, up = self._flat(which, z)
        spot = self.walk.spot(walked)
        tangent, k = spot.tangent, spot.curvature
        forth, rise = self.side * v.real, self.side * v.imag
        wide = 1 + k * up
        along = wide * self.side * a.real + spot.curvature_rate * up * forth * forth + 2 * k * forth * rise
        across = self.side * a.imag - k * wide * forth * forth
        return (
            np.asarray(spot.point + up * 1j * tangent),
            np.asarray(tangent * (wide * forth + 1j * rise)),
            np.asarray(tangent * (along + 1j * across)),
        )

    def widening(self, which: Indices, z: Complexes) -> Floats:
        """Return 1 + k y, by which lengths along the edge are multiplied."""
        walked, up = self._flat(which, z)
        return np.asarray(1 + self.walk.spot(walked).curvature * up)

    def level_mm(self, start: complex, end: complex) -> float:
        """Return the length of the image of a level line at the first place, mm.

        At the height y it is its own length and y times the turn of the edge below it (Steiner).
        """
        walked, up = self._flat(np.zeros(2, dtype=np.intp), np.array([start, end]))
        first, last = self.walk.spot(walked).tangent.tolist()
        return abs(end.real - start.real) + float(up[0]) * abs(cmath.phase(last / first))

    def exact(self, which: int, segment: Segment, ends: tuple[complex, complex]) -> Segment | None:
        """Return the image of a segment that stays straight or round, from the first to the second of ``ends``.

        Upright lines stay lines. Level ones become arcs about the middle where the edge is a circle, and arcs of the
        oval itself where they come to lie on it.
        """
        if not isinstance(segment, Line):
            return None
        along = segment.end - segment.start
        if abs(along.real) <= SUPPORT_MM:
            return Line(*ends)
        edge = self.walk.edge
        grown = edge.offset_mm + self.side * (segment.start.imag - self.drop_mm)
        if abs(along.imag) > SUPPORT_MM or not (edge.is_circle or abs(grown) <= SUPPORT_MM):
            return None
        grown = grown if edge.is_circle else 0.0
        flat = np.array([segment.start, segment.end])
        start, end = self.walk.tau(self._flat(np.full(2, which), flat)[0]).tolist()
        if grown <= -edge.half_width_mm or not 0 < abs(end - start) < math.tau:
            return None
        u, v = complex(0, edge.half_height_mm + grown), complex(edge.half_width_mm + grown, 0)
        return Arc(*ends, 0j, u, v, start, end - start)

    def is_even(self, which: int) -> bool:
        """Whether the edge looks alike both ways from a place: on a circle, and at the ends of an oval's axes."""
        quarter = self.walk.length_mm / 4
        away = abs(math.remainder(float(self.at_mm[which]), quarter))
        return self.walk.edge.is_circle or away <= SUPPORT_MM

    def _flat(self, which: Indices, z: Complexes) -> tuple[Floats, Floats]:
        """Return the lengths walked to the feet of points, and how far outside the edge they come to lie."""
        return self.at_mm[which] + self.side * z.real, np.asarray(self.side * (z.imag - self.drop_mm))
