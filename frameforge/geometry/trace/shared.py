"""The very same vertices for segments that lie on one support.

Two segments that run along each other must be cut into the very same chords, else shapely finds hundreds of false
crossings between chords that differ in the last bit. On each shared line, circle or ellipse all ends of all members
and, for arcs, a grid of equal angles are put in one row of **nodes**; every member takes the nodes between its ends.
Equal cubics take the vertices of the first of them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.ragged import counted
from frameforge.geometry.segment_table import ARC, CUBIC, LINE, Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.clusters import clusters
from frameforge.tolerances import WELD_MM

__all__ = ["Shared", "shared_vertices"]

_CLEAR = 1e-3  # grid nodes nearer than this part of a step to an end are left out: they would be needless short chords


@dataclass(frozen=True, slots=True, eq=False)
class Shared:
    """Vertices of the segments ``rows``: segment, t in [0, 1) and point of each."""

    rows: Ints
    segment: Ints
    t: Floats
    point: Complexes


def shared_vertices(chains: Chains, labels: Ints, counts: Ints, chord_mm: float | Floats) -> Shared:
    """Return the common vertices of all segments whose support also carries a segment of another chain.

    ``counts`` tells how many chords each segment needs within ``chord_mm`` (one for all or one a segment); the finest
    of a support sets its grid.
    """
    rows = _rows_shared_between_chains(chains, labels)
    parts = []
    for kind in (LINE, ARC, CUBIC):
        some = rows[chains.table.kind[rows] == kind]
        if len(some):
            group = np.unique(labels[some], return_inverse=True)[1]
            if kind == CUBIC:
                parts.append(_copied_cubics(chains.table, some, group, counts))
            else:
                parts.append(_common_nodes(chains.table, some, group, chains.table.arc_steps(chord_mm)[some]))
    if not parts:
        return Shared(rows, rows, np.zeros(0), np.zeros(0, dtype=np.complex128))
    segment, t, point = (np.concatenate(column) for column in zip(*parts, strict=True))
    return Shared(rows, segment, t, point)


def _rows_shared_between_chains(chains: Chains, labels: Ints) -> Ints:
    """Return the segments whose label occurs on more than one chain."""
    chain = chains.chain
    least = np.full(labels.max() + 1, len(chain))
    most = np.full(labels.max() + 1, -1)
    np.minimum.at(least, labels, chain)
    np.maximum.at(most, labels, chain)
    return np.flatnonzero((least < most)[labels])


def _common_nodes(table: SegmentTable, rows: Ints, group: Ints, step: Floats) -> tuple[Ints, Floats, Complexes]:
    """Return segment, t, point of the nodes each line or each arc takes from the row of nodes of its group."""
    leader = rows[np.unique(group, return_index=True)[1]][group]
    is_arc = bool(table.kind[rows[0]] == ARC)
    low, span, is_reversed = (_arc_places if is_arc else _line_places)(table, rows, leader)
    mm = abs(table.k2[leader]) if is_arc else np.ones(len(rows))
    high = _in_turn(low + span, mm) if is_arc else low + span
    points = [table.start[rows], table.end[rows]]
    points = [np.where(is_reversed, points[1 - i], points[i]) for i in (0, 1)]
    nodes = _Nodes.from_ends(np.tile(group, 2), np.concatenate([low, high]), np.concatenate(points), np.tile(mm, 2))
    if is_arc:
        nodes = nodes.with_added(*_grid(table, leader, group, low, span, step, nodes))
    begin, end = nodes.of_end[: len(rows)], nodes.of_end[len(rows) :]
    size = np.bincount(nodes.group)[group]
    first = np.searchsorted(nodes.group, group)
    many = np.maximum((end - begin) % size, 1)
    member, number = counted(many)
    number += is_reversed[member]
    node = first[member] + (begin[member] - first[member] + number) % size[member]
    along = (nodes.place[node] - low[member]) % math.tau if is_arc else nodes.place[node] - low[member]
    t = np.where(is_reversed[member], 1 - along / span[member], along / span[member])
    is_start = node == np.where(is_reversed, end, begin)[member]
    return rows[member], np.where(is_start, 0.0, np.clip(t, 1e-12, 1 - 1e-12)), nodes.point[node]


@dataclass(frozen=True, slots=True, eq=False)
class _Nodes:
    """Rows of nodes: group, place along the support and point, sorted; ``of_end`` tells the node of every end."""

    group: Ints
    place: Floats
    point: Complexes
    of_end: Ints

    @classmethod
    def from_ends(cls, group: Ints, place: Floats, point: Complexes, mm: Floats) -> _Nodes:
        """Return one node for all ends of a group that lie in one place; ``mm`` is the length of a unit of place."""
        label = clusters((group.astype(np.float64), place * mm), WELD_MM)
        kept = np.unique(label, return_index=True)[1]
        return cls(group[kept], place[kept], point[kept], label)._in_order()

    def with_added(self, group: Ints, place: Floats, point: Complexes) -> _Nodes:
        """Return the rows with further nodes."""
        return _Nodes(
            np.concatenate([self.group, group]),
            np.concatenate([self.place, place]),
            np.concatenate([self.point, point]),
            self.of_end,
        )._in_order()

    def _in_order(self) -> _Nodes:
        order = np.lexsort((self.place, self.group))
        rank = np.empty(len(order), dtype=np.intp)
        rank[order] = np.arange(len(order))
        return _Nodes(self.group[order], self.place[order], self.point[order], rank[self.of_end])


def _arc_places(table: SegmentTable, rows: Ints, leader: Ints) -> tuple[Floats, Floats, Bools]:
    """Return the lower end angle in [0, tau) in the leader's frame, the span, and whether the arc runs downwards."""
    half_turn = np.where((table.k2[rows] * table.k2[leader].conj()).real < 0, math.pi, 0.0)
    sweep = table.sweep[rows]
    low = np.where(sweep < 0, table.q0[rows] + sweep, table.q0[rows]) + half_turn
    return _in_turn(low, abs(table.k2[rows])), np.abs(sweep), sweep < 0


