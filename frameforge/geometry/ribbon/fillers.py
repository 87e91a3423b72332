"""What covers the ground under inverted parts, where no parallel curve bounds it.

There the ground near the distance is still within the distance of the source: it lies on **spokes** perpendicular to
the part, each as long as the distance, or as far as the centre of curvature where that is nearer. Between neighbouring
spokes lie windows; each covers the next by one step, and the outermost run on under the neighbouring parts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.ribbon.bands import Band
from frameforge.geometry.ribbon.corners import Corner
from frameforge.geometry.ribbon.stretches import Part
from frameforge.geometry.segment_table import Bools, Complexes, Floats, SegmentTable

__all__ = ["filler_polygons"]

_SPOKES = 17
_STEP = 1 / (_SPOKES - 1)


def filler_polygons(loops: Sequence[Sequence[Part]], band: Band) -> boolean.Polygons:
    """Return the fillers under all inverted parts of closed loops of parts; windows the core covers are left out."""
    places = [place for loop in loops for k in range(len(loop)) for place in _places(loop, k, band)]
    if not places:
        return np.zeros(0, dtype=object)
    spokes = _Spokes.from_places(places, band)
    windows = np.flatnonzero(spokes.needs_filler)
    columns = [spokes.top[windows + k] for k in range(3)] + [spokes.foot[windows + k] for k in (2, 1, 0)]
    first = 6 * np.arange(len(windows) + 1)
    return boolean.polygons(np.stack(columns, axis=1).ravel(), first, np.arange(len(windows)))


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a spoke stands: on which part, at which t of its source; or at a corner, with the direction there.

    ``is_beyond`` tells that it belongs to a neighbour: it is kept short, so that the window ends under the parallel.
    """

    part: Part
    t: float
    is_beyond: bool = False
    corner: complex | None = None
    way: complex = 1


def _places(loop: Sequence[Part], k: int, band: Band) -> list[_Place]:
    """Return the spokes of the part ``k`` if it is inverted: one of each neighbour at its ends."""
    part, before, after = loop[k], loop[k - 1], loop[(k + 1) % len(loop)]
    if part.parallel is not None:
        return []
    own = [_Place(part, part.t0 + (part.t1 - part.t0) * i * _STEP) for i in range(_SPOKES)]
    first = _Place(before, before.t1 + (before.t0 - before.t1) * _STEP, is_beyond=True)
    last = _Place(after, after.t0 + (after.t1 - after.t0) * _STEP, is_beyond=True)
    return [_or_corner(first, before, part, band, 1 - _STEP), *own, _or_corner(last, part, after, band, _STEP)]


def _or_corner(place: _Place, one: Part, other: Part, band: Band, along: float) -> _Place:
    """Return the place, or, if the parts meet in a raised corner, a place in the corner ``along`` (0..1) its turn."""
    corner = Corner(other.source.point(other.t0), one.end_way, other.start_way)
    if abs(corner.turn_rad) < _STEP or not corner.is_raised(band.distance_mm):
        return place
    way = one.end_way * np.exp(1j * along * abs(corner.turn_rad) * band.sign)
    return _Place(place.part, place.t, True, corner.at, complex(way))


@dataclass(frozen=True, slots=True, eq=False)
class _Spokes:
    """Spokes in the order of their places; ``needs_filler``: from here two windows on, the core does not reach."""

    top: Complexes
    foot: Complexes
    needs_filler: Bools

    @classmethod
    def from_places(cls, places: Sequence[_Place], band: Band) -> _Spokes:
        """Return the spokes of places, the 19 of one inverted part after those of another."""
        at, way, radius = _frames(places, band)
        deep, margin = abs(band.distance_mm), band.margin_mm
        is_beyond = np.array([place.is_beyond for place in places])
        outward = -1j * band.sign * way
        reach = np.minimum(np.where(is_beyond, deep - margin / 2, deep), radius)
        is_uncovered = radius >= deep - 1.3 * margin
        needs = np.zeros(len(places), dtype=bool)
        needs[:-2] = is_uncovered[:-2] | is_uncovered[1:-1] | is_uncovered[2:]
        needs[np.arange(len(places)) % (_SPOKES + 2) >= _SPOKES] = False
        return cls(at + outward * reach, at + outward * np.minimum(deep - 2 * margin, 0.8 * reach), needs)


def _frames(places: Sequence[_Place], band: Band) -> tuple[Complexes, Complexes, Floats]:
    """Return point, unit tangent and radius of curvature towards the spoke (infinite where it bends away)."""
    rows = np.arange(len(places))
    table = SegmentTable.from_segments([place.part.source for place in places])
    t = np.array([place.t for place in places])
    velocity = table.velocity(rows, t)
    speed = np.maximum(abs(velocity), 1e-300)
    bend = -band.sign * (velocity.conj() * table.acceleration(rows, t)).imag
    radius = np.where(bend > 0, speed**3 / np.maximum(bend, 1e-300), np.inf)
    point, way = table.point(rows, t), velocity / speed
    for k, place in enumerate(places):
        if place.corner is not None:
            point[k], way[k], radius[k] = place.corner, place.way, np.inf
    return point, way, np.asarray(radius)
