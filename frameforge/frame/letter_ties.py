"""Letters that hold together: islands of cut letters by ties, dots and accents of joined letters by bars below them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import shapely

from frameforge.errors import GeometryError
from frameforge.frame.ties import tied
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

__all__ = ["held_from_below", "held_islands"]

_NAME: Final = "letter"


def held_islands(regions: tuple[Region, ...], width_mm: float) -> tuple[tuple[Region, ...], int]:
    """Return what is cut of a letter so that every island in it is held by ties of a width, and how many ties.

    Raises GeometryError for a letter too small for ties.
    """
    if not any(region.holes for region in regions):
        return regions, 0
    letter = Motif(_NAME, regions, 0.0)
    found = tied(letter, width_mm, is_upright=True) or tied(letter, width_mm)
    if found is None:
        say = f"letters are too small for ties {width_mm:g} mm wide. Make them larger, or have them marked."
        raise GeometryError(say, code="tie")
    return found.cut, found.ties


def held_from_below(regions: tuple[Region, ...], sink_mm: float, width_mm: float) -> tuple[Region, ...]:
    """Return a letter in one part that reaches the line ``sink_mm`` above its baseline, where card begins.

    What would stand loose (dots, accents, hyphens) gets a bar ``width_mm`` wide straight down to the baseline.
    """
    loose = [part for part in regions if bounds(part).bottom >= sink_mm]
    if not loose:
        return regions
    return evaluate(union(*regions, *_bars(loose, width_mm))).regions


def _bars(loose: Iterable[Region], width_mm: float) -> Iterable[Region]:
    """Yield a bar from the middle of each part down to the baseline."""
    for part in loose:
        shape = to_polygon(part)
        middle = shape.centroid
        if not shape.contains(middle):
            middle = shapely.Point(shapely.maximum_inscribed_circle(shape).coords[0])
        yield Region(rectangle(middle.x - width_mm / 2, 0.0, middle.x + width_mm / 2, middle.y))
