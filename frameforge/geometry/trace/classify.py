"""Which chord of which segment every edge of a result ring is.

shapely hands every source vertex through unchanged, to the last bit, so most edges are found by looking up both ends.
An edge that ends in a crossing is looked up by its other end; one between two crossings by asking a tree of segments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.vertices import Vertices
from frameforge.tolerances import ON_CHORD_MM

__all__ = ["Edges", "classify"]

Keys = npt.NDArray[np.uint64]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """One entry an edge of the rings: the segment it lies on (-1: lost) and t at the edge's start and end."""

    segment: Ints
    from_t: Floats
    to_t: Floats


def classify(start: Complexes, end: Complexes, vertices: Vertices, may_own: Bools) -> Edges:
    """Return where each edge start -> end lies on the chains.

    ``may_own`` says of every segment whether its chords may own an edge. Of several chords that coincide the one of
    the earliest segment is taken, so that the answer does not wander from edge to edge.
    """
    chord = _Chords.from_vertices(vertices, may_own)
    from_id, to_id = chord.point_ids(start), chord.point_ids(end)
    owner = chord.between(from_id, to_id)
    for known, other in ((from_id, end), (to_id, start)):
        rows = np.flatnonzero((owner < 0) & (known >= 0))
        owner[rows] = chord.leaving(known[rows], other[rows])
    rows = np.flatnonzero(owner < 0)
    if len(rows):
        owner[rows] = chord.under(start[rows], end[rows])
    found = owner >= 0
    index = np.where(found, owner, 0)
    from_t, to_t = chord.parameters(index, start, from_id), chord.parameters(index, end, to_id)
    return Edges(np.where(found, vertices.segment[index], -1), from_t, to_t)


@dataclass(frozen=True, slots=True, eq=False)
class _Chords:
    """All chords that may own an edge, with the look-ups: by both ends, by one end, by place."""

    vertices: Vertices
    keys: Keys
    vertex_id: Ints
    chord: Ints

    @classmethod
    def from_vertices(cls, vertices: Vertices, may_own: Bools) -> _Chords:
        keys, vertex_id = np.unique(_keys(vertices.point), return_inverse=True)
        is_chord = (vertices.after >= 0) & may_own[vertices.segment]
        is_chord &= vertex_id != vertex_id[vertices.after]
        return cls(vertices, keys, vertex_id.astype(np.intp), np.flatnonzero(is_chord))

    def point_ids(self, points: Complexes) -> Ints:
        """Return the number of the source vertex that each point is to the bit, or -1."""
        wanted = _keys(points)
        place = np.minimum(np.searchsorted(self.keys, wanted), len(self.keys) - 1)
        return np.where(self.keys[place] == wanted, place, -1)

    def between(self, a: Ints, b: Ints) -> Ints:
        """Return the earliest chord between two vertices in either direction, or -1."""
        codes = self._code(self.vertex_id[self.chord], self.vertex_id[self.vertices.after[self.chord]])
        order = np.argsort(codes, kind="stable")
        wanted = self._code(a, b)
        place = np.minimum(np.searchsorted(codes[order], wanted), len(order) - 1)
        found = (a >= 0) & (b >= 0) & (codes[order][place] == wanted)
        return np.where(found, self.chord[order][place], -1)

    def leaving(self, vertex: Ints, toward: Complexes) -> Ints:
        """Return, of the chords at each vertex, the one that runs through the point ``toward``; -1 if none does."""
        ends = np.concatenate([self.vertex_id[self.chord], self.vertex_id[self.vertices.after[self.chord]]])
        order = np.argsort(ends, kind="stable")
        chord, ends = np.tile(self.chord, 2)[order], ends[order]
        begin, stop = np.searchsorted(ends, vertex), np.searchsorted(ends, vertex, side="right")
        best, least = np.full(len(vertex), -1), np.full(len(vertex), ON_CHORD_MM)
        for step in range(int((stop - begin).max(initial=0))):
            rows = np.flatnonzero(begin + step < stop)
            candidate = chord[begin[rows] + step]
            distance = self._distance(candidate, toward[rows])
            better = (distance < least[rows]) | ((distance == least[rows]) & (candidate < best[rows]))
            best[rows[better]], least[rows[better]] = candidate[better], distance[better]
        return best

    def under(self, start: Complexes, end: Complexes) -> Ints:
        """Return the chord that both ends and the middle of each edge lie on, or -1."""
        point, after = self.vertices.point, self.vertices.after
        ends = np.stack([point[self.chord], point[after[self.chord]]], axis=1)
        lines = np.asarray(shapely.linestrings(ends.view(np.float64).reshape(-1, 2, 2)), dtype=object)
        tree = shapely.STRtree(lines)
        middle = (start + end) / 2
        edge, found = tree.query(shapely.points(middle.real, middle.imag), predicate="dwithin", distance=ON_CHORD_MM)
        candidate = self.chord[found]
        fits = np.maximum(self._distance(candidate, start[edge]), self._distance(candidate, end[edge])) < ON_CHORD_MM
        owner = np.full(len(start), len(point))
        np.minimum.at(owner, edge[fits], candidate[fits])
        return np.where(owner < len(point), owner, -1)

    def parameters(self, chord: Ints, at: Complexes, vertex: Ints) -> Floats:
        """Return t of points on the segments of their chords, exact at the chord's own vertices, else in proportion."""
        begin, after = self.vertices.point[chord], self.vertices.after[chord]
        along = self.vertices.point[after] - begin
        part = ((at - begin) * along.conj()).real / np.maximum(abs(along) ** 2, 1e-300)
        t0, t1 = self.vertices.t[chord], self.vertices.chord_end_t[chord]
        t = t0 + np.clip(part, 0, 1) * (t1 - t0)
        t = np.where(vertex == self.vertex_id[chord], t0, t)
        return np.where(vertex == self.vertex_id[after], t1, t)

    def _code(self, a: Ints, b: Ints) -> Ints:
        return np.minimum(a, b) * len(self.keys) + np.maximum(a, b)

    def _distance(self, chord: Ints, at: Complexes) -> Floats:
        """Return the distance of each point from its chord, mm."""
        begin = self.vertices.point[chord]
        along = self.vertices.point[self.vertices.after[chord]] - begin
        part = np.clip(((at - begin) * along.conj()).real / np.maximum(abs(along) ** 2, 1e-300), 0, 1)
        return np.asarray(abs(at - begin - part * along), dtype=np.float64)


def _keys(points: Complexes) -> Keys:
    """Return one 64-bit key a point, equal for points equal to the bit (both zeros alike).

    Odd multipliers and a shift mix the bits of x and y; for a million points two different ones share a key with
    probability 3e-8 (birthday bound), and a false hit would show as an edge far from its chord.
    """
    parts = (np.ascontiguousarray(points).view(np.float64) + 0.0).view(np.uint64).reshape(-1, 2)
    x, y = parts[:, 0] * np.uint64(0x9E3779B97F4A7C15), parts[:, 1] * np.uint64(0xC2B2AE3D27D4EB4F)
    mixed = (x ^ (x >> np.uint64(32))) + (y ^ (y >> np.uint64(29)))
    return np.asarray(mixed * np.uint64(0xFF51AFD7ED558CCD), dtype=np.uint64)
