"""A zone kept free: whether a repeat reaches into it."""

from __future__ import annotations

import math

import numpy as np

from frameforge.frame.layout import Layout
from frameforge.frame.standing import standing_at

__all__ = ["reaches_into"]


def reaches_into(layout: Layout, k: int, width_deg: float, middle_deg: float) -> bool:
    """Whether any part of repeat k above the edge lies in the zone, seen from the middle of the piece.

    The middle of the zone is told clockwise from the top.
    """
    ready, seat = layout.readies[k], layout.seats[k]
    middle = math.radians(middle_deg)
    # Turned so that the middle of the zone is the real axis, directions are plain arguments.
    towards = complex(math.sin(middle), math.cos(middle))
    points = standing_at(layout.track, ready, seat).points * towards.conjugate()
    return bool((np.abs(np.angle(points)) < math.radians(width_deg / 2) - 1e-9).any())
