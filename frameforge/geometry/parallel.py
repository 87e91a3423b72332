"""Parallel outlines: everything within a distance of some regions, or what is left when their edge is worn away.

Growing by d gives all points no further than d from the card, shrinking those that are d or more inside; both bounded
by exact lines and arcs, and by cubics fitted to the true parallel curve. ``geometry.ribbon`` tells how.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.combine import Combined, Report
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.ribbon.corners import Corners
from frameforge.geometry.ribbon.evaluate import Loop, Task, evaluate
from frameforge.tolerances import CHORD_MM, FIT_MM

__all__ = ["parallel", "parallel_with_report"]


def parallel(
    card: Region | Sequence[Region],
    distance_mm: float,
    *,
    join: Literal["round", "mitre"] = "round",
    mitre_limit: float = 10.0,
    fit_mm: float = FIT_MM,
) -> tuple[Region, ...]:
    """Return the card grown (``distance_mm`` above 0) or shrunk (below 0) by a constant distance.

    Arguments: ``card`` is a region, or several that do not overlap; grown ones run together where they meet. ``join``
    says how raised corners are closed, round or by a point; a point further than ``mitre_limit`` times the distance
    from its corner is made round. ``fit_mm`` bounds how far a cubic may lie from the exact parallel of a cubic or
    elliptical arc; parallels of lines and circular arcs are exact.
    Degenerate: distance 0 gives the card back; nothing left gives no region; what only touches stays in two parts.
    Raises ValueError for a distance that is not finite and for a fit that is not above 0.
    """
    return parallel_with_report(card, distance_mm, Corners(join, mitre_limit), fit_mm=fit_mm).regions


def parallel_with_report(
    card: Region | Sequence[Region], distance_mm: float, corners: Corners, *, fit_mm: float = FIT_MM
) -> Combined:
    """Return the same with the report: how often it was repeated finer, and places that could not be made exact.

    Raises ValueError as ``parallel`` does.
    """
    if not math.isfinite(distance_mm):
        raise ValueError(f"distance {distance_mm} mm is not finite")
    if not fit_mm > 0:
        raise ValueError(f"fit {fit_mm} mm must be above 0")
    regions = tuple(_directed(region) for region in ((card,) if isinstance(card, Region) else card))
    if distance_mm == 0 or not regions:
        return Combined(regions, Report(CHORD_MM))

    def core(inset_mm: float, chord_mm: float) -> BaseGeometry:
        polygons = np.array([to_polygon(region, chord_mm) for region in regions], dtype=object)
        reach = distance_mm - math.copysign(inset_mm, distance_mm)
        return boolean.buffered(polygons[0] if len(polygons) == 1 else boolean.union(polygons), reach)

    loops = tuple(Loop((outline.segments,)) for region in regions for outline in region.outlines)
    return evaluate(Task(loops, distance_mm, fit_mm, corners, core))


def _directed(region: Region) -> Region:
    """Return the region with the card to the left of all its outlines."""
    holes = tuple(hole.reversed() if area_mm2(hole) > 0 else hole for hole in region.holes)
    outer = region.outer.reversed() if area_mm2(region.outer) < 0 else region.outer
    return Region(outer, holes)
