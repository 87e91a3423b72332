"""Where joined letters stand on an edge: what their feet shut in of it and no tool cuts is card too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import shapely

from frameforge.geometry.combine import Combined
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM

__all__ = ["without_slits"]

_SAME_MM: Final = 1e-6
"""Holes whose boxes and areas (mm, mm2) agree to this are one hole: a union leaves what it does not touch as it is."""


def without_slits(joined: Combined, before: Sequence[Region], slot_mm: float) -> Combined:
    """Return card with letters joined on, less the holes that letters and edge shut in between them and that are
    nowhere as wide as ``slot_mm``. Holes that the card or a letter had ``before`` stay, however small.
    """
    had = [_measured(hole) for region in before for hole in region.holes]

    def is_slit(hole: Outline) -> bool:
        mine = _measured(hole)
        if any(all(abs(a - b) <= _SAME_MM for a, b in zip(mine, other, strict=True)) for other in had):
            return False
        shape = to_polygon(Region(hole.reversed()))
        return 2 * float(shapely.maximum_inscribed_circle(shape, tolerance=CHORD_MM).length) < slot_mm

    regions = tuple(
        replace(region, holes=tuple(hole for hole in region.holes if not is_slit(hole))) for region in joined.regions
    )
    return replace(joined, regions=regions)


def _measured(hole: Outline) -> tuple[float, ...]:
    """Return what a hole is known again by: its box and its area."""
    box = bounds(hole)
    return box.left, box.bottom, box.right, box.top, area_mm2(hole)
