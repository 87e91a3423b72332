"""A motif's card as it will hold: standing on a straight edge, with what is cut away and cut out of it."""

from __future__ import annotations

from typing import Final

from frameforge.geometry.combine import Expression, difference, evaluate, union
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

__all__ = ["standing_card"]

_BESIDE_MM: Final = 5.0
"""Card of the edge beside and below the motif, more than the foot is wide: thick enough not to count as thin itself."""


def standing_card(motif: Motif) -> tuple[Region, ...]:
    """Return the motif joined to a straight edge that lies below the foot line, mm.

    What lies on the edge is held by it: a sill under a window is no thin web there. A motif of windows only is cut out
    of card all around it.
    """
    box = bounds(motif.regions)
    room = motif.foot_mm + _BESIDE_MM
    top = 0.0 if motif.join or motif.cut_away else box.top + room
    edge = Region(rectangle(box.left - room, min(box.bottom, 0.0) - room, box.right + room, top))
    whole: Expression = difference(edge, *motif.cut_away) if motif.cut_away else edge
    if motif.join:
        whole = union(whole, *motif.join)
    if motif.window:
        whole = difference(whole, *motif.window)
    return evaluate(whole).regions
