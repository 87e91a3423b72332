"""Source outlines as chains of segments in one table."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import ARC, Bools, Ints, SegmentTable
from frameforge.geometry.trace.clusters import clusters
from frameforge.tolerances import WELD_MM

__all__ = ["Chains"]


@dataclass(frozen=True, slots=True, eq=False)
class Chains:
    """Chains of segments: chain k is the rows first[k] .. first[k + 1] - 1 of ``table``.

    A **chain parameter** is the place of a segment in its chain plus t: 2.25 is a quarter along the third segment. A
    closed chain wraps (its last segment ends where its first starts); an open one has two free ends.
    """

    table: SegmentTable
    first: Ints
    is_open: Bools
    chain: Ints = field(init=False, repr=False)
    """The number of the chain each segment belongs to."""
    following: Ints = field(init=False, repr=False)
    """The segment after each one on its chain; -1 past a free end."""
    preceding: Ints = field(init=False, repr=False)
    """The segment before each one on its chain; -1 past a free end."""

    def __post_init__(self) -> None:
        """Work out the neighbours."""
        after, before = np.arange(1, len(self.table) + 1), np.arange(-1, len(self.table) - 1)
        after[self.first[1:] - 1] = np.where(self.is_open, -1, self.first[:-1])
        before[self.first[:-1]] = np.where(self.is_open, -1, self.first[1:] - 1)
        chain = np.repeat(np.arange(len(self.is_open)), np.diff(self.first))
        for name, value in (("chain", chain), ("following", after), ("preceding", before)):
            object.__setattr__(self, name, value)

    @classmethod
    def from_segments(cls, chains: Sequence[Sequence[Segment]], is_open: Sequence[bool] | None = None) -> Chains:
        """Return the chains of the given segments, arcs split to at most 90 degrees; closed unless said otherwise."""
        table = SegmentTable.from_segments([segment for chain in chains for segment in chain])
        first = np.concatenate([[0], np.cumsum([len(chain) for chain in chains])]).astype(np.intp)
        opened = np.zeros(len(chains), dtype=bool) if is_open is None else np.array(is_open, dtype=bool)
        return cls(table, first, opened).with_short_arcs()

    @classmethod
    def joined(cls, parts: Iterable[Chains]) -> Chains:
        """Return the chains of all ``parts``, one part after another."""
        kept = list(parts)
        lengths = np.concatenate([np.diff(part.first) for part in kept])
        first = np.concatenate([[0], np.cumsum(lengths)]).astype(np.intp)
        return cls(
            SegmentTable.joined(part.table for part in kept), first, np.concatenate([part.is_open for part in kept])
        )

    def moved(self, placements: Sequence[Affine]) -> Chains:
        """Return copies of all chains under each map: all chains under the first map, then under the second, ..."""
        many = len(placements)
        first = np.concatenate([[0], np.cumsum(np.tile(np.diff(self.first), many))]).astype(np.intp)
        return Chains(self.table.moved(placements), first, np.tile(self.is_open, many))

    def welded(self) -> Chains:
        """Return the chains with all joints that lie within WELD_MM of each other made equal to the bit.

        Copies of one motif that should meet in a point meet only to rounding; shapely would see a crossing or a slit
        a few 1e-14 mm wide. The lexicographically smallest of the joints stands for all.
        """
        ends = np.concatenate([self.table.start, self.table.end])
        label = clusters((ends.real, ends.imag), WELD_MM)
        order = np.lexsort((ends.imag, ends.real, label))
        ends = ends[order[np.searchsorted(label[order], np.arange(label.max() + 1))]][label]
        half = len(self.table)
        welded = replace(self, table=replace(self.table, start=ends[:half], end=ends[half:]))
        return welded._without_points()

    def with_short_arcs(self) -> Chains:
        """Return the chains with every arc split into equal arcs of at most 90 degrees, so that Newton steps in t
        mean alike for all segments."""
        table = self.table
        quarters = np.ceil(np.abs(table.sweep) / (math.pi / 2) - 1e-9)
        parts = np.where(table.kind == ARC, np.maximum(quarters, 1), 1).astype(np.intp)
        if (parts == 1).all():
            return self
        row = np.repeat(np.arange(len(parts)), parts)
        step = np.arange(len(row)) - np.repeat(np.cumsum(parts) - parts, parts)
        sweep = table.sweep[row] / parts[row]
        split = replace(table.taken(row), q0=table.q0[row] + step * sweep, sweep=sweep)
        inner = np.flatnonzero(step > 0)
        joint = split.point(inner, np.zeros(len(inner)))
        split.start[inner], split.end[inner - 1] = joint, joint
        first = np.concatenate([[0], np.cumsum(parts)])[self.first].astype(np.intp)
        return Chains(split, first, self.is_open)

    def _without_points(self) -> Chains:
        """Return the chains without lines and cubics that have no length; a chain of nothing else keeps one of them."""
        table = self.table
        spread = np.maximum(abs(table.k1 - table.start), abs(table.k2 - table.start))
        is_kept = (table.kind == ARC) | (table.start != table.end) | (spread > WELD_MM)
        if is_kept.all():
            return self
        kept_before = np.concatenate([[0], np.cumsum(is_kept)])
        is_kept[self.first[:-1]] |= kept_before[self.first[1:]] == kept_before[self.first[:-1]]
        first = np.concatenate([[0], np.cumsum(is_kept)])[self.first].astype(np.intp)
        return Chains(table.taken(np.flatnonzero(is_kept)), first, self.is_open)
