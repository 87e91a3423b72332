"""The polygons whose union with the core has the parallels' chords for its edges.

A **ribbon** lies along one parallel segment: its chords outside, the same vertices moved back towards the source
inside, closed by two **spokes**. Two ribbons that share a spoke may leave a crack of rounding between them, so a
**cover** lies across every spoke. Round a raised corner the ribbon is the whole sector or kite down to the corner.
Under inverted parts, where there is no parallel curve, lies what ``fillers`` makes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.ragged import counted
from frameforge.geometry.ribbon.chains import ParallelChain
from frameforge.geometry.ribbon.corners import Corner
from frameforge.geometry.segment_table import Complexes, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.vertices import Vertices

__all__ = ["Band", "corner_polygons", "ribbon_polygons"]


@dataclass(frozen=True, slots=True)
class Band:
    """How far the parallels lie from the source (mm, to the right of it) and how deep the ribbons reach back.

    The core ends ``margin_mm`` short of the parallels, in the middle of the ribbons. ``is_full``: it is held back at
    ends of lines too, so fillers must reach down to the source.
    """

    distance_mm: float
    is_full: bool = False

    @property
    def margin_mm(self) -> float:
        """The width from the core's edge to the parallels: an eighth of the distance."""
        return abs(self.distance_mm) / 8

    @property
    def sign(self) -> float:
        """The number +1 to the right of the source, -1 to the left."""
        return float(np.sign(self.distance_mm))


def ribbon_polygons(chains: Chains, vertices: Vertices, at_corner: Sequence[bool], band: Band) -> boolean.Polygons:
    """Return the ribbons of all segments that are not ``at_corner``, and the covers between neighbours."""
    strips = _Strips.from_vertices(chains, vertices, band)
    plain = ~np.array(at_corner, dtype=bool)
    rows = np.flatnonzero(plain)
    point, first = strips.rings(rows)
    ribbons = boolean.polygons(point, first, np.arange(len(rows)))
    after = chains.following
    seams = np.flatnonzero(plain & (after >= 0) & plain[after])
    covers = strips.covers(seams, after[seams])
    return np.concatenate([ribbons, covers])


@dataclass(frozen=True, slots=True, eq=False)
class _Strips:
    """For every segment its vertices from end to end, and the same moved back; segment k has first[k] .. first[k+1]."""

    outside: Complexes
    inside: Complexes
    first: Ints

    @classmethod
    def from_vertices(cls, chains: Chains, vertices: Vertices, band: Band) -> _Strips:
        """Return the strips; every segment gets its own end, which the vertices keep with the next segment."""
        table = chains.table
        rows = np.arange(len(table))
        ends_free = np.zeros(len(table), dtype=bool)
        ends_free[vertices.segment[vertices.t == 1]] = True
        closed = rows[~ends_free]
        segment = np.concatenate([vertices.segment, closed])
        t = np.concatenate([vertices.t, np.ones(len(closed))])
        point = np.concatenate([vertices.point, table.end[closed]])
        order = np.lexsort((t, segment))
        segment, t, point = segment[order], t[order], point[order]
        way = table.velocity(segment, t)
        way = way / np.maximum(abs(way), 1e-300)
        inside = point + 1j * band.sign * 2 * band.margin_mm * way
        return cls(point, inside, np.searchsorted(segment, np.arange(len(table) + 1)).astype(np.intp))

    def rings(self, rows: Ints) -> tuple[Complexes, Ints]:
        """Return the closed ribbons of some segments: out along the chords, back inside."""
        many = np.diff(self.first)[rows]
        row, step = counted(2 * many)
        turn = many[row]
        place = self.first[rows][row] + np.where(step < turn, step, 2 * turn - 1 - step)
        point = np.where(step < turn, self.outside[place], self.inside[place])
        return point, np.concatenate([[0], np.cumsum(2 * many)]).astype(np.intp)

    def covers(self, before: Ints, after: Ints) -> boolean.Polygons:
        """Return polygons over the spokes between the segments ``before`` and ``after``, one quad to either side."""
        last, begin = self.first[before + 1] - 1, self.first[after]
        columns = (
            self.outside[last - 1], self.outside[last], self.outside[begin + 1],
            self.inside[begin + 1], self.inside[last], self.inside[last - 1],
        )  # fmt: skip
        point = np.stack(columns, axis=1).ravel()
        return boolean.polygons(point, 6 * np.arange(len(before) + 1), np.arange(len(before)))


def corner_polygons(chains: Chains, vertices: Vertices, links: Sequence[ParallelChain], band: Band) -> boolean.Polygons:
    """Return the sectors and kites from raised corners out to what goes round them, and the blocks at ends of lines."""
    rings: list[Complexes] = []
    row = 0
    for chain in links:
        for corner, group in groupby(chain.links, key=lambda link: link.corner):
            many = len(list(group))
            if corner is not None:
                is_end = corner.join in ("butt", "square")
                rings.append((_block if is_end else _sector)(chains, vertices, range(row, row + many), corner, band))
            row += many
    if not rings:
        return np.zeros(0, dtype=object)
    first = np.concatenate([[0], np.cumsum([len(ring) for ring in rings])]).astype(np.intp)
    return boolean.polygons(np.concatenate(rings), first, np.arange(len(rings)))


def _sector(chains: Chains, vertices: Vertices, rows: range, corner: Corner, band: Band) -> Complexes:
    """Return the ring of the corner, the vertices of the segments that go round it, a quad of each neighbour."""
    before, after = int(chains.preceding[rows[0]]), int(chains.following[rows[-1]])
    points = [_outline(chains, vertices, rows), np.array([corner.at])]
    if before >= 0:
        last = _own(vertices, before)[1]
        points.insert(0, vertices.point[last - 1 : last])
    if after >= 0:
        first, stop = _own(vertices, after)
        points.insert(-1, vertices.point[first + 1 : first + 2] if stop > first + 1 else chains.table.end[[after]])
    return np.concatenate(points)


def _block(chains: Chains, vertices: Vertices, rows: range, corner: Corner, band: Band) -> Complexes:
    """Return the ring of the lines across the end of a line, and of two points behind, a margin from the parallels."""
    behind = corner.at - 2 * band.margin_mm * corner.before
    across = 1j * corner.before * (abs(band.distance_mm) - band.margin_mm) * band.sign
    return np.concatenate([_outline(chains, vertices, rows), np.array([behind + across, behind - across])])


def _outline(chains: Chains, vertices: Vertices, rows: range) -> Complexes:
    """Return the vertices of neighbouring segments, the end of the last one among them."""
    low, high = _own(vertices, rows[0])[0], _own(vertices, rows[-1])[1]
    end = chains.table.end[rows[-1] : rows[-1] + 1] if vertices.t[high - 1] < 1 else vertices.point[:0]
    return np.concatenate([vertices.point[low:high], end])


def _own(vertices: Vertices, segment: int) -> tuple[int, int]:
    """Return the range of the vertices of a segment."""
    low, high = np.searchsorted(vertices.segment, [segment, segment + 1])
    return int(low), int(high)
