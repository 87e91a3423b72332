"""Crossings of curves that a third curve passes close by.

On which side of a crossing the third curve passes the chords cannot tell: three curves nearly through one point make a
triangle that may come out the wrong way round, or not at all. With the crossing as a vertex of both curves, and its
foot on the third, the chords can tell.
"""

from __future__ import annotations

import numpy as np

from frameforge.geometry.segment_table import Floats, Ints
from frameforge.geometry.trace.added import Added, dropped_feet
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.joints import Places, newton
from frameforge.geometry.trace.strips import Strips
from frameforge.tolerances import JOINT_MM

__all__ = ["crossings", "near_third_curves"]


def crossings(
    chains: Chains, strips: Strips, pairs: tuple[Ints, Ints], starts: tuple[Floats, Floats]
) -> tuple[Added, Added]:
    """Return the crossing of each pair of strips near given t, as a vertex of either curve; pairs without one are left
    out, and so are pairs of one segment."""
    a, b = newton(chains, *(Places(strips.segment[side], t) for side, t in zip(pairs, starts, strict=True)))
    on_a, on_b = a.point(chains), b.point(chains)
    is_found = (abs(on_a - on_b) < JOINT_MM) & (strips.segment[pairs[0]] != strips.segment[pairs[1]])
    is_found &= (a.segment != b.segment) | (a.t != b.t)
    point = ((on_a + on_b) / 2)[is_found]
    return Added(a.segment[is_found], a.t[is_found], point), Added(b.segment[is_found], b.t[is_found], point)


def near_third_curves(chains: Chains, strips: Strips, one: Added, two: Added, near_mm: float) -> Added:
    """Return vertices at those crossings that a third curve passes within ``near_mm``, and their feet on it.

    ``one`` and ``two`` are the crossings as places on either curve.
    """
    crossing, strip = strips.near_points(one.point, near_mm)
    segment = strips.segment[strip]
    is_third = np.ones(len(strip), dtype=bool)
    for side in (one, two):
        own = side.segment[crossing]
        is_third &= (segment != own) & (segment != chains.following[own]) & (segment != chains.preceding[own])
    crossing, strip = crossing[is_third], strip[is_third]
    feet = dropped_feet(chains, strips, one.point[crossing], strip, near_mm)
    crossing = np.unique(crossing)
    sides = (Added(side.segment[crossing], side.t[crossing], side.point[crossing]) for side in (one, two))
    return Added.joined(feet, *sides)
