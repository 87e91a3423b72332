"""Holes of a piece: the largest disc in each, and whether it is a slit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.tolerances import GAP_MM, SUPPORT_MM

__all__ = ["Hole", "find_holes"]

SLIT_ROUNDNESS = 0.5
"""A hole of which 4 pi area / length^2 is under this is a slit: a rectangle four times as long as wide (.503)."""


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole: its outline, its loop number, the centre and the diameter (mm) of its largest disc, its area (mm2)."""

    outline: Outline
    loop: int
    centre: complex
    diameter_mm: float
    area_mm2: float
    is_slit: bool


def find_holes(regions: Sequence[Region]) -> tuple[Hole, ...]:
    """Return all holes, in the order of the regions. Loops are numbered over all regions, outer outline first."""
    holes: list[Hole] = []
    loop = 0
    for region in regions:
        for outline in region.holes:
            loop += 1
            holes.append(_hole(outline, loop))
        loop += 1
    return tuple(holes)


def _hole(outline: Outline, loop: int) -> Hole:
    area, length = abs(area_mm2(outline)), length_mm(outline)
    centre, diameter = _largest_disc(outline)
    is_slit = 4 * math.pi * area < SLIT_ROUNDNESS * length * length
    return Hole(outline, loop, centre, diameter, area, is_slit)


def _largest_disc(outline: Outline) -> tuple[complex, float]:
    """Return centre and diameter of the largest disc inside: exact for a circle, else within .001 mm."""
    first = outline.segments[0]
    if isinstance(first, Arc) and first.is_circular and all(_is_same_circle(first, s) for s in outline.segments):
        return first.center, 2 * abs(first.u)
    points = flatten_outline(outline, GAP_MM / 4).points
    polygon = shapely.Polygon([(z.real, z.imag) for z in points])
    disc = shapely.maximum_inscribed_circle(polygon, tolerance=GAP_MM / 4)
    x, y = disc.coords[0]
    return complex(x, y), 2 * float(disc.length)


def _is_same_circle(first: Arc, other: object) -> bool:
    if not isinstance(other, Arc):
        return False
    return abs(other.center - first.center) <= SUPPORT_MM and abs(abs(other.u) - abs(first.u)) <= SUPPORT_MM