def _in_turn(angle: Floats, radius: Floats) -> Floats:
    """Return the angles brought into [0, tau); those that miss a whole turn by rounding become 0."""
    turned = angle % math.tau
    return np.where((math.tau - turned) * radius < WELD_MM, 0.0, turned)


def _line_places(table: SegmentTable, rows: Ints, leader: Ints) -> tuple[Floats, Floats, Bools]:
    """Return the lower end's place in mm along the leader's direction, the length, and whether the line runs back."""
    along = table.end[leader] - table.start[leader]
    direction = (along / abs(along)).conj()
    start, end = (direction * table.start[rows]).real, (direction * table.end[rows]).real
    return np.minimum(start, end), np.abs(end - start), end < start


def _grid(
    table: SegmentTable, leader: Ints, group: Ints, low: Floats, span: Floats, step: Floats, ends: _Nodes
) -> tuple[Ints, Floats, Complexes]:
    """Return group, angle and point of the nodes at whole multiples of the group's finest step, clear of its ends."""
    finest = np.full(group.max() + 1, np.inf)
    np.minimum.at(finest, group, step)
    cells = np.ceil(math.tau / finest * (1 - 1e-9)).astype(np.intp)
    width = math.tau / cells
    begin = np.ceil(low / width[group]).astype(np.intp)
    many = np.maximum(np.floor((low + span) / width[group]).astype(np.intp) - begin + 1, 0)
    member, step_in = counted(many)
    cell = begin[member] + step_in
    base = np.cumsum(cells) - cells
    wanted, source = np.unique(base[group[member]] + cell % cells[group[member]], return_index=True)
    nearest = np.rint(ends.place / width[ends.group])
    is_near = np.abs(ends.place - nearest * width[ends.group]) < _CLEAR * width[ends.group]
    taken = (base[ends.group] + nearest.astype(np.intp) % cells[ends.group])[is_near]
    is_kept = ~np.isin(wanted, taken)
    wanted, row = wanted[is_kept], leader[member[source[is_kept]]]
    group = np.searchsorted(base, wanted, side="right") - 1
    angle = (wanted - base[group]) * width[group]
    point = table.k1[row] + table.k2[row] * np.cos(angle) + table.k3[row] * np.sin(angle)
    return group, angle, point


def _copied_cubics(table: SegmentTable, rows: Ints, group: Ints, counts: Ints) -> tuple[Ints, Floats, Complexes]:
    """Return segment, t, point of equal cubics: the first of each group is evaluated, the others take its points."""
    leader = np.unique(group, return_index=True)[1]
    most = np.zeros(len(leader), dtype=np.intp)
    np.maximum.at(most, group, counts[rows])
    many = most[group]
    member, step = counted(many)
    lead = rows[leader[group]]
    is_reversed = _runs_against(table, rows, lead)[member]
    t = step / many[member]
    lead_t = np.where(is_reversed, (many[member] - step) / many[member], t)
    point = table.point(lead[member], lead_t)
    point[step == 0] = table.start[rows]
    return rows[member], t, point


def _runs_against(table: SegmentTable, rows: Ints, lead: Ints) -> Bools:
    """Return whether each cubic runs from its leader's end to its start."""
    forth = abs(table.start[rows] - table.start[lead]) + abs(table.k1[rows] - table.k1[lead])
    back = abs(table.start[rows] - table.end[lead]) + abs(table.k1[rows] - table.k2[lead])
    return back < forth
