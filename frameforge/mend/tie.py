"""Loose parts and edges that meet in a point, held by strips of card."""

from __future__ import annotations

import cmath
import math

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.check.touches import Touch
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.mend.ends import settled
from frameforge.mend.patch import Patch
from frameforge.mend.sweep import capsule
from frameforge.mend.tie_places import tie_places
from frameforge.mend.track import Track
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["is_joined_round", "join_at", "part_at", "strip", "tie"]

LOOKS_MM = (0.1, 0.3, 1.0, 2.0)
"""How far from a point where edges touch it is looked which way the card lies; between wide curves only far off."""
LOOKS = 360
REACH = 8.0
"""How far from there room for the whole strip is looked for, in its half width: two curves part slowly."""
FINE_MM = 0.001
"""Chords of the outlines then: near the point the sectors are narrow."""


def tie(view: View, loose: Region, to: tuple[Region, ...], least_mm: float) -> Patch:
    """Return strips of card ``least_mm`` wide from a loose part to some others: one, or more the larger it is."""
    ties = tie_places(view, loose, to, least_mm)
    return Patch(adds=tuple(region for start, end in ties for region in strip(view, start, end, least_mm)))


def is_joined_round(one: Region, other: Region) -> bool:
    """Return whether one of two parts lies in a hole of the other: an island, which belongs to what is round it."""
    inner, outer = (Region(part.outer) for part in (one, other))
    small, large = sorted((to_polygon(inner), to_polygon(outer)), key=lambda polygon: float(polygon.area))
    return bool(shapely.contains_properly(large, shapely.Point(*small.exterior.coords[0])))


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
    tracks = [Track((at, at + 1e-3 * way), False, False, True) for way in ways]
    reached = [settled(track, view.room, radius, REACH).points[-1] for track in tracks]
    strips = tuple(capsule(at, end, radius) for end in reached)
    return Patch(adds=strips) if in_card else Patch(cuts=strips)


def _ways(view: View, at: complex, *, in_card: bool) -> list[complex]:
    """Return the middle directions of the sectors of card, or of space, round a point."""
    polygons = [to_polygon(region, FINE_MM) for region in view.regions]
    turns = np.arange(LOOKS) * math.tau / LOOKS
    for reach in LOOKS_MM:
        z = at + reach * np.exp(1j * turns)
        inside = np.any([shapely.contains_xy(polygon, z.real, z.imag) for polygon in polygons], axis=0)
        ways = _sectors(inside if in_card else ~inside)
        if len(ways) > 1:
            return ways
    return []


def _sectors(wanted: npt.NDArray[np.bool_]) -> list[complex]:
    """Return the middle directions of the runs of looks, all round, that see what is wanted."""
    if wanted.all() or not wanted.any():
        return []
    first = int(np.nonzero(~wanted)[0][0])
    ways, begin = [], -1
    for k, is_wanted in enumerate([*np.roll(wanted, -first).tolist(), False]):
        if is_wanted and begin < 0:
            begin = k
        elif not is_wanted and begin >= 0:
            ways.append(cmath.rect(1, (first + (begin + k - 1) / 2) * math.tau / LOOKS))
            begin = -1
    return ways
