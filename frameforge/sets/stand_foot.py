"""The foot of a stand: half a disc with a slot from its top, which slides into a slot of the piece."""

from __future__ import annotations

import math
from itertools import pairwise

from frameforge.frame.spec import StandSpec
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

__all__ = ["foot_card", "foot_slot_mm"]


def foot_slot_mm(spec: StandSpec, thickness_mm: float) -> float:
    """Return how wide the slot of a foot is: all layers of the piece and the play, mm."""
    return spec.layers * thickness_mm + spec.play_mm


def foot_card(spec: StandSpec, thickness_mm: float, depth_mm: float) -> Region:
    """Return a foot ``spec.size_mm`` wide and half as high, standing on y = 0, its slot ``depth_mm`` deep.

    The slot is measured from the top of the disc. With slots of s in foot and piece and an overlap of 2 s both
    undersides come to lie level. ``depth_mm`` must be less than the foot's height and its slot narrower than the
    foot. Raises ValueError otherwise.
    """
    radius, half = spec.size_mm / 2, foot_slot_mm(spec, thickness_mm) / 2
    if not (0 < depth_mm < radius and half < radius):
        raise ValueError(f"a slot of {2 * half} x {depth_mm} mm does not go into a foot {spec.size_mm} mm wide")
    rim = math.asin(half / radius)
    floor = radius - depth_mm
    right = Arc.from_circle(0j, radius, 0.0, math.pi / 2 - rim)
    left = Arc.from_circle(0j, radius, math.pi / 2 + rim, math.pi / 2 - rim)
    inner = (right.end, complex(half, floor), complex(-half, floor), left.start)
    steps = tuple(Line(a, b) for a, b in pairwise(inner))
    left = left.with_ends(left.start, complex(-radius, 0))
    right = right.with_ends(complex(radius, 0), right.end)
    return Region(Outline((right, *steps, left, Line(complex(-radius, 0), complex(radius, 0)))))
