"""Ellipses cut at the ends of their axes."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

from frameforge.geometry.arc import Arc
from frameforge.tolerances import SAME_T

__all__ = ["quarters"]


def quarters(arc: Arc) -> list[Arc]:
    """Return the arc cut where its ellipse has the ends of its axes, in order; whole quarters are congruent.

    Derivation: u cos q + v sin q = p e^iq + m e^-iq with p = (u - iv)/2, m = (u + iv)/2; both turn against each other
    and point the same way, at the end of the long axis, where q = (arg m - arg p)/2.
    """
    p, m = (arc.u - 1j * arc.v) / 2, (arc.u + 1j * arc.v) / 2
    first, quarter = (cmath.phase(m) - cmath.phase(p)) / 2, math.pi / 2
    low, high = sorted((arc.start_rad, arc.start_rad + arc.sweep_rad))
    turns = range(math.floor((low - first) / quarter), math.ceil((high - first) / quarter) + 1)
    inside = sorted((first + k * quarter - arc.start_rad) / arc.sweep_rad for k in turns)
    t = [0.0, *(t for t in inside if SAME_T < t < 1 - SAME_T), 1.0]
    return [arc.piece(t0, t1) for t0, t1 in pairwise(t)]
