"""What is still undecided after a first trace: vertices that settle it, so that shapely can be asked again.

The guard knows most crossings beforehand; others come up only in a result. Where a third curve passes close to one of
them, or where false crossings of chords leave a joint without a solution, the true crossings there become vertices.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from frameforge.geometry.segment_table import Complexes
from frameforge.geometry.trace.added import Added
from frameforge.geometry.trace.crossings import crossings, near_third_curves
from frameforge.geometry.trace.nearby import NEAR
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced

__all__ = ["settling_vertices"]


def settling_vertices(traced: Traced, source: Source) -> Added:
    """Return the vertices that settle what is undecided in a traced result; none if nothing is."""
    reach = NEAR * source.chord_mm
    added = near_third_curves(source.chains, source.strips, *traced.crossings, reach)
    if traced.patched:
        added = Added.joined(added, _crossings_near(np.array(traced.patched), source, reach))
    return added


def _crossings_near(places: Complexes, source: Source, reach_mm: float) -> Added:
    """Return all crossings of curves within reach of each place, as vertices of both."""
    place, strip = source.strips.near_points(places, reach_mm)
    pairs = [
        (number, *pair) for number in range(len(places)) for pair in combinations(strip[place == number].tolist(), 2)
    ]
    if not pairs:
        return Added.nothing()
    number, one, two = np.array(pairs).T
    starts = [source.strips.nearest_t(side, places[number]) for side in (one, two)]
    return Added.joined(*crossings(source.chains, source.strips, (one, two), (starts[0], starts[1])))
