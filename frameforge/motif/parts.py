"""The parts that a motif's card is of: what hangs together in it, and what is left when one of them is left out.

A drawing of strokes is often of several: a frame, and what stands in it. Counted are first the regions that are joined
on, then the islands in their windows, in the order of both.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["MotifPart", "parts_of", "without_parts"]

_CHORD_MM: Final = 1e-3
"""Chords of parts lie this near to their curves: a tie is square to its edge by them."""


@dataclass(frozen=True, slots=True, eq=False)
class MotifPart:
    """One part of a motif's card, on chords and without the windows in it, and a point in it (mm)."""

    shape: BaseGeometry
    spot: complex


def parts_of(motif: Motif) -> tuple[MotifPart, ...]:
    """Return the parts of a motif's card: what is joined on, region by region, then the islands in its windows.

    What a window leaves nothing of has its point all the same, where it was drawn.
    """
    windows = [to_polygon(Region(window.outer), _CHORD_MM) for window in motif.window]
    islands = [Region(hole.reversed()) for window in motif.window for hole in window.holes]
    return tuple(_part(to_polygon(region, _CHORD_MM), windows) for region in (*motif.join, *islands))


def _part(drawn: shapely.Polygon, windows: list[shapely.Polygon]) -> MotifPart:
    # What stands in a window is a part by itself, and the window round an island is none of its own.
    near = [window for window in windows if window.intersects(drawn) and not window.covers(drawn)]
    left = boolean.difference(drawn, boolean.union(near)) if near else drawn
    point = shapely.point_on_surface(drawn if left.is_empty else left)
    return MotifPart(left, complex(point.x, point.y))


def without_parts(motif: Motif, numbers: Collection[int]) -> Motif:
    """Return a motif without those of its parts (from 0), and without the windows in them.

    Raises ValueError where nothing would be left that is joined on.
    """
    gone = [part for k, part in enumerate(parts_of(motif)) if k in numbers]
    count = len(motif.join)
    join = tuple(region for k, region in enumerate(motif.join) if k not in numbers)
    if not join:
        raise ValueError(f"motif {motif.name} without its parts {sorted(numbers)} is nothing")
    window, number = [], count
    for region in motif.window:
        numbered = range(number, number + len(region.holes))
        number += len(region.holes)
        if not _is_cut_in(region, gone):
            kept = tuple(hole for k, hole in zip(numbered, region.holes, strict=True) if k not in numbers)
            window.append(Region(region.outer, kept))
    return replace(motif, join=join, window=tuple(window))


def _is_cut_in(window: Region, parts: Collection[MotifPart]) -> bool:
    """Return whether a window is a hole of one of some parts: it lies within the outer edge of that."""
    spot = shapely.point_on_surface(to_polygon(window))
    outer = (shapely.Polygon(one.exterior) for part in parts for one in shapely.get_parts(part.shape))
    return any(ring.contains(spot) for ring in outer)
