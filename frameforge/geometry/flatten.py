"""Curves as chords, with memory: which segment, and where on it, every vertex came from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.ragged import counted
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import CHORD_MM

__all__ = ["Flat", "chord_count", "flatten_outline", "flatten_outlines", "sample", "to_polygon"]


@dataclass(frozen=True, slots=True, eq=False)
class Flat:
    """The vertices of a flattened outline (the first is not repeated): points in mm, segment index, t in [0, 1)."""

    points: npt.NDArray[np.complex128]
    segment: npt.NDArray[np.intp]
    t: npt.NDArray[np.float64]


def chord_count(segment: Segment, chord_mm: float) -> int:
    """Return into how many equal steps of t a segment is cut so that its chords stay within ``chord_mm`` of it.

    ``SegmentTable.chord_counts`` does the same for many segments at once and gives the sources of both bounds.
    """
    if isinstance(segment, Line):
        return 1
    if isinstance(segment, Arc):
        cosine = 1 - min(chord_mm / segment.greatest_radius, 1.0)
        count = abs(segment.sweep_rad) / (2 * math.acos(cosine))
    else:
        count = math.sqrt(max(abs(segment.acceleration(0)), abs(segment.acceleration(1))) / (8 * chord_mm))
    return max(1, math.ceil(count * (1 - 1e-12)))


def sample(segment: Segment, t: npt.NDArray[np.float64]) -> npt.NDArray[np.complex128]:
    """Return the points P(t) of one segment in mm, for an array of t."""
    if isinstance(segment, Line):
        return np.asarray(segment.start + t * (segment.end - segment.start), dtype=np.complex128)
    if isinstance(segment, Arc):
        q = segment.start_rad + t * segment.sweep_rad
        return np.asarray(segment.center + segment.u * np.cos(q) + segment.v * np.sin(q), dtype=np.complex128)
    s = 1 - t
    ends = s * s * s * segment.start + t * t * t * segment.end
    return np.asarray(ends + 3 * s * t * (s * segment.c1 + t * segment.c2), dtype=np.complex128)


def flatten_outline(outline: Outline, chord_mm: float = CHORD_MM) -> Flat:
    """Return the vertices of the outline as chords that stay within ``chord_mm`` of the curve; joints keep their bits.

    A closed outline never becomes less than a triangle. Raises ValueError unless ``chord_mm`` is above 0.
    """
    return flatten_outlines((outline,), chord_mm)[0]


def flatten_outlines(outlines: Sequence[Outline], chord_mm: float = CHORD_MM) -> list[Flat]:
    """Return the vertices of each outline, as ``flatten_outline`` does, all worked out at once.

    Raises ValueError for a chord distance that is not above 0.
    """
    if not chord_mm > 0:
        raise ValueError(f"chord distance {chord_mm} mm must be above 0")
    if not outlines:
        return []
    table = SegmentTable.from_segments([segment for outline in outlines for segment in outline.segments])
    many = np.array([len(outline.segments) for outline in outlines])
    first = np.concatenate([[0], np.cumsum(many)])
    counts = table.chord_counts(chord_mm)
    is_few = np.repeat(np.add.reduceat(counts, first[:-1]) < 3, many)
    counts = np.where(is_few, np.maximum(counts, np.repeat(-(-3 // many), many)), counts)
    row, step = counted(counts)
    t = step / counts[row]
    points = table.point(row, t)
    points[step == 0] = table.start
    ends = np.cumsum(np.add.reduceat(counts, first[:-1]))
    parts = (slice(end - size, end) for end, size in zip(ends, np.diff(ends, prepend=0), strict=True))
    return [Flat(points[part], row[part] - begin, t[part]) for part, begin in zip(parts, first[:-1], strict=True)]


def to_polygon(region: Region, chord_mm: float = CHORD_MM) -> shapely.Polygon:
    """Return the region as a shapely polygon of chords within ``chord_mm`` of its curves, for measuring and drawing."""
    rings = [flat.points.view(np.float64).reshape(-1, 2) for flat in flatten_outlines(region.outlines, chord_mm)]
    return shapely.Polygon(rings[0], rings[1:])
