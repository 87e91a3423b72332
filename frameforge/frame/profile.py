"""The outlines of a motif that count for the gap, flattened once with memory of their true curves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import Flat, flatten_outline
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.ragged import counted
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import CHORD_MM

__all__ = ["Complexes", "Floats", "Indices", "Profile"]

Complexes = npt.NDArray[np.complex128]
Floats = npt.NDArray[np.float64]
Indices = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Chords of closed ``outlines``: chord k runs from ``points[k]`` to ``ends[k]``, t0..t1 on segment ``segment[k]``.

    The segments stand in ``power`` (lines and cubics: coefficients of t^0..t^3, one row a segment) and ``round``
    (arcs: centre, u, v, start and sweep); ``is_arc`` tells which row counts.
    """

    outlines: tuple[Outline, ...]
    points: Complexes
    ends: Complexes
    segment: Indices
    t0: Floats
    t1: Floats
    following: Indices
    preceding: Indices
    is_arc: npt.NDArray[np.bool_]
    power: Complexes
    round: Complexes

    @classmethod
    def from_outlines(cls, outlines: Iterable[Outline], chord_mm: float = CHORD_MM) -> Profile:
        """Return the profile of closed outlines (at least one), chords within ``chord_mm`` of the curves."""
        kept = tuple(outlines)
        return cls._from_flats(kept, [flatten_outline(outline, chord_mm) for outline in kept])

    @classmethod
    def from_chord_counts(cls, outlines: Iterable[Outline], counts: Sequence[Indices]) -> Profile:
        """Return the profile with so many chords, at equal steps of t, for each segment of each outline."""
        kept = tuple(outlines)
        flats = []
        for outline, chords in zip(kept, counts, strict=True):
            row, step = counted(chords)
            t = step / chords[row]
            flats.append(Flat(SegmentTable.from_segments(outline.segments).point(row, t), row, t))
        return cls._from_flats(kept, flats)

    @classmethod
    def _from_flats(cls, kept: tuple[Outline, ...], flats: list[Flat]) -> Profile:
        sizes = [len(flat.points) for flat in flats]
        first_chord = np.cumsum([0, *sizes])
        first_segment = np.cumsum([0, *(len(outline.segments) for outline in kept)])
        rings = [np.arange(size) for size in sizes]
        t0 = np.concatenate([flat.t for flat in flats])
        t1 = np.concatenate([np.roll(flat.t, -1) for flat in flats])
        segments = [segment for outline in kept for segment in outline.segments]
        return cls(
            outlines=kept,
            points=np.concatenate([flat.points for flat in flats]),
            ends=np.concatenate([np.roll(flat.points, -1) for flat in flats]),
            segment=np.concatenate([f.segment + s for f, s in zip(flats, first_segment, strict=False)]),
            t0=t0,
            t1=np.where(t1 == 0, 1.0, t1),
            following=np.concatenate([np.roll(r, -1) + f for r, f in zip(rings, first_chord, strict=False)]),
            preceding=np.concatenate([np.roll(r, 1) + f for r, f in zip(rings, first_chord, strict=False)]),
            is_arc=np.array([isinstance(segment, Arc) for segment in segments]),
            power=np.array([_power_row(segment) for segment in segments], dtype=np.complex128),
            round=np.array([_round_row(segment) for segment in segments], dtype=np.complex128),
        )

    def curve(self, segment: Indices, t: Floats) -> tuple[Complexes, Complexes, Complexes]:
        """Return P(t), P'(t) and P''(t) of the true curves, for arrays of segment numbers and t of one shape."""
        row = self.power[segment]
        c0, c1, c2, c3 = row[..., 0], row[..., 1], row[..., 2], row[..., 3]
        point = c0 + t * (c1 + t * (c2 + t * c3))
        velocity = c1 + t * (2 * c2 + 3 * t * c3)
        acceleration = 2 * c2 + 6 * t * c3
        arcs = self.is_arc[segment]
        if not arcs.any():
            return point, velocity, acceleration
        row = self.round[segment]
        center, u, v, sweep = row[..., 0], row[..., 1], row[..., 2], row[..., 4].real
        q = row[..., 3].real + t * sweep
        cosine, sine = np.cos(q), np.sin(q)
        reach = u * cosine + v * sine
        return (
            np.where(arcs, center + reach, point),
            np.where(arcs, sweep * (v * cosine - u * sine), velocity),
            np.where(arcs, -(sweep.real**2) * reach, acceleration),
        )

    def along(self, chord: Indices, part: Floats) -> tuple[Indices, Floats]:
        """Return segment and t at ``part`` (0..1) of each chord."""
        return self.segment[chord], self.t0[chord] + part * (self.t1[chord] - self.t0[chord])


def _power_row(segment: Segment) -> tuple[complex, complex, complex, complex]:
    if isinstance(segment, Cubic):
        p0, p1, p2, p3 = segment.start, segment.c1, segment.c2, segment.end
        return p0, 3 * (p1 - p0), 3 * (p0 - 2 * p1 + p2), p3 - p0 + 3 * (p1 - p2)
    return segment.start, segment.end - segment.start, 0, 0


def _round_row(segment: Segment) -> tuple[complex, complex, complex, float, float]:
    if isinstance(segment, Arc):
        return segment.center, segment.u, segment.v, segment.start_rad, segment.sweep_rad
    return 0, 0, 0, 0.0, 0.0
