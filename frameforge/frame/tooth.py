"""A tooth: the card left between two cut-aways, and how wide it is at its narrowest."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from frameforge.frame.base import Edge
from frameforge.frame.gap import Standing, neighbour_gaps
from frameforge.frame.layout import Layout
from frameforge.frame.profile import Profile
from frameforge.frame.standing import standing_at
from frameforge.motif.motif import Motif

if TYPE_CHECKING:
    from frameforge.frame.mouth import Wall

__all__ = ["cut_standing", "is_of_teeth", "tooth_widths_mm"]


def is_of_teeth(layout: Layout) -> bool:
    """Return whether the gaps of a row are the widths of its teeth: of corner motifs in an opening they are.

    There walls draw apart into the card, so that a tooth is narrowest at the edge, where no cut-away is drawn to end.
    """
    return layout.track.meets == "opening" and any(ready.is_corner for ready in layout.readies)


def tooth_widths_mm(layout: Layout, edge: Edge, *, is_flat: bool = False) -> list[float]:
    """Return the least width of every tooth of a row between neighbours that are there, mm, exact.

    ``edge`` is the edge of the card that the row stands at, ``is_flat`` whether it is made straight from tip to tip.

    Between walls that run into the card along two axes a tooth is narrowest at full depth, its foot gap less
    2 d sin(phi/2) at the depth d and the turn phi; from an opening's edge, where the axes draw apart, at the edge.
    Below 0 where cut-aways overlap.
    """
    count = len(layout.seats)
    pairs = [
        (k, (k + 1) % count)
        for k in range(count)
        if count > 1 and all(layout.is_there[i] and layout.readies[i].motif.cut_away for i in (k, (k + 1) % count))
    ]
    places = {k: cut_standing(layout, k) for pair in pairs for k in pair}
    gaps = [gap.gap_mm for gap in neighbour_gaps([(places[a], places[b]) for a, b in pairs])]
    if layout.track.meets != "opening":
        return gaps
    from frameforge.frame.mouth import walls  # here, since few rows cut into an opening

    ends = {k: walls(layout, k, edge, is_flat=is_flat) for k in places}
    return [min(gap, *_apart(ends[a][1], ends[b][0])) for gap, (a, b) in zip(gaps, pairs, strict=True)]


def cut_standing(layout: Layout, k: int) -> Standing:
    """Return the cut-aways of a repeat where they stand."""
    ready = layout.readies[k]
    return standing_at(layout.track, ready, layout.seats[k], _cut_profile(ready.motif))


@lru_cache
def _cut_profile(motif: Motif) -> Profile:
    return Profile.from_outlines(region.outer for region in motif.cut_away)


def _apart(one: Wall, other: Wall) -> tuple[float, ...]:
    """Return the distances between the ends of two straight walls and the other wall."""
    return (*(_to_wall(p, other) for p in one), *(_to_wall(p, one) for p in other))


def _to_wall(point: complex, wall: Wall) -> float:
    along = wall[1] - wall[0]
    part = ((along.conjugate() * (point - wall[0])).real / abs(along) ** 2) if along else 0.0
    return abs(wall[0] + min(max(part, 0.0), 1.0) * along - point)
