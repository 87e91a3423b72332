"""Regions under smooth maps of the plane: cubics fitted to the images of their curves, many maps at once.

Every fitted image keeps its ends and tangents. Whatever a map knows to become a line or an arc is written as one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.cubic_fit import Span, Stretch, fit_curves
from frameforge.geometry.direction import direction_at
from frameforge.geometry.mirror_twin import twin_numbers
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.whole_curves import whole_curves
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Warps", "warped"]

_FOOT_STEPS = 4

_Key = tuple[int, int, tuple[int, ...]]


class Warps(Protocol):
    """Smooth maps that keep the sense of turning, numbered from 0; arrays are of one shape, entry by entry."""

    def __len__(self) -> int:
        """Return how many maps there are."""

    def point(self, which: Ints, z: Complexes) -> Complexes:
        """Return the images of points."""

    def moving(self, which: Ints, z: Complexes, v: Complexes) -> tuple[Complexes, Complexes]:
        """Return the images of points and of velocities ``v`` there."""

    def exact(self, which: int, segment: Segment, ends: tuple[complex, complex]) -> Segment | None:
        """Return the image of a segment, whose own ends go to ``ends``, where it is a line or an arc, else None."""

    def is_even(self, which: int) -> bool:
        """Whether mirroring left to right comes to the mirror image, so that mirrored curves have mirrored images."""


def warped(drawings: Sequence[Sequence[Region]], warps: Warps, fit_mm: float) -> list[tuple[tuple[Region, ...], ...]]:
    """Return, for every map, the images of all drawings (each some regions), cubics within ``fit_mm`` of the true ones.

    Neighbours share their joints to the bit. Equal curves, and mirrored ones where the map is even, are fitted once.
    A map that folds a curve back gives curves that cross: who warps looks for folds.
    """
    outlines = [outline for drawing in drawings for region in drawing for outline in region.outlines]
    images = _Images(outlines, warps, fit_mm)
    result = []
    for which in range(len(warps)):
        made = images.outlines(which)
        result.append(tuple(tuple(_region(region, made) for region in drawing) for drawing in drawings))
    return result


def _region(region: Region, outlines: Iterator[Outline]) -> Region:
    """Return the region made of the next outlines."""
    made = [next(outlines) for _ in region.outlines]
    return Region(made[0], tuple(made[1:]))


class _Images:
    """The images of the pieces of some outlines under some maps, fitted."""

    def __init__(self, outlines: Sequence[Outline], warps: Warps, fit_mm: float) -> None:
        parts = [[piece for segment in outline.segments for piece in whole_curves(segment)] for outline in outlines]
        self._pieces = [piece for pieces in parts for piece in pieces]
        self._first = np.cumsum([0, *map(len, parts)]).tolist()
        self._warps = warps
        self._table = SegmentTable.from_segments(self._pieces)
        self._numbers = twin_numbers(self._table)
        self._even = [warps.is_even(which) for which in range(len(warps))]
        self._ends = self._joints()
        self._images = self._placed(self._fitted(fit_mm))

    def outlines(self, which: int) -> Iterator[Outline]:
        """Return the images of the outlines under one map, in order."""
        for first, last in pairwise(self._first):
            segments: list[Segment] = []
            for k in range(first, last):
                exact = self._exact(which, k)
                segments += [exact] if exact else self._images[which, k]
            yield Outline(tuple(segments))

    def _joints(self) -> list[list[tuple[complex, complex]]]:
        """Return where the ends of every piece come to lie, map by map: each ends where the next one starts."""
        count = len(self._pieces)
        rows = np.broadcast_to(np.arange(len(self._warps))[:, None], (len(self._warps), count))
        starts = self._warps.point(rows, np.broadcast_to(self._table.start, rows.shape))
        after = np.arange(1, count + 1)
        for first, last in pairwise(self._first):
            after[last - 1] = first
        pairs = zip(starts.tolist(), starts[:, after].tolist(), strict=True)
        return [list(zip(start, end, strict=True)) for start, end in pairs]

    def _exact(self, which: int, k: int) -> Segment | None:
        """Return the image of piece k where it is a line or an arc."""
        return self._warps.exact(which, self._pieces[k], self._ends[which][k])

    def _placed(self, fitted: dict[_Key, tuple[Span, ...]]) -> dict[tuple[int, int], list[Segment]]:
        """Return the cubics that stand for every image, by map and piece."""
        spans = {at: self._spans(*at, fitted) for at in self._curved()}
        if not spans:
            return {}
        where = [(which, k, t) for (which, k), row in spans.items() for t in (row[0].t0, *(s.t1 for s in row))]
        which, rows, t = (np.array(column) for column in zip(*where, strict=True))
        flat = np.array([direction_at(self._pieces[k], t) for _, k, t in where])
        points, ways = self._warps.moving(which, self._table.point(rows, t), flat)
        pairs = iter(list(zip(points.tolist(), (ways / np.abs(ways)).tolist(), strict=True)))
        return {
            at: _cubics(row, [next(pairs) for _ in (0, *row)], self._ends[at[0]][at[1]]) for at, row in spans.items()
        }

    def _curved(self) -> list[tuple[int, int]]:
        """Return map and piece of all images that are neither lines nor arcs."""
        every = ((which, k) for which in range(len(self._warps)) for k in range(len(self._pieces)))
        return [at for at in every if self._exact(*at) is None]

    def _spans(self, which: int, k: int, fitted: dict[_Key, tuple[Span, ...]]) -> tuple[Span, ...]:
        """Return the spans of one image."""
        key, is_turned = self._key(which, k)
        return _turned(fitted[key]) if is_turned else fitted[key]

    def _key(self, which: int, k: int) -> tuple[_Key, bool]:
        """Return by what the image of piece k is known, and whether it is the mirror image, run backwards."""
        forth, back = self._numbers[k]
        kind = int(self._table.kind[k])
        if self._even[which] and back < forth:
            return (which, kind, back), True
        return (which, kind, forth), False

    def _fitted(self, fit_mm: float) -> dict[_Key, tuple[Span, ...]]:
        """Return the spans of every different image that is neither a line nor an arc."""
        found: dict[_Key, tuple[int, int, bool]] = {}
        for which, k in self._curved():
            key, is_turned = self._key(which, k)
            found.setdefault(key, (which, k, is_turned))
        if not found:
            return {}
        columns = [np.array(column) for column in zip(*found.values(), strict=True)]
        curves = _Curves(self._warps, self._table, columns[0], columns[1], columns[2])
        fitted = fit_curves(curves, [Stretch(row, 0.0, 1.0, fit_mm) for row in range(len(found))])
        return {
            key: _evened(spans) if self._even[key[0]] and len(set(self._numbers[k])) == 1 else spans
            for (key, (_, k, _)), spans in zip(found.items(), fitted, strict=True)
        }


def _evened(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """Return the spans of an image that is its own mirror image, made so to the bit."""
    back = _turned(spans)
    return tuple(
        Span((s.t0 + b.t0) / 2, (s.t1 + b.t1) / 2, (s.near_mm + b.near_mm) / 2, (s.far_mm + b.far_mm) / 2)
        for s, b in zip(spans, back, strict=True)
    )


def _turned(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    """Return the spans of the mirror image, run backwards."""
    return tuple(Span(1 - s.t1, 1 - s.t0, s.far_mm, s.near_mm) for s in reversed(spans))


def _cubics(
    spans: tuple[Span, ...], places: list[tuple[complex, complex]], ends: tuple[complex, complex]
) -> list[Segment]:
    """Return the cubics of one image between its ends; ``places`` are point and unit tangent where spans meet."""
    points, ways = zip(*places, strict=True)
    points = (ends[0], *points[1:-1], ends[1])
    return [
        Cubic(points[i], points[i] + s.near_mm * ways[i], points[i + 1] - s.far_mm * ways[i + 1], points[i + 1])
        for i, s in enumerate(spans)
    ]


@dataclass(frozen=True, slots=True, eq=False)
class _Curves:
    """The images to fit: row r is piece ``pieces[r]`` of the table under map ``which[r]``.

    Turned ones are mirrored and run backwards, which comes to the same where the map is even.
    """

    warps: Warps
    table: SegmentTable
    which: Ints
    pieces: Ints
    turned: Ints

    def speed(self, rows: Ints, t: Floats) -> Floats:
        """Return the length passed per t, mm."""
        return np.asarray(np.abs(self._moving(rows, t)[1]))

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points (mm) and unit tangents."""
        point, velocity = self._moving(rows, t)
        # Where a handle lies on its end the velocity is 0 there; the tangent is that of a place close by.
        still = np.abs(velocity) <= MIN_CHORD_MM
        if still.any():
            nearby = np.clip(t, t.min(axis=1, keepdims=True) + 1e-6, t.max(axis=1, keepdims=True) - 1e-6)
            velocity = np.where(still, self._moving(rows, nearby)[1], velocity)
        return point, velocity / np.maximum(np.abs(velocity), 1e-300)

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        """Return how far ``points`` lie from the curves; their feet are found by Newton without the curves' bend."""
        low, high = ends
        for _ in range(_FOOT_STEPS):
            there, velocity = self._moving(rows, t)
            step = (velocity.conj() * (there - points)).real / np.maximum(np.abs(velocity) ** 2, MIN_CHORD_MM**2)
            t = np.clip(t - step, low, high)
        return np.asarray(np.abs(self._moving(rows, t)[0] - points))

    def _moving(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points and velocities."""
        which, pieces, turned = self.which[rows], self.pieces[rows], self.turned[rows]
        u = np.where(turned, 1 - t, t)
        z, v = self.table.point(pieces, u), self.table.velocity(pieces, u)
        return self.warps.moving(which, np.where(turned, -z.conj(), z), np.where(turned, v.conj(), v))
