"""Where the ties of a loose part stand: the shortest way first, then opposite, off thin card."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.check.chords import ComplexArray, FloatArray, IntArray
from frameforge.check.spot import Spot
from frameforge.check.width import spot_on
from frameforge.geometry.along import Along
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.region import Region
from frameforge.mend.view import View
from frameforge.mend.wall import along_at, foot

__all__ = ["Tie", "tie_count", "tie_places"]

ONE_NECKS = 3.0
"""A part no wider than this many least necks hangs well on one tie: 4.5 mm at 1.5 mm (common practice, no source)."""
EACH_MM = 60.0
"""Larger ones have two, and one for each of these lengths of their edge (common practice, no source) ..."""
MOST = 6
"""... but no more than this."""
STEP_MM = 0.5
EVEN = 60
LEAST_PLACES, MOST_PLACES = 1, 8
"""Looked for at so many times ``EVEN`` places along the edge: any number up to ``MOST`` falls evenly on them."""
LONGEST = 3.0
"""A further tie is at most so many times as long as the first one ..."""
LEAST_LONGEST_MM = 10.0
"""... or as this, where the first is short."""
LEAST_APART = 0.4
"""Ties nearer than this part of an even share of the edge do no more than one."""
STRAIGHT = 0.7
"""A tie leaves the edge at no more than 45 degrees from square."""
THIN_NECKS = 1.5
"""A tie keeps so many least necks off thin card, where it can."""
OFF_EDGE_MM = 0.03
"""So far from both ends on, a way across may meet no other edge: three chord distances."""

Tie = tuple[complex, complex]
"""The ends of a tie on the edge of the loose part and of another one, mm."""


def tie_count(loose: Region, least_mm: float) -> int:
    """Return how many ties a part wants, by its size: 1 for a small one, 2 to ``MOST`` for others."""
    box = bounds(loose.outer)
    if max(box.width_mm, box.height_mm) <= ONE_NECKS * least_mm:
        return 1
    return min(max(2, math.ceil(Along.from_outline(loose.outer).length_mm / EACH_MM)), MOST)


def tie_places(view: View, loose: Region, to: Sequence[Region], least_mm: float) -> list[Tie]:
    """Return where ties ``least_mm`` wide hold a loose part to some others, at least one.

    The first goes the shortest way. Each further one is as far along the edge from the others as may be, and short;
    where no way across is free or they would be too long, there are fewer.
    """
    nearest = distance(loose.outlines, [outline for part in to for outline in part.outlines])
    first, count = (nearest.at_a, nearest.at_b), tie_count(loose, least_mm)
    ties = [first]
    if count == 1 or nearest.gap_mm == 0:
        return ties
    longest = max(LONGEST * nearest.gap_mm, LEAST_LONGEST_MM)
    ways = _Ways.from_parts(view, nearest.at_a, {view.regions.index(part) for part in to}, longest, least_mm)
    taken = [0.0]
    while len(ties) < count and (best := ways.best(taken, count)) is not None:
        taken.append(float(ways.place[best]))
        ties.append(ways.tie(best))
    return ties


@dataclass(frozen=True, slots=True, eq=False)
class _Ways:
    """The ways across from places along one edge of a loose part, those that are free.

    ``place`` is where along the edge, from ``begin`` on, ``chord`` and ``end`` where the nearest edge of the others is,
    ``cost`` how much is against each: its length, and thin card at its ends.
    """

    view: View
    along: Along
    begin: float
    place: FloatArray
    chord: IntArray
    end: ComplexArray
    cost: FloatArray

    @classmethod
    def from_parts(cls, view: View, first: complex, others: set[int], longest_mm: float, least_mm: float) -> _Ways:
        """Return the ways from the edge that ``first`` lies on to the parts numbered ``others``."""
        spot = _spot_at(view, first)
        along = Along.from_outline(spot.outline)
        begin = along_at(along, spot)
        count = EVEN * min(max(math.ceil(along.length_mm / STEP_MM / EVEN), LEAST_PLACES), MOST_PLACES)
        place = np.arange(count) * (along.length_mm / count)
        start = np.array([along.point(begin + mm) for mm in place.tolist()])
        outward = np.array([-1j * along.direction(begin + mm) for mm in place.tolist()])
        chord, end = _nearest(view, others, start)
        across = end - start
        length = np.abs(across)
        free = (length <= longest_mm) & ((np.conj(outward) * across).real >= STRAIGHT * length) & (length > 0)
        free[free] = _is_clear(view, start[free], end[free])
        thin = [spot.middle for spot in view.survey.card_places if spot.width_mm < least_mm]
        # Rounded, since the way is measured to chords: what is alike shall be decided alike.
        cost = np.round(0.25 * length / longest_mm, 2) + 0.5 * _is_near(thin, start, end, THIN_NECKS * least_mm)
        return cls(view, along, begin, place[free], chord[free], end[free], cost[free])

    def best(self, taken: Sequence[float], count: int) -> int | None:
        """Return the number of the way that stands best beside those taken; None where all are too near to these."""
        whole = self.along.length_mm
        off = np.abs(self.place[:, None] - np.array(taken))
        share = np.minimum(off, whole - off).min(axis=1) / (whole / count)
        score = np.where(share >= LEAST_APART, np.round(np.minimum(share, 1.0) - self.cost, 6), -np.inf)
        return int(np.argmax(score)) if np.isfinite(score).any() else None

    def tie(self, number: int) -> Tie:
        """Return a way from edge to edge, on the true curves."""
        start = self.along.point(self.begin + float(self.place[number]))
        return start, foot(spot_on(self.view.chords, int(self.chord[number]), complex(self.end[number])), start).point


def _spot_at(view: View, point: complex) -> Spot:
    """Return a point of an edge as the spot it is."""
    chord = int(view.chords.tree.query_nearest(shapely.Point(point.real, point.imag), all_matches=False)[0])
    return foot(spot_on(view.chords, chord, point), point)


def _nearest(view: View, parts: set[int], points: ComplexArray) -> tuple[IntArray, ComplexArray]:
    """Return for each point the nearest chord of some parts, and the place on it."""
    chords = view.chords
    mine = np.flatnonzero(np.isin(chords.part[chords.loop], sorted(parts)))
    tree = shapely.STRtree(chords.tree.geometries[mine])
    found = tree.query_nearest(shapely.points(points.real, points.imag), all_matches=False)
    chord = mine[found[1][np.argsort(found[0], kind="stable")]]
    a, step = chords.start[chord], chords.end[chord] - chords.start[chord]
    share = np.clip(((points - a) * np.conj(step)).real / np.abs(step) ** 2, 0, 1)
    return chord, np.asarray(a + share * step)


def _is_clear(view: View, start: ComplexArray, end: ComplexArray) -> list[bool]:
    """Return for each straight way whether no edge lies across it."""
    way = (end - start) / np.abs(end - start)
    reach = np.minimum(OFF_EDGE_MM, np.abs(end - start) / 3)
    ends = np.stack([start + reach * way, end - reach * way], axis=1)
    lines = shapely.linestrings(np.stack([ends.real, ends.imag], axis=-1))
    hit = set(view.chords.tree.query(lines, predicate="intersects")[0].tolist())
    return [k not in hit for k in range(len(start))]


def _is_near(spots: Sequence[complex], start: ComplexArray, end: ComplexArray, near_mm: float) -> FloatArray:
    """Return 1 where an end lies near one of the spots, else 0."""
    if not spots:
        return np.zeros(len(start))
    at = np.array(spots)
    away = np.minimum(np.abs(start[:, None] - at).min(axis=1), np.abs(end[:, None] - at).min(axis=1))
    return np.asarray(away < near_mm, dtype=np.float64)
