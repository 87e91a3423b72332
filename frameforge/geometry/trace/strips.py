"""Stretches of a few chords in a search tree: which segments are near a point, which near each other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.geometry.ragged import counted
from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.vertices import Vertices

__all__ = ["Strips"]

_LENGTH = 16  # chords: a tree of all chords costs more to build than it saves, whole segments overlap too much


@dataclass(frozen=True, slots=True, eq=False)
class Strips:
    """Strip k is points[k, :] of segment[k], at most 16 chords; shorter ones repeat their last point and t."""

    segment: Ints
    points: Complexes
    t: Floats
    lines: Ints
    tree: shapely.STRtree

    @classmethod
    def from_vertices(cls, chains: Chains, vertices: Vertices) -> Strips:
        """Return all chords of all chains in strips."""
        chord = np.flatnonzero(vertices.after >= 0)
        per_segment = np.bincount(vertices.segment[chord], minlength=len(chains.table))
        segment, number = counted(-(-per_segment // _LENGTH))
        begin = (np.cumsum(per_segment) - per_segment)[segment] + number * _LENGTH
        many = np.minimum(per_segment[segment] - number * _LENGTH, _LENGTH)
        column = np.minimum(np.arange(_LENGTH + 1)[None, :], many[:, None])
        is_end = column == many[:, None]
        vertex = chord[begin[:, None] + np.where(is_end, many[:, None] - 1, column)]
        points = np.where(is_end, vertices.point[vertices.after[vertex]], vertices.point[vertex])
        t = np.where(is_end, vertices.chord_end_t[vertex], vertices.t[vertex])
        row, step = counted(many + 1)
        flat = points[row, step].view(np.float64).reshape(-1, 2)
        lines = np.asarray(shapely.linestrings(flat, indices=row), dtype=object)
        return cls(segment, points, t, lines, shapely.STRtree(lines))

    def near_points(self, point: Complexes, distance_mm: float) -> tuple[Ints, Ints]:
        """Return all pairs no further apart than ``distance_mm``: the number of each one's point, and its strip."""
        places = shapely.points(point.real, point.imag)
        number, strip = self.tree.query(places, predicate="dwithin", distance=distance_mm)
        return number, strip

    def candidates(self, distance_mm: float) -> tuple[Ints, Ints]:
        """Return the pairs of strips, each with first < second, whose upright boxes lie within ``distance_mm``."""
        x, y = self.points.real, self.points.imag
        low = np.stack([x.min(axis=1), y.min(axis=1)], axis=1) - distance_mm
        high = np.stack([x.max(axis=1), y.max(axis=1)], axis=1) + distance_mm
        # A tree asks for boxes alone: a line from corner to corner has the same, and is made in a part of the time.
        one, two = self.tree.query(shapely.linestrings(np.stack([low, high], axis=1)))
        return one[one < two], two[one < two]

    def are_near(self, one: Ints, two: Ints, distance_mm: float) -> Bools:
        """Return which pairs of strips lie within ``distance_mm`` of each other."""
        is_near = self._boxes_meet(one, two, distance_mm)
        is_near[is_near] = shapely.dwithin(self.lines[one[is_near]], self.lines[two[is_near]], distance_mm)
        return is_near

    def distances(self, strip: Ints, points: Complexes) -> Floats:
        """Return the distances (n, m) of points (n, m) from the strip of each row, mm."""
        begin, end = self.points[strip, None, :-1], self.points[strip, None, 1:]
        along, seen = end - begin, points[:, :, None] - begin
        part = np.clip((seen * along.conj()).real / np.maximum(abs(along) ** 2, 1e-300), 0, 1)
        return np.asarray(abs(seen - part * along).min(axis=2))

    def nearest_t(self, strip: Ints, point: Complexes) -> Floats:
        """Return t where the chords of each strip come nearest to a point."""
        begin, end = self.points[strip, :-1], self.points[strip, 1:]
        along = end - begin
        size = np.maximum(abs(along) ** 2, 1e-300)
        part = np.clip(((point[:, None] - begin) * along.conj()).real / size, 0, 1)
        best = np.argmin(abs(point[:, None] - begin - part * along), axis=1)
        row = np.arange(len(strip))
        t0, t1 = self.t[strip, best], self.t[strip, best + 1]
        return np.asarray(t0 + part[row, best] * (t1 - t0))

    def _boxes_meet(self, one: Ints, two: Ints, distance_mm: float) -> Bools:
        """Return which pairs are not parted by a line along either strip's own box (separating axes)."""
        axis, low, high = self._own_boxes()
        meets = np.ones(len(one), dtype=bool)
        for a, b in ((one, two), (two, one)):
            seen = (self.points[b] - self.points[a, :1]) * axis[a, None].conj()
            for part, k in ((seen.real, 0), (seen.imag, 1)):
                meets &= (part.min(axis=1) <= high[k][a] + distance_mm) & (part.max(axis=1) >= low[k][a] - distance_mm)
        return meets

    def _own_boxes(self) -> tuple[Complexes, tuple[Floats, Floats], tuple[Floats, Floats]]:
        """Return the direction of each strip and its extent along and across it, seen from its first point."""
        span = self.points[:, -1] - self.points[:, 0]
        axis = np.where(span == 0, 1, span) / np.maximum(abs(np.where(span == 0, 1, span)), 1e-300)
        seen = (self.points - self.points[:, :1]) * axis[:, None].conj()
        return axis, (seen.real.min(1), seen.imag.min(1)), (seen.real.max(1), seen.imag.max(1))
