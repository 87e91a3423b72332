"""What is known of a motif, in numbers: size, foot, area, how many outlines each part has."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from frameforge.geometry.box import Box
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["MotifFacts", "card_of", "describe"]


@dataclass(frozen=True, slots=True)
class MotifFacts:
    """Size and contents of a motif as it stands: foot line y = 0, middle of the foot x = 0, mm, y up.

    ``box`` holds what is joined on and what is cut away (the windows, where there is neither); ``area_mm2`` is the
    card that is left of the joined part after the windows. The counts are outlines; ``segments`` are those of all.
    """

    name: str
    box: Box
    area_mm2: float
    foot_mm: float
    sink_mm: float
    is_foot_stated: bool
    join: int
    cut_away: int
    window: int
    segments: int
    notes: tuple[str, ...]


def describe(motif: Motif) -> MotifFacts:
    """Return the facts of a motif."""
    return MotifFacts(
        name=motif.name,
        box=bounds(motif.counted),
        area_mm2=area_mm2(card_of(motif)),
        foot_mm=motif.foot_mm,
        sink_mm=motif.sink_mm,
        is_foot_stated=motif.is_foot_stated,
        join=_outlines(motif.join),
        cut_away=_outlines(motif.cut_away),
        window=_outlines(motif.window),
        segments=sum(region.segment_count for region in motif.regions),
        notes=motif.notes,
    )


def card_of(motif: Motif) -> tuple[Region, ...]:
    """Return the card of a motif alone: what is joined on less its windows; for a motif of windows only, the windows.

    Windows that lie inside the card become its holes as they are; only others need the union.
    """
    if not motif.join or not motif.window:
        return motif.join or motif.window or motif.cut_away
    tree = shapely.STRtree([to_polygon(region) for region in motif.join])
    holes: list[list[Region]] = [[] for _ in motif.join]
    for window in motif.window:
        inside = tree.query(to_polygon(window), predicate="within").tolist()
        if window.holes or len(inside) != 1:
            return evaluate(difference(union(*motif.join), *motif.window)).regions
        holes[inside[0]].append(window)
    return tuple(
        Region(region.outer, region.holes + tuple(window.outer.reversed() for window in windows))
        for region, windows in zip(motif.join, holes, strict=True)
    )


def _outlines(regions: tuple[Region, ...]) -> int:
    return sum(len(region.outlines) for region in regions)
