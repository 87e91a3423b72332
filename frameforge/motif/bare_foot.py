"""A foot without a motif on it: what stands in its place is counted round an edge before anything is drawn."""

from __future__ import annotations

from typing import Final

from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["BARE_FOOT", "bare_foot"]

BARE_FOOT: Final = "foot"
"""What a bare foot is called."""

_RISE: Final = 0.01
"""Height for width: so flat that neighbours come nearest at their foot ends, whichever way the edge bends."""


def bare_foot(foot_mm: float) -> Motif:
    """Return a motif that is all foot: a sliver ``foot_mm`` wide (above 0), its gap to the next one the foot gap."""
    left, tip, right = complex(-foot_mm / 2, 0), complex(0, _RISE * foot_mm), complex(foot_mm / 2, 0)
    return Motif(BARE_FOOT, (Region(Outline((Line(left, right), Line(right, tip), Line(tip, left)))),), foot_mm)
