"""The last look at a traced result: do its outlines cross themselves or each other?"""

from __future__ import annotations

import numpy as np

from frameforge.geometry.boolean import shared_points
from frameforge.geometry.segment_table import Complexes, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.nearby import NEAR, near_pairs, with_near_places
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import flatten_chains
from frameforge.tolerances import JOINT_MM

__all__ = ["crossings"]

_SHARP_RAD = 0.2  # chords turn off their curves by this much at most where radii are above 1 mm (chord .01 mm)


def crossings(chains: Chains, chord_mm: float) -> tuple[complex, ...]:
    """Return places (mm) where closed chains that should not cross do; meeting in a point is no crossing.

    The chains are cut into chords anew and guarded as sources are, so that curves closer than ``chord_mm`` that do
    not cross are not taken for crossing.
    """
    chains = chains.with_short_arcs()
    labels = support_labels(chains.table)
    vertices = flatten_chains(chains, labels, chord_mm)
    strips = Strips.from_vertices(chains, vertices)
    corner = _crossing_points(strips, *_strips_at_corners(chains, strips))
    one, two = near_pairs(chains, labels, strips, NEAR * chord_mm)
    if not len(one):
        return tuple(corner.tolist())
    strips = Strips.from_vertices(chains, with_near_places(chains, labels, vertices, strips, chord_mm))
    one, two = near_pairs(chains, labels, strips, 0.0)
    return (*corner.tolist(), *_crossing_points(strips, one, two).tolist())


def _strips_at_corners(chains: Chains, strips: Strips) -> tuple[Ints, Ints]:
    """Return the strips before and after every corner that is sharp enough for its chords to tell the curves apart."""
    table, after = chains.table, chains.following
    every = np.arange(len(table))
    arrives, leaves = table.velocity(every, np.ones(len(every))), table.velocity(after, np.zeros(len(every)))
    turn = np.abs(np.angle(leaves * arrives.conj()))
    corner = np.flatnonzero((turn > _SHARP_RAD) & (turn < np.pi - _SHARP_RAD) & (after != every))
    last = np.searchsorted(strips.segment, corner, side="right") - 1
    return last, np.searchsorted(strips.segment, after[corner])


def _crossing_points(strips: Strips, one: Ints, two: Ints) -> Complexes:
    """Return where the strips of each pair cross, leaving out vertices of both."""
    point, pair = shared_points(strips.lines[one], strips.lines[two])
    is_vertex = np.ones(len(point), dtype=bool)
    for side in (one, two):
        is_vertex &= (abs(strips.points[side[pair]] - point[:, None]) <= JOINT_MM).any(axis=1)
    return np.asarray(point[~is_vertex])
