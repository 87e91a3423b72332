"""One order for every result, so that the same shape is written in the same bytes."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Ints

__all__ = ["in_order", "regions_of"]


def regions_of(outlines: dict[int, Outline], polygon: Ints) -> tuple[Region, ...]:
    """Return one region for every polygon whose outer ring is there.

    ``outlines`` are keyed by the number of their ring; ``polygon`` tells the polygon of every ring, an outer ring
    before its holes. Regions, and the holes of each, are sorted by the joint they start at.
    """
    holes: dict[int, list[Outline]] = {}
    outer: dict[int, Outline] = {}
    seen: set[int] = set()
    for ring, owner in enumerate(polygon.tolist()):
        outline = outlines.get(ring)
        if outline is not None and owner in seen:
            holes.setdefault(owner, []).append(outline)
        elif outline is not None:
            outer[owner] = outline
        seen.add(owner)
    regions = (Region(outline, in_order(holes.get(owner, ()))) for owner, outline in outer.items())
    return tuple(sorted(regions, key=lambda region: _place(region.outer)))


def in_order(holes: Iterable[Outline]) -> tuple[Outline, ...]:
    """Return the holes of one region in the order of the joints they start at."""
    return tuple(sorted(holes, key=_place))


def _place(outline: Outline) -> tuple[float, float]:
    """Return where the outline starts, rounded so that rounding errors do not change an order."""
    start = outline.segments[0].start
    return round(start.real, 8), round(start.imag, 8)
