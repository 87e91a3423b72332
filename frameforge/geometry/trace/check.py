"""The last look at a traced result: do its outlines cross themselves or each other?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.geometry.boolean import shared_points
from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.added import perpendicular
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.crossings import crossings
from frameforge.geometry.trace.nearby import NEAR, near_pairs, with_near_places
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import flatten_chains
from frameforge.tolerances import JOINT_MM, TOUCH_MM

__all__ = ["Checked", "checked"]

_SHARP_RAD = 0.2  # chords turn off their curves by this much at most where radii are above 1 mm (chord .01 mm)


@dataclass(frozen=True, slots=True)
class Checked:
    """Places (mm) where the outlines of a result cross, which they should not, and where they meet in a point."""

    crossed: tuple[complex, ...] = ()
    touches: tuple[complex, ...] = ()


def checked(chains: Chains, candidates: tuple[complex, ...], chord_mm: float) -> Checked:
    """Return where closed chains cross, and at which of the candidates they touch.

    The chains are cut into chords anew and guarded as sources are, so that curves closer than ``chord_mm`` that do
    not cross are not taken for crossing.
    """
    chains = chains.with_short_arcs()
    labels = support_labels(chains.table)
    vertices = flatten_chains(chains, labels, chord_mm)
    strips = Strips.from_vertices(chains, vertices)
    crossed = _crossing_points(chains, strips, *_strips_at_corners(chains, strips))
    touches = _touches(chains, strips, np.array(candidates, dtype=np.complex128), chord_mm)
    one, two = near_pairs(chains, labels, strips, NEAR * chord_mm)
    if len(one):
        strips = Strips.from_vertices(chains, with_near_places(chains, labels, vertices, strips, chord_mm))
        one, two = near_pairs(chains, labels, strips, 0.0)
        crossed = np.concatenate([crossed, _crossing_points(chains, strips, one, two)])
    return Checked(tuple(crossed.tolist()), tuple(touches.tolist()))


def _touches(chains: Chains, strips: Strips, place: Complexes, chord_mm: float) -> Complexes:
    """Return the places that the outlines pass at least twice; a joint with its two ends counts as one pass."""
    if not len(place):
        return place
    number, strip = strips.near_points(place, NEAR * chord_mm)
    number, row = np.unique(np.stack([number, strips.segment[strip]]), axis=1)
    table, point = chains.table, place[number]
    ends = sum((abs(end[row] - point) <= TOUCH_MM).astype(np.intp) for end in (table.start, table.end))
    t = perpendicular(table, row, _nearest_sample(table, row, point), point)
    inside = (ends == 0) & (abs(table.point(row, t) - point) <= TOUCH_MM)
    found = place[np.bincount(number, ends + 2 * inside, minlength=len(place)) >= 4]
    return np.asarray(found[np.lexsort((np.round(found.imag, 8), np.round(found.real, 8)))])


def _nearest_sample(table: SegmentTable, row: Ints, point: Complexes) -> Floats:
    """Return t of the nearest of 65 samples of each segment."""
    t = np.linspace(0, 1, 65)
    samples = table.point(np.repeat(row, len(t)), np.tile(t, len(row))).reshape(-1, len(t))
    return np.asarray(t[np.argmin(abs(samples - point[:, None]), axis=1)])


def _strips_at_corners(chains: Chains, strips: Strips) -> tuple[Ints, Ints]:
    """Return the strips before and after every corner that is sharp enough for its chords to tell the curves apart."""
    table, after = chains.table, chains.following
    every = np.arange(len(table))
    arrives, leaves = table.velocity(every, np.ones(len(every))), table.velocity(after, np.zeros(len(every)))
    turn = np.abs(np.angle(leaves * arrives.conj()))
    corner = np.flatnonzero((turn > _SHARP_RAD) & (turn < np.pi - _SHARP_RAD) & (after != every))
    last = np.searchsorted(strips.segment, corner, side="right") - 1
    return last, np.searchsorted(strips.segment, after[corner])


def _crossing_points(chains: Chains, strips: Strips, one: Ints, two: Ints) -> Complexes:
    """Return where the curves of each pair of strips cross, once each, leaving out vertices of both.

    The chords show where; that the curves do cross there, and not only their chords, Newton has to confirm.
    """
    is_crossed = shapely.crosses(strips.lines[one], strips.lines[two])
    one, two = one[is_crossed], two[is_crossed]
    point, pair = shared_points(strips.lines[one], strips.lines[two])
    is_vertex = np.ones(len(point), dtype=bool)
    for side in (one, two):
        is_vertex &= (abs(strips.points[side[pair]] - point[:, None]) <= JOINT_MM).any(axis=1)
    point, pairs = point[~is_vertex], (one[pair[~is_vertex]], two[pair[~is_vertex]])
    starts = strips.nearest_t(pairs[0], point), strips.nearest_t(pairs[1], point)
    found = np.unique(np.round(crossings(chains, strips, pairs, starts)[0].point, 8))
    is_joint = abs(found[:, None] - chains.table.start[None, :]).min(axis=1, initial=np.inf) <= 10 * JOINT_MM
    return np.asarray(found[~is_joint])
