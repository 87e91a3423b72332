"""The pitch of a row: by how much each repeat is turned from the one before it, where that is one number."""

from __future__ import annotations

import math
from itertools import pairwise

from frameforge.frame.layout import Layout
from frameforge.tolerances import SAME_ANGLE_RAD

__all__ = ["pitch_deg"]


def pitch_deg(layout: Layout, count: int) -> float | None:
    """Return the turn in degrees from each repeat to its neighbour, among the first ``count`` of a layout.

    It is 360/count of an even ring, also where positions are left out, and else the turn between neighbours that are
    both there. None on ovals, where turns differ even at equal gaps, and where a pattern's turns differ.
    """
    taus = [seat.tau for seat in layout.seats[:count]]
    if not layout.track.edge.is_circle:
        return None
    if count == 1:
        return 360.0
    turns = [b - a for a, b in pairwise(taus)]
    is_ring = count == len(layout.seats)
    if is_ring and not layout.is_open and all(abs(turn - math.tau / count) < SAME_ANGLE_RAD for turn in turns):
        return 360.0 / count
    if is_ring and not layout.is_open:
        turns.append(taus[0] - taus[-1])
    is_there = layout.is_there
    kept = [turn % math.tau for k, turn in enumerate(turns) if is_there[k] and is_there[(k + 1) % count]]
    if not kept or max(kept) - min(kept) > SAME_ANGLE_RAD:
        return None
    return math.degrees(sum(kept) / len(kept))
