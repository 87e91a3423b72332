"""Spokes drawn by hand: with a protractor of whole degrees, or off squared paper, and by how much they are off."""

from __future__ import annotations

import math
from dataclasses import dataclass

from frameforge.frame.base import Edge
from frameforge.frame.spacing import arc_from_top_mm

__all__ = ["FULL_TURN_DEG", "GridSpokes", "grid_spokes", "protractor_miss_mm"]

FULL_TURN_DEG = 360


def protractor_miss_mm(count: int, size_mm: float) -> float:
    """Return how far the worst of ``count`` even spokes lands off on a circle when its direction is rounded to 1 deg.

    Every spoke is measured from the first one, so misses do not add up. 0 for counts that divide 360.
    """
    # Spoke k stands at 360 k/n: off by r/n of a degree, r the remainder of 360 k by n, taken to the nearer side.
    worst = max(min(r, count - r) for r in (FULL_TURN_DEG * k % count for k in range(count)))
    return size_mm / 2 * math.radians(worst / count)


@dataclass(frozen=True, slots=True)
class GridSpokes:
    """The eight spokes of squared paper on an edge: the two lengths of edge between neighbours, mm, and the even one.

    ``slanted_mm`` are spokes at true 45 degrees, ``diagonal_mm`` those along the diagonals of the box round the edge;
    each pair is (beside the top, beside the right).
    """

    slanted_mm: tuple[float, float]
    diagonal_mm: tuple[float, float]
    even_mm: float


def grid_spokes(edge: Edge) -> GridSpokes:
    """Return where spokes off squared paper meet an edge; on a circle all lengths are the same."""
    size = edge.size
    quarter = arc_from_top_mm(edge, math.pi / 2)

    def parted(direction_rad: float) -> tuple[float, float]:
        arc = arc_from_top_mm(edge, edge.tau_towards(direction_rad))
        return arc, quarter - arc

    return GridSpokes(parted(math.pi / 4), parted(math.atan2(size.width_mm, size.height_mm)), quarter / 2)
