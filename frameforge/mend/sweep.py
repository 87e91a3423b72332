"""What a disc covers that is swept along lines and arcs: regions bounded by lines and arcs of known radius."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import Loops, evaluate
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.tolerances import JOINT_MM, MEND_FIT_MM, SAME_ANGLE_RAD

__all__ = ["Path", "capsule", "swept"]

LEAST_BEND = 1.05
"""The sweep's inner edge stays clear of the centre of an arc whose radius is this many times that of the disc."""


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and arcs end to end, with or without corners; closed where the last ends in the point of the first."""

    segments: tuple[Line | Arc, ...]
    is_closed: bool = False


def swept(paths: Iterable[Path], radius_mm: float, more: Sequence[Region] = ()) -> tuple[Region, ...]:
    """Return what a disc covers along all the paths, and ``more``, as regions that do not overlap.

    Open paths end in half circles. An arc tighter than the disc is followed by short lines within ``MEND_FIT_MM``.
    """
    outlines = [outline for path in paths for outline in _outlines(path, radius_mm)]
    outlines += [region.outer for region in more]
    if len(outlines) == 1:
        region = Region(outlines[0])
        if boolean.is_sound(np.array([to_polygon(region)], dtype=object)):
            return (region,)
    return evaluate(Loops(tuple(outlines))).regions if outlines else ()


def capsule(start: complex, end: complex, radius_mm: float) -> Region:
    """Return what a disc covers on the straight way between two points; the disc where they are one."""
    if start == end:
        return Region(circle(start, radius_mm))
    return Region(_outlines(Path((Line(start, end),)), radius_mm)[0])


def _outlines(path: Path, radius_mm: float) -> list[Outline]:
    """Return loops that wind once or more round all that the disc covers, and not at all round the rest."""
    segments = [line for segment in path.segments for line in _loose(segment, radius_mm)]
    right = _side(segments, -radius_mm, is_closed=path.is_closed)
    left = [segment.reversed() for segment in reversed(_side(segments, radius_mm, is_closed=path.is_closed))]
    if path.is_closed:
        return [Outline.from_chain(side, joint_mm=JOINT_MM) for side in (right, left)]
    start, end = segments[0].start, segments[-1].end
    caps = [_turn(end, right[-1].end, math.pi), _turn(start, left[-1].end, math.pi)]
    return [Outline.from_chain([*right, caps[0], *left, caps[1]], joint_mm=JOINT_MM)]


def _side(segments: Sequence[Line | Arc], left_mm: float, *, is_closed: bool) -> list[Line | Arc]:
    """Return the parallel of a path to its left, round its corners from outside, to the corner and back from inside."""
    side: list[Line | Arc] = []
    for k, segment in enumerate(segments):
        side.append(_parallel(segment, left_mm))
        if k + 1 < len(segments) or is_closed:
            after = segments[(k + 1) % len(segments)]
            way = start_direction(after)
            turn = cmath.phase(way / end_direction(segment))
            if abs(turn) <= SAME_ANGLE_RAD:
                continue
            corner, begin, end = segment.end, side[-1].end, segment.end + 1j * left_mm * way
            if turn * left_mm < 0:
                side.append(_turn(corner, begin, turn))
            else:
                side += [Line(begin, corner), Line(corner, end)]
    return side


def _turn(centre: complex, begin: complex, turn_rad: float) -> Arc:
    """Return the arc round a centre from a point on."""
    return Arc.from_circle(centre, abs(begin - centre), cmath.phase(begin - centre), turn_rad)


def _parallel(segment: Line | Arc, left_mm: float) -> Line | Arc:
    """Return the segment shifted to its left."""
    if isinstance(segment, Line):
        way = segment.end - segment.start
        shift = 1j * left_mm * way / abs(way)
        return Line(segment.start + shift, segment.end + shift)
    radius = abs(segment.u) - (left_mm if segment.turns_left else -left_mm)
    sweep = abs(segment.sweep_rad) if segment.turns_left else -abs(segment.sweep_rad)
    return Arc.from_circle(segment.center, radius, cmath.phase(segment.start - segment.center), sweep)


def _loose(segment: Line | Arc, radius_mm: float) -> list[Line | Arc]:
    """Return a segment, or short lines in place of an arc tighter than the disc."""
    if isinstance(segment, Line) or abs(segment.u) >= LEAST_BEND * radius_mm:
        return [segment]
    cosine = 1 - min(MEND_FIT_MM / abs(segment.u), 1.0)
    count = math.ceil(abs(segment.sweep_rad) / (2 * math.acos(cosine)))
    return [Line(a, b) for a, b in pairwise(segment.point(k / count) for k in range(count + 1))]
