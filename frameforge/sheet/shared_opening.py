"""Equal discs cut from the round waste of an opening: how large they can be, for a count."""

from __future__ import annotations

import math

__all__ = ["MOST_SHARED", "discs_from_opening"]

# Radius of the circle round n equal circles, in their radii. R. L. Graham, 1968, "Sets of points with given minimum
# separation", American Mathematical Monthly 75, 192-193: up to 6 they stand in one ring, 7 are 6 round one.
_ROUND = {
    1: 1.0,
    2: 2.0,
    3: 1 + 2 / math.sqrt(3),
    4: 1 + math.sqrt(2),
    5: 1 + 1 / math.sin(math.pi / 5),
    6: 3.0,
    7: 3.0,
}
MOST_SHARED = max(_ROUND)
"""Counts up to this are known in closed form."""


def discs_from_opening(opening_mm: float, count: int, *, apart_mm: float, margin_mm: float) -> float:
    """Return the greatest diameter of ``count`` equal discs cut from the disc that falls out of a round opening.

    ``margin_mm`` is kept to its edge, ``apart_mm`` between discs; 0 when nothing is left of them. Raises ValueError
    unless the count is 1 .. MOST_SHARED. Growing each disc by half the distance turns it into touching circles in a
    circle of radius opening/2 - margin + apart/2.
    """
    if count not in _ROUND:
        raise ValueError(f"{count} discs: 1 to {MOST_SHARED} are known")
    radius = opening_mm / 2 - margin_mm + apart_mm / 2
    return max(2 * radius / _ROUND[count] - apart_mm, 0.0)
