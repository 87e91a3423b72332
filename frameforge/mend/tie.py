"""Loose parts and edges that meet in a point, held by strips of card."""

from __future__ import annotations

import cmath
import math

import numpy as np
import shapely

from frameforge.check.touches import Touch
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.nearest import distance
from frameforge.geometry.region import Region
from frameforge.mend.ends import settled
from frameforge.mend.patch import Patch
from frameforge.mend.sweep import capsule
from frameforge.mend.track import Track
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["join_at", "part_at", "strip", "tie"]

LOOK_MM = 0.2
"""How far from a point where edges touch it is looked which way the card lies, and which way the space."""
LOOKS = 72


def tie(view: View, loose: Region, to: tuple[Region, ...], least_mm: float) -> Patch:
    """Return a strip of card ``least_mm`` wide from a loose part to the nearest of some others, the shortest way."""
    nearest = distance(loose.outlines, [outline for part in to for outline in part.outlines])
    return Patch(adds=strip(view, nearest.at_a, nearest.at_b, least_mm))


def strip(view: View, start: complex, end: complex, least_mm: float) -> tuple[Region, ...]:
    """Return a strip between two edges, carried on into both until it ends in room for its whole width."""
    if start == end:
        return ()
    radius = least_mm / 2 + MEND_MARGIN_MM
    points = settled(Track((start, end), False, True, True), view.room, radius).points
    return (capsule(points[0], points[-1], radius),)


def join_at(view: View, touch: Touch, least_mm: float) -> Patch | None:
    """Return the card that joins what touches in a point, ``least_mm`` wide."""
    return _both_ways(view, touch.at, least_mm, in_card=True)


def part_at(view: View, touch: Touch, least_mm: float) -> Patch | None:
    """Return what is cut away so that what touches in a point is ``least_mm`` apart."""
    return _both_ways(view, touch.at, least_mm, in_card=False)


def _both_ways(view: View, at: complex, least_mm: float, *, in_card: bool) -> Patch | None:
    """Return a strip from a point into the card, or the space, on either side of it; None without two sides."""
    ways = _ways(view, at, in_card=in_card)
    if len(ways) < 2:
        return None
    radius = least_mm / 2 + MEND_MARGIN_MM
    reached = [settled(Track((at, at + 1e-3 * way), False, False, True), view.room, radius).points[-1] for way in ways]
    strips = tuple(capsule(at, end, radius) for end in reached)
    return Patch(adds=strips) if in_card else Patch(cuts=strips)


def _ways(view: View, at: complex, *, in_card: bool) -> list[complex]:
    """Return the middle directions of the sectors of card, or of space, round a point."""
    turns = np.arange(LOOKS) * math.tau / LOOKS
    z = at + LOOK_MM * np.exp(1j * turns)
    spots = shapely.points(z.real, z.imag)
    inside = np.zeros(LOOKS, dtype=np.bool_)
    for region in view.survey.regions:
        inside |= shapely.contains(to_polygon(region), spots)
    wanted = inside if in_card else ~inside
    if wanted.all() or not wanted.any():
        return []
    first = int(np.nonzero(~wanted)[0][0])
    turned = np.roll(wanted, -first).tolist()
    ways, begin = [], -1
    for k, is_wanted in enumerate([*turned, False]):
        if is_wanted and begin < 0:
            begin = k
        elif not is_wanted and begin >= 0:
            ways.append(cmath.rect(1, (first + (begin + k - 1) / 2) * math.tau / LOOKS))
            begin = -1
    return ways
