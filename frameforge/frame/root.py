"""The root: the bit of card below the foot line, sunk in so that motif and card become one."""

from __future__ import annotations

import math
from functools import lru_cache

from frameforge.frame.base import Edge
from frameforge.frame.seat import FootSeat
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import ROOT_MM

__all__ = ["following_root", "rooted"]

_FLOOR_CHORDS = 24


@lru_cache
def rooted(motif: Motif, depth_mm: float) -> tuple[Region, ...]:
    """Return the motif's card with its foot carried straight down by ``depth_mm``, in the motif's own place.

    A motif without a foot (0 mm), a corner motif (its card reaches past the floor of its cut-away), or a depth
    of 0: returned as drawn.
    """
    if motif.cut_away or motif.foot_mm == 0 or depth_mm == 0 or not motif.join:
        return motif.join
    half = motif.foot_mm / 2
    return evaluate(union(*motif.join, Region(rectangle(-half, -depth_mm, half, 0)))).regions


def following_root(edge: Edge, seat: FootSeat) -> Region:
    """Return, in the piece's place, a root under a foot on a concave edge whose floor follows the edge at .3 mm.

    For a narrow rim, where a straight root would come out at the other side. Its floor is of chords: it lies in the
    card and leaves no trace.
    """
    floor = edge.parallel(ROOT_MM)
    first, last = (edge.tau_towards(math.atan2(end.real, end.imag)) for end in (seat.left, seat.right))
    span = (last - first) % math.tau
    points = [floor.point(first + span * k / _FLOOR_CHORDS) for k in range(_FLOOR_CHORDS + 1)]
    return Region(Outline.from_points([seat.right, *reversed(points), seat.left]))
