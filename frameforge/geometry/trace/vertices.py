"""Chains cut into chords, every vertex with its segment and its t."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from frameforge.geometry.ragged import counted
from frameforge.geometry.segment_table import LINE, Complexes, Floats, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.shared import shared_vertices

__all__ = ["Vertices", "flatten_chains", "ordered"]


@dataclass(frozen=True, slots=True, eq=False)
class Vertices:
    """The vertices of all chains in order: chain k has first[k] .. first[k + 1] - 1. Chord v runs from vertex v to
    ``after[v]``, which is -1 at the last vertex of an open chain. A joint belongs to the segment that starts there
    (t = 0); only a free end has t = 1."""

    point: Complexes
    segment: Ints
    t: Floats
    first: Ints
    after: Ints

    @property
    def chord_end_t(self) -> Floats:
        """The t at the end of chord v, on the segment of vertex v."""
        stays = (self.segment[self.after] == self.segment) & (self.t[self.after] > self.t)
        return np.where(stays, self.t[self.after], 1.0)


def flatten_chains(chains: Chains, labels: Ints, chord_mm: float | Floats) -> Vertices:
    """Return the chords of all chains, each within ``chord_mm`` of its segment (one for all or one a segment), in
    equal steps of t.

    Segments that share a support (``labels``) with a segment of another chain get vertices from one common grid with
    all their ends, so that stretches they share have the very same chords. A closed chain has at least three vertices.
    """
    table = chains.table
    counts = _at_least_a_triangle(chains, table.chord_counts(chord_mm))
    shared = shared_vertices(chains, labels, counts, chord_mm)
    counts = counts.copy()
    counts[shared.rows] = 0
    segment, step = counted(counts)
    t = step / counts[segment]
    point = table.point(segment, t)
    point[step == 0] = table.start[segment[step == 0]]
    free = chains.first[1:][chains.is_open] - 1
    return ordered(
        chains,
        np.concatenate([segment, shared.segment, free]),
        np.concatenate([t, shared.t, np.ones(len(free))]),
        np.concatenate([point, shared.point, table.end[free]]),
    )


def ordered(chains: Chains, segment: Ints, t: Floats, point: Complexes) -> Vertices:
    """Return the vertices sorted along their chains; of two with the same segment and t the first given is kept."""
    if not _is_ordered(segment, t):
        order = np.lexsort((t, segment))
        segment, t, point = segment[order], t[order], point[order]
        is_new = np.ones(len(order), dtype=bool)
        is_new[1:] = (np.diff(segment) != 0) | (np.diff(t) > 0)
        segment, t, point = segment[is_new], t[is_new], point[is_new]
    first = np.searchsorted(segment, chains.first).astype(np.intp)
    after = np.arange(1, len(segment) + 1)
    after[first[1:] - 1] = np.where(chains.is_open, -1, first[:-1])
    return Vertices(point, segment, t, first, after)


def _is_ordered(segment: Ints, t: Floats) -> bool:
    """Return whether the vertices ascend by segment, then t, without repeats."""
    return bool(((np.diff(segment) > 0) | ((np.diff(segment) == 0) & (np.diff(t) > 0))).all())


def _at_least_a_triangle(chains: Chains, counts: Ints) -> Ints:
    """Return the counts, raised on closed chains that would have fewer than three vertices."""
    totals = np.add.reduceat(counts, chains.first[:-1])
    if (totals >= 3).all():
        return counts
    least = -(-3 // np.diff(chains.first))
    few = (totals < 3) & ~chains.is_open
    raised = np.maximum(counts, np.where(few, least, 1)[chains.chain])
    return np.where(few[chains.chain] & (chains.table.kind == LINE), counts, raised)
