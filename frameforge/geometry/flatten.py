"""Curves as chords, with memory: which segment, and where on it, every vertex came from."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM

__all__ = ["Flat", "chord_count", "flatten_outline", "sample", "to_polygon"]


@dataclass(frozen=True, slots=True, eq=False)
class Flat:
    """The vertices of a flattened outline (the first is not repeated): points in mm, segment index, t in [0, 1)."""

    points: npt.NDArray[np.complex128]
    segment: npt.NDArray[np.intp]
    t: npt.NDArray[np.float64]


def chord_count(segment: Segment, chord_mm: float) -> int:
    """Return into how many equal steps of t the segment is cut so that no chord is further than ``chord_mm`` from it.

    An arc of half-axis r: a chord over the angle q lies r (1 - cos(q/2)) away at most (exact for circles, an upper
    bound for ellipses). A cubic: linear interpolation over a step h errs by at most h^2/8 max|P''|, and P'' is
    linear, so its greatest value stands at an end (de Boor, A Practical Guide to Splines, ch. III).
    """
    if isinstance(segment, Line):
        return 1
    if isinstance(segment, Arc):
        cosine = 1 - min(chord_mm / segment.greatest_radius, 1.0)
        return max(1, math.ceil(abs(segment.sweep_rad) / (2 * math.acos(cosine))))
    bend = max(abs(segment.acceleration(0)), abs(segment.acceleration(1)))
    return max(1, math.ceil(math.sqrt(bend / (8 * chord_mm))))


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
    if not chord_mm > 0:
        raise ValueError(f"chord distance {chord_mm} mm must be above 0")
    counts = [chord_count(segment, chord_mm) for segment in outline.segments]
    least = math.ceil(3 / len(counts)) if sum(counts) < 3 else 1
    parts = [np.arange(max(n, least)) / max(n, least) for n in counts]
    points = [sample(segment, t) for segment, t in zip(outline.segments, parts, strict=True)]
    for segment, part in zip(outline.segments, points, strict=True):
        part[0] = segment.start
    index = np.repeat(np.arange(len(parts)), [len(t) for t in parts])
    return Flat(np.concatenate(points), index, np.concatenate(parts))


def to_polygon(region: Region, chord_mm: float = CHORD_MM) -> shapely.Polygon:
    """Return the region as a shapely polygon of chords within ``chord_mm`` of its curves, for measuring and drawing."""
    rings = [flatten_outline(outline, chord_mm).points.view(np.float64).reshape(-1, 2) for outline in region.outlines]
    return shapely.Polygon(rings[0], rings[1:])
