"""How much work an outline makes by how much is drawn in it, so that a try knows what it spends."""

from __future__ import annotations

from frameforge.frame.profile import Profile

__all__ = ["drawn_weight"]

_USUAL_CHORDS = 300
"""Chords of an outline up to which measuring takes no longer: what else is to be done takes most of the time."""


def drawn_weight(a: Profile, b: Profile) -> float:
    """Return how many times longer a pair of two profiles takes than a pair of usual ones, 1 at least.

    Measuring looks at every chord of the one against every chord of the other.
    """
    return max(1.0, len(a.points) * len(b.points) / _USUAL_CHORDS**2)
