"""Stretches of the rings that follow one chain in one direction without a jump."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from frameforge.geometry.ragged import counted, following, from_first, previous
from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.classify import Edges
from frameforge.tolerances import SAME_T

__all__ = ["Rings", "Runs", "find_runs"]


@dataclass(frozen=True, slots=True, eq=False)
class Rings:
    """Closed rings of vertices (mm, the first not repeated): ring k has first[k] .. first[k + 1] - 1."""

    point: Complexes
    first: Ints

    @property
    def next_point(self) -> Complexes:
        """The end of the edge that starts at each vertex."""
        return self.point[following(self.first)]


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """One entry a run, in the order of the rings.

    ``ring``: which ring; ``chain``: which chain, -1 for a lost edge; ``way``: +1 along the chain, -1 against it;
    segment and t of both ends; ``length``: how far it runs in units of chain parameter; ``begin`` and ``finish``:
    the ring's vertices at its ends, mm; ``is_whole``: the run is the whole ring and the whole closed chain.
    """

    ring: Ints
    chain: Ints
    way: Ints
    from_segment: Ints
    from_t: Floats
    to_segment: Ints
    to_t: Floats
    length: Floats
    begin: Complexes
    finish: Complexes
    is_whole: Bools


def find_runs(rings: Rings, edges: Edges, chains: Chains) -> Runs:
    """Return the runs of all rings; every lost edge is a run of its own."""
    sizes = np.diff(rings.first)
    ring = counted(sizes)[0]
    way = np.where(edges.to_t > edges.from_t, 1, -1)
    chain = np.where(edges.segment >= 0, chains.chain[edges.segment], -1)
    base = chains.first[chain]
    start, end = edges.segment - base + edges.from_t, edges.segment - base + edges.to_t
    count = np.diff(chains.first)[chain]
    before = previous(rings.first)
    jump = np.abs(start - end[before])
    jump = np.where(chains.is_open[chain], jump, np.minimum(jump, np.abs(count - jump)))
    is_break = (chain != chain[before]) | (way != way[before]) | (jump > SAME_T) | (edges.segment < 0)
    is_broken = np.logical_or.reduceat(is_break, rings.first[:-1])
    order = from_first(rings.first, is_break)
    head = is_break[order]
    head[rings.first[:-1]] = True
    heads = np.flatnonzero(head)
    tails = np.concatenate([heads[1:], [len(order)]]) - 1
    length = np.add.reduceat(np.abs(end - start)[order], heads)
    first, last = order[heads], order[tails]
    return Runs(
        ring[first], chain[first], way[first],
        edges.segment[first], edges.from_t[first], edges.segment[last], edges.to_t[last], length,
        rings.point[first], rings.next_point[last], ~is_broken[ring[first]],
    )  # fmt: skip
