"""Places where three curves nearly meet: vertices that settle which of them passes on which side.

The guard knows the curves, not yet their crossings. Where a third curve passes close to a crossing, the chords cannot
tell on which side; where false crossings of chords come up, a joint stays without a solution. Both are settled by
giving the true crossings as vertices to all curves there and asking shapely again.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from frameforge.geometry.segment_table import Complexes
from frameforge.geometry.trace.joints import Places, newton
from frameforge.geometry.trace.nearby import NEAR, Added, dropped_feet
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced
from frameforge.tolerances import JOINT_MM

__all__ = ["settling_vertices"]


def settling_vertices(traced: Traced, source: Source) -> Added:
    """Return the vertices that settle what is undecided in a traced result; none if nothing is."""
    added = _near_third_curves(*traced.crossings, source)
    if traced.patched:
        added = Added.joined(added, _crossings_near(np.array(traced.patched), source))
    return added


def _near_third_curves(one: Added, two: Added, source: Source) -> Added:
    """Return vertices at the crossings with a third curve close by, and the feet of these crossings on it.

    ``one`` and ``two`` are the crossings as places on either curve.
    """
    chains, strips = source.chains, source.strips
    crossing, strip = strips.near_points(one.point, NEAR * source.chord_mm)
    segment = strips.segment[strip]
    is_third = np.ones(len(strip), dtype=bool)
    for side in (one, two):
        own = side.segment[crossing]
        is_third &= (segment != own) & (segment != chains.following[own]) & (segment != chains.preceding[own])
    crossing, strip = crossing[is_third], strip[is_third]
    feet = dropped_feet(chains, strips, one.point[crossing], strip, NEAR * source.chord_mm)
    crossing = np.unique(crossing)
    sides = (Added(side.segment[crossing], side.t[crossing], side.point[crossing]) for side in (one, two))
    return Added.joined(feet, *sides)


def _crossings_near(places: Complexes, source: Source) -> Added:
    """Return all crossings of curves within reach of each place, as vertices of both."""
    reach = NEAR * source.chord_mm
    place, strip = source.strips.near_points(places, reach)
    pairs = [
        (number, *pair) for number in range(len(places)) for pair in combinations(strip[place == number].tolist(), 2)
    ]
    if not pairs:
        return Added.nothing()
    number, one, two = np.array(pairs).T
    strips, chains = source.strips, source.chains
    starts = [Places(strips.segment[side], strips.nearest_t(side, places[number])) for side in (one, two)]
    a, b = newton(chains, *starts)
    point = (a.point(chains) + b.point(chains)) / 2
    found = abs(a.point(chains) - b.point(chains)) < JOINT_MM
    found &= (abs(point - places[number]) < 4 * reach) & (strips.segment[one] != strips.segment[two])
    return Added.joined(*(Added(side.segment[found], side.t[found], point[found]) for side in (a, b)))
