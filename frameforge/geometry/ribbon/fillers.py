"""What covers the ground under inverted parts, where no parallel curve bounds it.

There the ground near the distance is still within the distance of the source: it lies on **spokes** perpendicular to
the part, each as long as the distance, or as far as the centre of curvature where that is nearer. Between neighbouring
spokes lie windows; each covers the next by one step, and the outermost run on under the neighbouring parts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon.bands import Band
from frameforge.geometry.ribbon.chains import corner_between
from frameforge.geometry.ribbon.corners import Corner, Corners
from frameforge.geometry.ribbon.stretches import Part
from frameforge.geometry.segment_table import Bools, Complexes, Floats, SegmentTable
from frameforge.tolerances import MIN_CHORD_MM, SAME_T, WELD_MM

__all__ = ["filler_polygons"]

_SPOKES = 17
_STEP = 1 / (_SPOKES - 1)


def filler_polygons(
    loops: Sequence[Sequence[Part]], band: Band, corners: Corners, joints: Complexes
) -> boolean.Polygons:  # fmt: skip
    """Return the fillers under all inverted parts of closed loops of parts; windows the core covers are left out.

    ``corners`` tells how the parts are joined. ``joints`` are the ends of the parallel segments: where spokes meet in
    one of them they get its very bits.
    """
    inverted = [(loop, k) for loop in loops for k, part in enumerate(loop) if part.parallel is None]
    if not inverted:
        return np.zeros(0, dtype=object)
    spokes = _Spokes.from_places([place for loop, k in inverted for place in _places(loop, k, band, corners)], band)
    sources = [loop[k].source for loop, k in inverted]
    meets = [_meets_in_center(source, abs(band.distance_mm)) for source in sources]
    is_round = np.array(meets, dtype=bool)
    centers = np.array([source.center if isinstance(source, Arc) else 0j for source in sources])
    return np.concatenate([spokes.windows(~is_round), spokes.fans(is_round, _welded(centers, joints))])


def _meets_in_center(source: Segment, distance_mm: float) -> bool:
    """Return whether the spokes of a circular arc all reach its centre."""
    return isinstance(source, Arc) and source.is_circular and abs(source.u) <= distance_mm + WELD_MM


def _welded(points: Complexes, joints: Complexes) -> Complexes:
    """Return the points, those within WELD_MM of a joint replaced by it."""
    apart = abs(points[:, None] - joints[None, :])
    nearest = apart.argmin(axis=1)
    return np.where(apart.min(axis=1) <= WELD_MM, joints[nearest], points)


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


def _places(loop: Sequence[Part], k: int, band: Band, corners: Corners) -> list[_Place]:
    """Return the spokes of the part ``k`` if it is inverted: one of each neighbour at its ends."""
    part, before, after = loop[k], loop[k - 1], loop[(k + 1) % len(loop)]
    if part.parallel is not None:
        return []
    own = [_Place(part, part.t0 + (part.t1 - part.t0) * i * _STEP) for i in range(_SPOKES)]
    first, last = _beyond(before, before.t1, before.t0, band), _beyond(after, after.t0, after.t1, band)
    into, out = corner_between(before, part, corners), corner_between(part, after, corners)
    return [
        _or_corner(first, into, replace(own[0], is_beyond=True), band, 1 - _STEP),
        *own,
        _or_corner(last, out, replace(own[-1], is_beyond=True), band, _STEP),
    ]


def _beyond(part: Part, end: float, other: float, band: Band) -> _Place:
    """Return the place two margins (mm) past the ``end`` of a part, or nearer where the part is short or bent.

    A spoke there that is a margin short keeps the window under the chords of the parallel.
    """
    velocity, acceleration = part.source.velocity(end), part.source.acceleration(end)
    speed = abs(velocity)
    step = abs(other - end) * _STEP
    if speed > MIN_CHORD_MM:
        bend = (velocity.conjugate() * acceleration).imag / speed**3
        radius = abs(1 + band.distance_mm * bend) / max(abs(bend), 1e-300)
        step = min(step, min(2 * band.margin_mm, radius / 2) / speed)
    return _Place(part, end + math.copysign(max(step, SAME_T), other - end), is_beyond=True)


def _or_corner(place: _Place, corner: Corner, end: _Place, band: Band, along: float) -> _Place:
    """Return the place, or, if the parts meet in a raised corner, a place in the corner ``along`` (0..1) its turn.

    A corner that is cut straight has no ground beyond the ``end`` of the inverted part.
    """
    if abs(corner.turn_rad) < _STEP or not corner.is_raised(band.distance_mm):
        return place
    if corner.join in ("bevel", "butt"):
        return end
    way = corner.before * np.exp(1j * along * abs(corner.turn_rad) * band.sign)
    return _Place(place.part, place.t, True, corner.at, complex(way))


@dataclass(frozen=True, slots=True, eq=False)
class _Spokes:
    """The spokes of inverted parts, a row of 19 each: outer end, inner end, and whether the core stops short of it."""

    top: Complexes
    foot: Complexes
    is_uncovered: Bools

    @classmethod
    def from_places(cls, places: Sequence[_Place], band: Band) -> _Spokes:
        """Return the spokes of places, those of one inverted part after those of another."""
        at, way, radius = _frames(places, band)
        deep, margin = abs(band.distance_mm), band.margin_mm
        is_beyond = np.array([place.is_beyond for place in places])
        outward = -1j * band.sign * way
        reach = np.minimum(np.where(is_beyond, deep - margin, deep), radius)
        foot = np.zeros(len(at)) if band.is_full else np.minimum(deep - 2 * margin, 0.8 * reach)
        columns = at + outward * reach, at + outward * foot, band.is_full | (radius >= deep - 1.3 * margin)
        return cls(*(column.reshape(-1, _SPOKES + 2) for column in columns))

    def windows(self, rows: Bools) -> boolean.Polygons:
        """Return the windows of three spokes each, overlapping by two, of some of the parts."""
        top, foot, bare = self.top[rows], self.foot[rows], self.is_uncovered[rows]
        row, first = np.nonzero(bare[:, :-2] | bare[:, 1:-1] | bare[:, 2:])
        columns = [top[row, first + k] for k in range(3)] + [foot[row, first + k] for k in (2, 1, 0)]
        return _polygons(np.stack(columns, axis=1))

    def fans(self, rows: Bools, apex: Complexes) -> boolean.Polygons:
        """Return one fan a circular part: all its spokes meet in the centre, ``apex``."""
        rows = rows & self.is_uncovered[:, 1]
        top, foot = self.top[rows], self.foot[rows]
        return _polygons(np.column_stack([top[:, 0], apex[rows], top[:, -1], foot[:, ::-1]]))


def _polygons(corners: Complexes) -> boolean.Polygons:
    """Return one polygon a row of corners."""
    many, size = corners.shape
    return boolean.polygons(corners.ravel(), size * np.arange(many + 1), np.arange(many))


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
