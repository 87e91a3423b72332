"""Where a finger, or a dead-end slot, that narrows towards its end is narrowest: between two samples, on the curves."""

from __future__ import annotations

from dataclasses import dataclass, replace

from frameforge.check.chords import Chords
from frameforge.check.spot import Spot, disc_radius
from frameforge.check.width import Width, nearest_mm, spot_on
from frameforge.tolerances import CHORD_MM, JOINT_MM

__all__ = ["narrowest"]

MOST_SEGMENTS = 6
"""Segments walked along; samples are nearer to the end of a finger than that."""
HALVINGS = 14
"""Of the way along one segment: to a ten-thousandth of it."""
FIRST_PART = 1 / 1024
"""Where the discs grow from the first part of the way on, the way leads out of the finger."""
SETTLINGS = 5
"""Rounds in which the other wall is followed, a quarter of its segment at most in each."""


@dataclass(frozen=True, slots=True)
class _Disc:
    """A disc between two walls: where it touches them, its radius (mm)."""

    spot: Spot
    other: Spot
    radius: float

    def centre(self, side: int) -> complex:
        """Centre of the disc."""
        return self.spot.point + self.radius * side * 1j * self.spot.direction


def narrowest(chords: Chords, width: Width, side: int) -> Width:
    """Return the least disc that is met walking down one wall from a disc, as a width; ``side`` 1: card, -1: slots.

    The walk ends where discs grow again, or where a third wall reaches into them: there the finger ends.
    """
    start = spot_on(chords, width.chord_a, width.a)
    disc = _Disc(start, spot_on(chords, width.chord_b, width.b), width.mm / 2)
    for _ in range(MOST_SEGMENTS):
        steps = [_towards(chords, disc, end, side) for end in (0.0, 1.0)]
        least = min(steps, key=lambda step: step.radius)
        if least.radius >= disc.radius - JOINT_MM:
            break
        disc = replace(least, spot=least.spot.beside())
    if disc.radius >= width.mm / 2:
        return width
    return Width(2 * disc.radius, disc.spot.point, disc.other.point, width.chord_a, width.chord_b)


def _towards(chords: Chords, disc: _Disc, end: float, side: int) -> _Disc:
    """Return the disc furthest along the wall's segment towards parameter ``end`` that is smaller and stands free."""
    low, high = disc.spot.t, end
    best = disc
    if _settled(replace(disc, spot=disc.spot.at(low + FIRST_PART * (high - low))), side).radius >= disc.radius:
        return disc
    tried_t = end
    for _ in range(HALVINGS):
        tried = _settled(replace(disc, spot=disc.spot.at(tried_t), other=best.other), side)
        if tried.radius < best.radius and nearest_mm(chords, tried.centre(side)) > tried.radius - CHORD_MM:
            best, low = tried, tried_t
        else:
            high = tried_t
        if low == high:
            break
        tried_t = (low + high) / 2
    return best


def _settled(disc: _Disc, side: int) -> _Disc:
    """Return the disc at its spot with the other contact followed to where it is."""
    for _ in range(SETTLINGS):
        radius, other = disc_radius(disc.spot, disc.other, side)
        is_still = abs(other.t - disc.other.t) < 1e-6
        disc = _Disc(disc.spot, other, radius)
        if is_still:
            break
    return disc
