"""Runs cut out of their chains and joined up into outlines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.ragged import counted, from_first, previous, row_starts
from frameforge.geometry.segment_table import ARC, CUBIC, LINE, Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.joints import Places

__all__ = ["Pieces", "cut_pieces", "from_smallest_joint", "merged", "to_table"]


@dataclass(frozen=True, slots=True, eq=False)
class Pieces:
    """Parts of segments, one after another round each ring: row -1 is a plain line between its ends (mm)."""

    ring: Ints
    row: Ints
    from_t: Floats
    to_t: Floats
    start: Complexes
    end: Complexes

    @classmethod
    def joined(cls, parts: Sequence[Pieces]) -> Pieces:
        """Return the pieces of all parts, one part after another."""
        return cls(*(np.concatenate([getattr(part, name) for part in parts]) for name in cls.__slots__))

    def taken(self, order: Ints) -> Pieces:
        """Return the pieces with the given numbers."""
        return Pieces(*(getattr(self, name)[order] for name in self.__slots__))


def cut_pieces(
    chains: Chains,
    ring: Ints,
    way: Ints,
    ends: tuple[Places, Places],
    length: Floats,
    points: tuple[Complexes, Complexes],
) -> Pieces:
    """Return the pieces of runs that go ``length`` (chain parameter) along (+1) or against (-1) their chain.

    ``ends`` are the places of both ends, ``points`` the solved joints (mm) that stand there; each has one entry a run.
    """
    start, stop = (_facing(chains, place, along) for place, along in zip(ends, (way, -way), strict=True))
    many = np.rint(length - way * (stop.t - start.t)).astype(np.intp) + 1
    many = np.maximum(many, 1)
    run, step = counted(many)
    is_first, is_last = step == 0, step == many[run] - 1
    chain = chains.chain[start.segment]
    base, count = chains.first[chain], np.diff(chains.first)[chain]
    row = base[run] + (start.segment[run] - base[run] + way[run] * step) % count[run]
    begin_t, end_t = np.where(way > 0, 0.0, 1.0)[run], np.where(way > 0, 1.0, 0.0)[run]
    forth = way[run] > 0
    joint = np.where(forth, chains.table.start[row], chains.table.end[row])
    next_joint = np.where(forth, chains.table.end[row], chains.table.start[row])
    return Pieces(
        ring[run], row,
        np.where(is_first, start.t[run], begin_t), np.where(is_last, stop.t[run], end_t),
        np.where(is_first, points[0][run], joint), np.where(is_last, points[1][run], next_joint),
    )  # fmt: skip


def _facing(chains: Chains, places: Places, way: Ints) -> Places:
    """Return the places with those at a joint put on the segment that lies ahead in the direction ``way``."""
    after, before = chains.following[places.segment], chains.preceding[places.segment]
    on = (places.t == 1) & (way > 0) & (after >= 0)
    back = (places.t == 0) & (way < 0) & (before >= 0)
    segment = np.where(on, after, np.where(back, before, places.segment))
    return Places(segment, np.where(on, 0.0, np.where(back, 1.0, places.t)))


def merged(pieces: Pieces, table: SegmentTable, labels: Ints) -> tuple[Pieces, Floats]:
    """Return the pieces with neighbours on one line, circle or ellipse made one, and the angle each turns through.

    The angle (radians, in the frame of the piece's row) is 0 for lines and cubics. A ring that is one whole circle or
    ellipse becomes one piece of a full turn that starts on the long axis.
    """
    turn = np.where(table.kind[pieces.row] == ARC, table.sweep[pieces.row], 0.0) * (pieces.to_t - pieces.from_t)
    turn[pieces.row < 0] = 0.0
    first = row_starts(pieces.ring)
    is_break = ~_continues(pieces, previous(first), table, labels, turn)
    whole = ~np.logical_or.reduceat(is_break, first[:-1])
    order = from_first(first, is_break)
    head = is_break[order]
    head[first[:-1]] = True
    heads = np.flatnonzero(head)
    tails = np.concatenate([heads[1:], [len(order)]]) - 1
    begin, finish = order[heads], order[tails]
    total = np.add.reduceat(turn[order], heads)
    kept = pieces.taken(begin)
    joined = Pieces(kept.ring, kept.row, kept.from_t, pieces.to_t[finish], kept.start, pieces.end[finish])
    full = np.flatnonzero(whole[np.searchsorted(first, begin, side="right") - 1])
    return _with_full_turns(joined, total, full, table)


def _with_full_turns(pieces: Pieces, turn: Floats, full: Ints, table: SegmentTable) -> tuple[Pieces, Floats]:
    """Return the pieces with those numbered ``full`` made whole ellipses from the end of the long axis."""
    row = pieces.row[full]
    start, end, from_t, turn = pieces.start.copy(), pieces.end.copy(), pieces.from_t.copy(), turn.copy()
    start[full] = end[full] = table.k1[row] + table.k2[row]
    from_t[full] = -table.q0[row] / table.sweep[row]
    turn[full] = np.copysign(math.tau, turn[full])
    return Pieces(pieces.ring, pieces.row, from_t, pieces.to_t, start, end), turn


def _continues(pieces: Pieces, earlier: Ints, table: SegmentTable, labels: Ints, turn: Floats) -> Bools:
    """Return which pieces go on along the support of the piece before them."""
    row, before = pieces.row, pieces.row[earlier]
    kind = table.kind[row]
    along = pieces.end - pieces.start
    onward = (along * along[earlier].conj()).real > 0
    same_way = np.where(kind == ARC, turn * turn[earlier] > 0, onward)
    return np.asarray((row >= 0) & (before >= 0) & (labels[row] == labels[before]) & (kind != CUBIC) & same_way)


def to_table(pieces: Pieces, turn: Floats, table: SegmentTable) -> tuple[SegmentTable, Ints]:
    """Return the pieces as a table of segments, each ring from its smallest joint on, and where the rings start."""
    first = row_starts(pieces.ring)
    order = from_smallest_joint(pieces.start, first)
    pieces, turn = pieces.taken(order), turn[order]
    row, start, end = pieces.row, pieces.start, pieces.end
    kind = np.where(row >= 0, table.kind[row], LINE).astype(np.uint8)
    is_arc, is_line = kind == ARC, kind == LINE
    near, far = _handles(table, row, pieces.from_t, pieces.to_t)
    third = (end - start) / 3
    near, far = np.where(is_line, start + third, near), np.where(is_line, end - third, far)
    k1, k2 = np.where(is_arc, table.k1[row], near), np.where(is_arc, table.k2[row], far)
    angle = table.q0[row] + pieces.from_t * table.sweep[row]
    angle = np.where(is_arc, angle - math.tau * np.ceil(angle / math.tau - 0.5), 0.0)
    k3 = np.where(is_arc, table.k3[row], 0)
    return SegmentTable(kind, start, end, k1, k2, k3, angle, np.where(is_arc, turn, 0.0)), first


def from_smallest_joint(start: Complexes, first: Ints) -> Ints:
    """Return an order in which each ring starts at its lexicographically smallest joint (compared at 1e-8 mm)."""
    number = counted(np.diff(first))[0]
    order = np.lexsort((np.round(start.imag, 8), np.round(start.real, 8), number))
    is_head = np.zeros(len(order), dtype=bool)
    is_head[order[first[:-1]]] = True
    return from_first(first, is_head)


def _handles(table: SegmentTable, row: Ints, t0: Floats, t1: Floats) -> tuple[Complexes, Complexes]:
    """Return both handles of the pieces, as if all were cubics: the polar forms b(t0, t0, t1) and b(t0, t1, t1)
    (Farin, Curves and Surfaces for CAGD, ch. 4); whole segments keep theirs to the bit."""
    p0, p1, p2, p3 = table.start[row], table.k1[row], table.k2[row], table.end[row]

    def blossom(r: Floats, s: Floats, t: Floats) -> Complexes:
        a, b, c = p0 + r * (p1 - p0), p1 + r * (p2 - p1), p2 + r * (p3 - p2)
        d = a + s * (b - a)
        return np.asarray(d + t * (b + s * (c - b) - d), dtype=np.complex128)

    whole, reverse = (t0 == 0) & (t1 == 1), (t0 == 1) & (t1 == 0)
    near = np.where(whole, p1, np.where(reverse, p2, blossom(t0, t0, t1)))
    return near, np.where(whole, p2, np.where(reverse, p1, blossom(t0, t1, t1)))
