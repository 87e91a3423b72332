"""Counters: the holes of a drawing, which a motif cuts through whatever card lies below."""

from __future__ import annotations

from typing import Final

from shapely import Polygon, STRtree

from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

__all__ = ["with_counters_cut"]

SPECK_PART: Final = 1e-4
"""An outline this part of the whole drawing across is a speck: .01 mm of a motif of 100 mm."""

Regions = tuple[Region, ...]


def with_counters_cut(join: Regions, window: Regions) -> tuple[Regions, Regions]:
    """Return (join without holes, windows): every hole of ``join`` has become a window.

    Joined card is added after the opening was cut and windows are cut last, so a hole that stays a hole would be
    filled by the rim below it. What stands inside a hole stays card: it becomes a hole of that window.
    ``join`` must hold regions that do not overlap, as the readers give them. Specks that nobody can see or cut, left
    where an outline crosses itself beside a joint, are left out.
    """
    join = _without_specks(join)
    holes = [hole for region in join for hole in region.holes]
    if not holes:
        return join, window
    islands = _islands(join)
    cut = tuple(
        Region(hole.reversed(), tuple(join[i].outer.reversed() for i in inside))
        for hole, inside in zip(holes, islands, strict=True)
    )
    held = {i for inside in islands for i in inside}
    plain = tuple(Region(region.outer) for i, region in enumerate(join) if i not in held)
    return plain, evaluate(union(*window, *cut)).regions if window else cut


def _without_specks(regions: Regions) -> Regions:
    """Return regions without outlines that are a speck against all of them."""
    if not regions:
        return regions
    box = bounds(regions)
    least = SPECK_PART * max(box.width_mm, box.height_mm)

    def is_seen(outline: Outline) -> bool:
        of = bounds(outline)
        return max(of.width_mm, of.height_mm) > least

    return tuple(
        Region(region.outer, tuple(filter(is_seen, region.holes))) for region in regions if is_seen(region.outer)
    )


def _islands(join: Regions) -> list[list[int]]:
    """Return for every hole, in their order, the numbers of the regions that stand in it and in no smaller hole."""
    shapes = [to_polygon(region) for region in join]
    rings = [Polygon(ring) for shape in shapes for ring in shape.interiors]
    inside: list[list[int]] = [[] for _ in rings]
    smallest: dict[int, int] = {}
    points = [shape.representative_point() for shape in shapes]
    for i, hole in STRtree(rings).query(points, predicate="within").T.tolist():
        if i not in smallest or rings[hole].area < rings[smallest[i]].area:
            smallest[i] = hole
    for i, hole in smallest.items():
        inside[hole].append(i)
    return inside
