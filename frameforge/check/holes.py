"""Holes of a piece: the largest disc in each, and whether it is a slit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import outline_sizes
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.tolerances import GAP_MM, SUPPORT_MM

__all__ = ["Disc", "Hole", "find_holes"]

KEPT = 8192
"""Holes whose largest disc is remembered: more than a piece has."""
SLIT_ROUNDNESS = 0.5
"""A hole of which 4 pi area / length^2 is under this is a slit: a rectangle four times as long as wide (.503)."""


@dataclass(frozen=True, slots=True)
class Disc:
    """A disc, mm."""

    centre: complex
    diameter_mm: float


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole: its outline, its loop number, its area (mm2), and the largest disc in it.

    ``disc`` is None in a hole so wide that nobody asked.
    """

    outline: Outline
    loop: int
    area_mm2: float
    is_slit: bool
    disc: Disc | None


def find_holes(regions: Sequence[Region], wide_mm: float = math.inf, large_mm2: float = math.inf) -> tuple[Hole, ...]:
    """Return all holes, in the order of the regions. Loops are numbered over all regions, outer outline first.

    The largest disc is looked for in holes smaller than ``large_mm2``, and in those, no slits, that may be
    narrower than ``wide_mm``.
    """
    discs = _Discs({})
    loops = [outline for region in regions for outline in region.outlines]
    is_hole = [k > 0 for region in regions for k in range(len(region.outlines))]
    numbers = [loop for loop, hole in enumerate(is_hole) if hole]
    sizes = zip(*(column.tolist() for column in outline_sizes([loops[number] for number in numbers])), strict=True)
    return tuple(
        _hole(loops[number], number, size, (wide_mm, large_mm2), discs)
        for number, size in zip(numbers, sizes, strict=True)
    )


def _hole(outline: Outline, loop: int, size: tuple[float, float], limits: tuple[float, float], discs: _Discs) -> Hole:
    """Return a hole of the signed area (mm2) and the length (mm) ``size``, with its disc within ``limits``."""
    area, length = abs(size[0]), size[1]
    wide_mm, large_mm2 = limits
    is_slit = 4 * math.pi * area < SLIT_ROUNDNESS * length * length
    # The largest disc in any hole has a radius of area / length or more: R. Osserman, 1979, "Bonnesen-style
    # isoperimetric inequalities", The American Mathematical Monthly 86, 1-29 (from memory).
    may_be_narrow = not is_slit and 2 * area < wide_mm * length
    disc = discs.largest_in(outline) if may_be_narrow or area < large_mm2 else None
    return Hole(outline, loop, area, is_slit, disc)


@dataclass(frozen=True, slots=True)
class _Discs:
    """The largest discs met so far, by the shape they lie in."""

    known: dict[object, Disc]

    def largest_in(self, outline: Outline) -> Disc:
        """Return the largest disc inside; of holes that are one shape it is searched for once."""
        from frameforge.check.alike import laid  # here, since few holes are so small or narrow

        lies = laid(outline)
        if lies is None:
            return _largest_disc(outline)
        if lies.numbers not in self.known:
            disc = _largest_disc(outline)
            self.known[lies.numbers] = Disc(lies.inside(disc.centre), disc.diameter_mm)
        disc = self.known[lies.numbers]
        return Disc(lies.outside(disc.centre), disc.diameter_mm)


@lru_cache(maxsize=KEPT)
def _largest_disc(outline: Outline) -> Disc:
    """Return the largest disc inside: exact for a circle, else within .001 mm.

    Kept, since a mend looks at a piece again and again, each time with most of its holes as they were.
    """
    first = outline.segments[0]
    if isinstance(first, Arc) and first.is_circular and all(_is_same_circle(first, s) for s in outline.segments):
        return Disc(first.center, 2 * abs(first.u))
    points = flatten_outline(outline, GAP_MM / 4).points
    polygon = shapely.Polygon([(z.real, z.imag) for z in points])
    disc = shapely.maximum_inscribed_circle(polygon, tolerance=GAP_MM / 4)
    x, y = disc.coords[0]
    return Disc(complex(x, y), 2 * float(disc.length))


def _is_same_circle(first: Arc, other: object) -> bool:
    if not isinstance(other, Arc):
        return False
    return abs(other.center - first.center) <= SUPPORT_MM and abs(abs(other.u) - abs(first.u)) <= SUPPORT_MM
