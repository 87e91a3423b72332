"""The core of a widened line: polygons well inside of what a pen covers.

A line is taken apart into **runs** without sharp corners, unless its joins are round. Each run is widened straight
across its ends, which are held back a little, so that nothing sticks out where the pen cuts a corner or an end
straight; blocks fill the ground up to the corners again. Where a bit is missing nothing is lost: what ribbons enclose
and no parallel bounds is filled.
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from frameforge.geometry import boolean
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import chord_count, sample
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Complexes

__all__ = ["Spine", "spine_core"]

# A corner that turns less than this is widened like a curve: round or cut, the core keeps half of its margin.
_SHARP_RAD = 0.5
# A bend of a smaller radius than this many half widths could push the end of a run past the end of the line.
_TIGHT = 1.2


@dataclass(frozen=True, slots=True)
class Spine:
    """A line to be widened: segments end to end; whether its joins and its caps are round."""

    segments: tuple[Segment, ...]
    is_closed: bool
    has_round_joins: bool
    has_round_caps: bool


@dataclass(frozen=True, slots=True)
class _Run:
    """A stretch without sharp corners, and what its two ends are: a "corner", or an "end" of the line."""

    segments: tuple[Segment, ...]
    start: str
    end: str

    def trims(self, inset_mm: float, *, has_round_caps: bool) -> tuple[float, float]:
        """Return how much of the line the core keeps clear of at both ends, mm; nothing of a round end."""
        first, last = (0.0 if has_round_caps and kind == "end" else inset_mm for kind in (self.start, self.end))
        return first, last

    def are_tight(self, reach_mm: float) -> tuple[bool, bool]:
        """Return whether the line bends so tightly at each end that the core may reach past it."""
        first, last = (
            _radius(s, t) < _TIGHT * reach_mm for s, t in ((self.segments[0], 0.0), (self.segments[-1], 1.0))
        )
        return first, last


def spine_core(spines: Sequence[Spine], reach_mm: float, inset_mm: float, chord_mm: float) -> BaseGeometry:
    """Return the core of some lines, ``reach_mm`` less ``inset_mm`` wide to either side of them."""
    parts = [part for spine in spines for part in _parts(spine, reach_mm, inset_mm, chord_mm)]
    return boolean.union(np.array(parts, dtype=object))


def _parts(spine: Spine, reach_mm: float, inset_mm: float, chord_mm: float) -> list[BaseGeometry]:
    """Return the polygons whose union is the core of one line."""
    width = reach_mm - inset_mm
    runs = _runs(spine)
    if not runs:
        points = _points(spine.segments, chord_mm)
        # Over the first chord again: the joint of the ring then is a joint like the others.
        return [_widened(np.append(points, points[1]), width)]
    parts: list[BaseGeometry] = []
    for run in runs:
        points = _points(run.segments, chord_mm)
        parts += _run_parts(run, points, reach_mm, inset_mm, has_round_caps=spine.has_round_caps)
        inward = start_direction(run.segments[0]), -end_direction(run.segments[-1])
        for at, way, kind in zip(points[[0, -1]].tolist(), inward, (run.start, run.end), strict=True):
            if kind == "corner":
                parts.append(_block(at, way, width, min(2 * inset_mm, abs(points[-1] - points[0]) / 2)))
            elif spine.has_round_caps:
                parts.append(boolean.buffered(shapely.Point(at.real, at.imag), width))
    return parts


def _run_parts(
    run: _Run, points: Complexes, reach_mm: float, inset_mm: float, *, has_round_caps: bool
) -> list[BaseGeometry]:
    """Return the polygons beside a run. Near a tight end cut straight, only what lies on this side of the cut."""
    width = reach_mm - inset_mm
    trims = run.trims(inset_mm, has_round_caps=has_round_caps)
    long = float(np.abs(np.diff(points)).sum())
    inward = start_direction(run.segments[0]), -end_direction(run.segments[-1])
    held, parts = list(trims), []
    for k, is_tight in enumerate(run.are_tight(reach_mm)):
        if is_tight and trims[k]:
            # A bend could reach past the end from no further back than this; the rest is widened as it is.
            held[k] = 2 * reach_mm
            away = max(0.0, long - held[k] - inset_mm)
            stretch = (trims[0], away) if k == 0 else (away, trims[1])
            side = 2 * (long + reach_mm)
            ground = _block(complex(points[-k]) + inward[k] * inset_mm, inward[k], side, side)
            parts.append(boolean.intersection(_widened(points, width, stretch), ground))
    return [*parts, _widened(points, width, (held[0], held[1]))]


def _runs(spine: Spine) -> list[_Run]:
    """Return the runs of a line; none for a closed line without sharp corners."""
    segments = spine.segments
    pairs = list(pairwise((*segments, segments[0]) if spine.is_closed else segments))
    sharp = [k + 1 for k, (a, b) in enumerate(pairs) if not spine.has_round_joins and _turn(a, b) > _SHARP_RAD]
    if spine.is_closed:
        if not sharp:
            return []
        turned = segments[sharp[0] :] + segments[: sharp[0]]
        cuts = [0, *(k - sharp[0] for k in sharp[1:]), len(segments)]
        return [_Run(turned[a:b], "corner", "corner") for a, b in pairwise(cuts)]
    cuts = [0, *sharp, len(segments)]
    return [
        _Run(segments[a:b], "corner" if a else "end", "corner" if b < len(segments) else "end")
        for a, b in pairwise(cuts)
    ]


def _turn(a: Segment, b: Segment) -> float:
    """Return by how much the direction turns from one segment to the next, rad, whichever way."""
    return abs(cmath.phase(start_direction(b) / end_direction(a)))


def _radius(segment: Segment, t: float) -> float:
    """Return the radius of curvature, mm."""
    velocity = segment.velocity(t)
    cross = abs((velocity.conjugate() * segment.acceleration(t)).imag)
    return abs(velocity) ** 3 / cross if cross > 0 else float("inf")


def _points(segments: Sequence[Segment], chord_mm: float) -> Complexes:
    """Return the vertices of the chords of the segments, both ends among them."""
    counts = [chord_count(segment, chord_mm) for segment in segments]
    parts = [sample(segment, np.arange(n) / n) for segment, n in zip(segments, counts, strict=True)]
    return np.append(np.concatenate(parts), segments[-1].end)


def _widened(points: Complexes, width: float, trims: tuple[float, float] = (0.0, 0.0)) -> BaseGeometry:
    """Return the polygon of what lies beside a line of chords, held back at both ends; empty where nothing is left."""
    line = shapely.LineString(np.column_stack((points.real, points.imag)))
    if sum(trims) >= line.length:
        return shapely.Polygon()
    return boolean.buffered(substring(line, trims[0], line.length - trims[1]), width, cap="flat")


def _block(at: complex, inward: complex, width: float, depth: float) -> BaseGeometry:
    """Return the rectangle from a corner back into its leg."""
    across, back = 1j * inward * width, inward * depth
    return shapely.Polygon(
        [(z.real, z.imag) for z in (at - across, at + across, at + across + back, at - across + back)]
    )
