"""Chains of short lines and arcs drawn anew as few true curves: one line, one arc, or cubics fitted to them."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.cubic_fit import Span, Stretch, fit_curves
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.line import Line
from frameforge.geometry.measure import lengths_mm
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable

__all__ = ["Chain", "refitted"]

Chain = tuple[Segment, ...]
"""Segments end to end that run on smoothly."""

LOOKS = 24
"""Points of a segment that stand for it while distances from a chain are measured: an arc of .75 mm errs by 1e-4 mm."""
AIMED_AT = 0.85
"""Cubics are fitted to this part of what is allowed, since they are then measured anew from both sides."""
SAME_WAY_RAD = 0.01
"""A line or an arc that takes a chain's place leaves its ends in the same directions to this."""


def refitted(chains: Sequence[Chain], fit_mm: float) -> list[Chain]:
    """Return for each chain (two segments or more) one of fewer segments, or itself where there is none.

    The ends stay to the bit and so do the directions there, but for ``SAME_WAY_RAD``. Accuracy: each lies within
    ``fit_mm`` of the other.
    """
    found = [_simple(chain, fit_mm) for chain in chains]
    open_ones = [k for k, simple in enumerate(found) if simple is None]
    if open_ones:
        curves = _Chains.from_chains([chains[k] for k in open_ones])
        aim = AIMED_AT * fit_mm
        fits = fit_curves(
            curves, [Stretch(row, 0.0, float(curves.ends[row, -1]), aim) for row in range(len(open_ones))]
        )
        for row, k in enumerate(open_ones):
            found[k] = _cubics(curves, row, fits[row], chains[k], fit_mm)
    return [new if new and len(new) < len(old) else old for new, old in zip(found, chains, strict=True)]


def _simple(chain: Chain, fit_mm: float) -> Chain | None:
    """Return the one line or arc that a chain comes to; None where it is no such thing."""
    start, end = chain[0].start, chain[-1].end
    if start == end:
        return None
    points = _points(chain)
    if np.abs(((points - start) / (end - start)).imag).max() * abs(end - start) <= fit_mm:
        line = Line(start, end)
        return (line,) if _keeps_ways(line, chain) and _length_ratio(points, end - start) < 1.01 else None
    middle = complex(points[np.argmin(np.abs(np.abs(points - start) - np.abs(points - end)))])
    half = cmath.phase((end - middle) / (middle - start))
    if abs(half) < 1e-9:
        return None
    arc = Arc.from_bulge(start, end, math.tan(half / 2))
    if np.abs(np.abs(points - arc.center) - abs(arc.u)).max() > fit_mm or not _keeps_ways(arc, chain):
        return None
    return (arc,)


def _length_ratio(points: Complexes, chord: complex) -> float:
    """Return how many times as long as its chord a line of points is."""
    return float(np.abs(np.diff(points)).sum() / abs(chord))


def _keeps_ways(one: Line | Arc, chain: Chain) -> bool:
    """Return whether a segment leaves the ends of a chain as the chain did."""
    first = cmath.phase(start_direction(one) / start_direction(chain[0]))
    last = cmath.phase(end_direction(one) / end_direction(chain[-1]))
    return max(abs(first), abs(last)) <= SAME_WAY_RAD


def _points(chain: Chain, looks: int = LOOKS) -> Complexes:
    """Return points all along a chain, both ends included."""
    table = SegmentTable.from_segments(chain)
    t = np.linspace(0.0, 1.0, looks + 1)[:-1]
    rows = np.repeat(np.arange(len(chain)), looks)
    return np.append(table.point(rows, np.tile(t, len(chain))), chain[-1].end)


@dataclass(frozen=True, slots=True, eq=False)
class _Chains:
    """Chains as curves, one row a chain; t is the length along it in mm.

    ``ends`` holds where each segment of a row begins along it, and the whole length from there on; ``first`` the row
    of its first segment in ``table``; ``points`` what stands for it while distances are measured.
    """

    table: SegmentTable
    first: Ints
    count: Ints
    ends: Floats
    points: tuple[Complexes, ...]

    @classmethod
    def from_chains(cls, chains: Sequence[Chain]) -> _Chains:
        count = np.array([len(chain) for chain in chains])
        ends = np.zeros((len(chains), int(count.max()) + 1))
        for row, chain in enumerate(chains):
            along = np.cumsum(lengths_mm(chain))
            ends[row, 1 : len(along) + 1] = along
            ends[row, len(along) + 1 :] = along[-1]
        table = SegmentTable.from_segments([segment for chain in chains for segment in chain])
        return cls(table, np.cumsum(count) - count, count, ends, tuple(map(_points, chains)))

    def speed(self, rows: Ints, t: Floats) -> Floats:
        """Return the length passed per t: 1 along lines and circular arcs."""
        segment, share, length = self._at(rows, t)
        return np.asarray(np.abs(self.table.velocity(segment, share)) / length)

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points (mm) and unit tangents."""
        segment, share, _ = self._at(rows, t)
        velocity = self.table.velocity(segment, share)
        return self.table.point(segment, share), velocity / np.maximum(np.abs(velocity), 1e-300)

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        """Return how far points lie from their chains."""
        return np.stack([_away(z, self.points[int(row[0])]) for row, z in zip(rows, points, strict=True)])

    def _at(self, rows: Ints, t: Floats) -> tuple[Ints, Floats, Floats]:
        """Return the segment at t, where on it, and how long it is."""
        inner = self.ends[rows, 1:]
        k = np.minimum((inner <= t[..., None]).sum(axis=-1), self.count[rows] - 1)
        begin, end = self.ends[rows, k], self.ends[rows, k + 1]
        length = np.maximum(end - begin, 1e-300)
        return self.first[rows] + k, np.clip((t - begin) / length, 0.0, 1.0), length


def _away(z: Complexes, line: Complexes) -> Floats:
    """Return the distances of points from a line through others."""
    start, step = line[:-1], np.diff(line)
    size = np.maximum(np.abs(step) ** 2, 1e-300)
    share = np.clip(((z[:, None] - start) * np.conj(step)).real / size, 0, 1)
    return np.asarray(np.abs(z[:, None] - start - share * step).min(axis=1))


def _cubics(curves: _Chains, row: int, spans: tuple[Span, ...], chain: Chain, fit_mm: float) -> Chain | None:
    """Return the cubics of a chain between its ends; None where they stray from it."""
    t = np.array([[spans[0].t0, *(span.t1 for span in spans)]])
    places, ways = curves.place(np.full(t.shape, row), t)
    at = [chain[0].start, *places[0, 1:-1].tolist(), chain[-1].end]
    way = ways[0].tolist()
    found: Chain = tuple(
        Cubic(at[k], at[k] + span.near_mm * way[k], at[k + 1] - span.far_mm * way[k + 1], at[k + 1])
        for k, span in enumerate(spans)
    )
    new, old = _points(found, LOOKS * len(chain)), curves.points[row]
    return found if max(_away(new, old).max(), _away(old, new).max()) <= fit_mm else None
