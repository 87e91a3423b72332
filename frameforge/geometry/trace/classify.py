"""Which chord of which segment every edge of a result ring is.

shapely hands every source vertex through unchanged, to the last bit, so most edges are found by looking up both ends.
An edge that ends in a crossing is looked up by its other end; one between two crossings by asking a tree of strips.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.geometry.ragged import following
from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.vertices import Vertices
from frameforge.tolerances import ON_CHORD_MM

__all__ = ["Edges", "classify", "point_keys"]

Keys = npt.NDArray[np.uint64]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """One entry an edge of the rings: the segment it lies on (-1: lost) and t at the edge's start and end."""

    segment: Ints
    from_t: Floats
    to_t: Floats


def classify(points: Complexes, first: Ints, source: Source) -> Edges:
    """Return where the edges of rings lie on the chains of ``source``; ring k is points[first[k] : first[k + 1]].

    Of several chords that coincide the one of the earliest segment is taken, so that the answer does not wander from
    edge to edge.
    """
    chords = _Chords.from_source(source)
    after = following(first)
    ids = chords.point_ids(points)
    owner = chords.between(ids, ids[after])
    for known, other in ((ids, points[after]), (ids[after], points)):
        rows = np.flatnonzero((owner < 0) & (known >= 0))
        owner[rows] = chords.leaving(known[rows], other[rows])
    rows = np.flatnonzero(owner < 0)
    owner[rows] = chords.under(points[rows], points[after][rows], source)
    found = owner >= 0
    index = np.where(found, owner, 0)
    from_t, to_t = chords.parameters(index, points, ids), chords.parameters(index, points[after], ids[after])
    return Edges(np.where(found, source.vertices.segment[index], -1), from_t, to_t)


@dataclass(frozen=True, slots=True, eq=False)
class _Chords:
    """All chords that may own an edge, with the look-ups: by both ends, by one end, by place.

    ``keys`` are the different points in ascending order of their keys, ``vertex`` the first vertex at each,
    ``vertex_id`` the number in ``keys`` of every vertex; ``is_chord`` tells which vertices start a chord that counts.
    """

    vertices: Vertices
    keys: Keys
    vertex: Ints
    vertex_id: Ints
    is_chord: Bools

    @classmethod
    def from_source(cls, source: Source) -> _Chords:
        vertices = source.vertices
        keys, vertex, vertex_id = np.unique(point_keys(vertices.point), return_index=True, return_inverse=True)
        is_chord = (vertices.after >= 0) & source.may_own[vertices.segment] & (vertex_id != vertex_id[vertices.after])
        return cls(vertices, keys, vertex, vertex_id, is_chord)

    def point_ids(self, points: Complexes) -> Ints:
        """Return the number of the source vertex that each point is to the bit, or -1."""
        wanted = point_keys(points)
        place = np.minimum(np.searchsorted(self.keys, wanted), len(self.keys) - 1)
        return np.where(self.keys[place] == wanted, place, -1)

    def between(self, a: Ints, b: Ints) -> Ints:
        """Return the earliest chord between two points in either direction, or -1.

        Most points are vertices of one chain only, so its chord is tried first; the rest are looked up by both ends.
        """
        owner = np.full(len(a), -1)
        for begin, end in ((a, b), (b, a)):
            vertex = self.vertex[begin]
            is_it = self.is_chord[vertex] & (self.vertex_id[self.vertices.after[vertex]] == end)
            is_it &= (begin >= 0) & (end >= 0) & (owner < 0)
            owner = np.where(is_it, vertex, owner)
        rows = np.flatnonzero((owner < 0) & (a >= 0) & (b >= 0))
        if len(rows):
            owner[rows] = self._looked_up(a[rows], b[rows])
        return owner

    def _looked_up(self, a: Ints, b: Ints) -> Ints:
        chord = np.flatnonzero(self.is_chord)
        codes = self._code(self.vertex_id[chord], self.vertex_id[self.vertices.after[chord]])
        wanted = self._code(a, b)
        is_wanted = np.isin(codes, wanted)
        chord, codes = chord[is_wanted], codes[is_wanted]
        order = np.argsort(codes, kind="stable")
        place = np.searchsorted(codes[order], wanted)
        found = place < np.searchsorted(codes[order], wanted, side="right")
        return np.where(found, np.append(chord[order], -1)[np.where(found, place, -1)], -1)

    def leaving(self, vertex: Ints, toward: Complexes) -> Ints:
        """Return, of the chords at each vertex, the one that runs through the point ``toward``; -1 if none does."""
        chord = np.flatnonzero(self.is_chord)
        ends = np.concatenate([self.vertex_id[chord], self.vertex_id[self.vertices.after[chord]]])
        is_wanted = np.isin(ends, vertex)
        chord, ends = np.tile(chord, 2)[is_wanted], ends[is_wanted]
        order = np.argsort(ends, kind="stable")
        chord, ends = chord[order], ends[order]
        begin, stop = np.searchsorted(ends, vertex), np.searchsorted(ends, vertex, side="right")
        best, least = np.full(len(vertex), -1), np.full(len(vertex), ON_CHORD_MM)
        for step in range(int((stop - begin).max(initial=0))):
            rows = np.flatnonzero(begin + step < stop)
            candidate = chord[begin[rows] + step]
            distance = self._distance(candidate, toward[rows])
            better = (distance < least[rows]) | ((distance == least[rows]) & (candidate < best[rows]))
            best[rows[better]], least[rows[better]] = candidate[better], distance[better]
        return best

    def under(self, start: Complexes, end: Complexes, source: Source) -> Ints:
        """Return the earliest chord that both ends of each edge lie on, or -1."""
        owner = np.full(len(start), len(self.is_chord))
        edge, strip = source.strips.near_points((start + end) / 2, 2 * source.chord_mm)
        segment = source.strips.segment[strip]
        t = source.strips.nearest_t(strip, (start + end)[edge] / 2)
        order = self.vertices.segment + self.vertices.t
        nearest = np.searchsorted(order, segment + t, side="right") - 1
        for step in (-1, 0, 1):
            candidate = np.clip(nearest + step, 0, len(owner_of := self.is_chord) - 1)
            fits = owner_of[candidate] & (self.vertices.segment[candidate] == segment)
            far = np.maximum(self._distance(candidate, start[edge]), self._distance(candidate, end[edge]))
            fits &= far < ON_CHORD_MM
            np.minimum.at(owner, edge[fits], candidate[fits])
        return np.where(owner < len(self.is_chord), owner, -1)

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


def point_keys(points: Complexes) -> Keys:
    """Return one 64-bit key for each point, equal for points equal to the bit (both zeros alike).

    Odd multipliers and a shift mix the bits of x and y; for a million points two different ones share a key with
    probability 3e-8 (birthday bound), and a false hit would show as an edge far from its chord.
    """
    parts = (np.ascontiguousarray(points).view(np.float64) + 0.0).view(np.uint64).reshape(-1, 2)
    x, y = parts[:, 0] * np.uint64(0x9E3779B97F4A7C15), parts[:, 1] * np.uint64(0xC2B2AE3D27D4EB4F)
    mixed = (x ^ (x >> np.uint64(32))) + (y ^ (y >> np.uint64(29)))
    return np.asarray(mixed * np.uint64(0xFF51AFD7ED558CCD), dtype=np.uint64)
