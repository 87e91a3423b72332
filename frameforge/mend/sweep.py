"""What a disc covers that is swept along lines and arcs: regions bounded by lines and arcs of known radius."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterable, Sequence

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.tolerances import JOINT_MM, MEND_FIT_MM

__all__ = ["capsule", "swept"]

MOST_TURN_RAD = 0.9 * math.pi
"""A chain that turns further may come back over itself: it is swept in parts."""
LEAST_BEND = 1.05
"""The sweep's inner edge stays clear of the centre of an arc whose radius is this many times that of the disc."""


def swept(chain: Sequence[Line | Arc], radius_mm: float, *, is_closed: bool = False) -> tuple[Region, ...]:
    """Return the regions, overlapping or not, that together are what a disc covers along a smooth chain.

    Each bend must be a smooth one; where it is tighter than the disc, arcs are followed by short lines within
    ``MEND_FIT_MM``. An open chain ends in half circles about its ends.
    """
    if any(isinstance(s, Arc) and abs(s.u) < LEAST_BEND * radius_mm for s in chain):
        return tuple(capsule(a, b, radius_mm) for a, b in _chords(chain))
    if is_closed:
        sides = [_side(chain, radius_mm, 1), _side(chain, radius_mm, -1)]
        rings = [Outline.from_chain(side, joint_mm=JOINT_MM) for side in sides]
        return _ring(*rings)
    strips = [_strip(part, radius_mm) for part in _parts(chain)]
    if not boolean.is_sound(np.array([to_polygon(strip) for strip in strips], dtype=object)):
        return tuple(capsule(a, b, radius_mm) for a, b in _chords(chain))
    return tuple(strips)


def capsule(start: complex, end: complex, radius_mm: float) -> Region:
    """Return what a disc covers on the straight way between two points; the disc where they are one."""
    return _strip((Line(start, end),), radius_mm) if start != end else Region(circle(start, radius_mm))


def _ring(left: Outline, right: Outline) -> tuple[Region, ...]:
    """Return the band between the two sides of a closed chain."""
    inner, outer = sorted((left, right), key=lambda outline: abs(area_mm2(outline)))
    outer = outer if area_mm2(outer) > 0 else outer.reversed()
    inner = inner if area_mm2(inner) < 0 else inner.reversed()
    return (Region(outer, (inner,)),)


def _strip(chain: Sequence[Line | Arc], radius_mm: float) -> Region:
    """Return what is covered along an open chain: its right side, a half circle, its left side, a half circle."""
    right = _side(chain, radius_mm, -1)
    left = [segment.reversed() for segment in reversed(_side(chain, radius_mm, 1))]
    start, end = chain[0].start, chain[-1].end
    caps = [_cap(end, right[-1].end - end, radius_mm), _cap(start, left[-1].end - start, radius_mm)]
    return Region(Outline.from_chain([*right, caps[0], *left, caps[1]], joint_mm=JOINT_MM))


def _cap(centre: complex, begin: complex, radius_mm: float) -> Arc:
    return Arc.from_circle(centre, radius_mm, cmath.phase(begin), math.pi)


def _side(chain: Sequence[Line | Arc], radius_mm: float, side: int) -> list[Line | Arc]:
    """Return the parallel on the left (1) or right (-1) of a chain."""
    return [_parallel(segment, side * radius_mm) for segment in chain]


def _parallel(segment: Line | Arc, left_mm: float) -> Line | Arc:
    """Return the segment shifted to its left."""
    if isinstance(segment, Line):
        way = segment.end - segment.start
        shift = 1j * left_mm * way / abs(way)
        return Line(segment.start + shift, segment.end + shift)
    radius = abs(segment.u) - (left_mm if segment.turns_left else -left_mm)
    spoke = segment.start - segment.center
    sweep = abs(segment.sweep_rad) if segment.turns_left else -abs(segment.sweep_rad)
    return Arc.from_circle(segment.center, radius, cmath.phase(spoke), sweep)


def _parts(chain: Sequence[Line | Arc]) -> list[list[Line | Arc]]:
    """Return the chain in parts that turn little enough not to come back over themselves."""
    parts: list[list[Line | Arc]] = [[]]
    turned = 0.0
    for segment in chain:
        turn = _turn(segment)
        if parts[-1] and abs(turned + turn) > MOST_TURN_RAD:
            parts.append([])
            turned = 0.0
        parts[-1].append(segment)
        turned += turn
    return parts


def _turn(segment: Line | Arc) -> float:
    if isinstance(segment, Line):
        return 0.0
    return abs(segment.sweep_rad) if segment.turns_left else -abs(segment.sweep_rad)


def _chords(chain: Iterable[Line | Arc]) -> list[tuple[complex, complex]]:
    """Return the chain as short lines within ``MEND_FIT_MM``."""
    found = []
    for segment in chain:
        count = 1
        if isinstance(segment, Arc):
            cosine = 1 - min(MEND_FIT_MM / abs(segment.u), 1.0)
            count = math.ceil(abs(segment.sweep_rad) / (2 * math.acos(cosine)))
        points = [segment.point(k / count) for k in range(count + 1)]
        found += list(itertools.pairwise(points))
    return found
