"""How much room a piece takes: the outermost points of its outline, and what they fit into at the best turn."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely

from frameforge.card.envelope import Envelope
from frameforge.frame.profile import Complexes, Floats
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.outline import Outline
from frameforge.tolerances import EXTENT_MM, SUPPORT_MM

__all__ = ["hull_of", "outline_points", "room_taken", "round_mm"]

_TURNS = 180
_FINER = 16
_NARROWED = 12
_DIPS = 4
"""So many of the best turns of a coarse look are looked at finely: the room taken has several dips."""
_FIRST = 24
"""Corners that lie outermost in so many directions are the first of those that a circle goes round."""
_ROUND_PART = 0.86
"""A piece on a circle that is nowhere narrower than this part of the circle round it is round: a ring of six motifs or
more (cos 30 deg). It turns in its envelope as it likes, so the circle round it counts."""


def outline_points(outlines: Iterable[Outline]) -> Complexes:
    """Return points (mm, in order) of the outlines: nothing lies more than ``EXTENT_MM`` outside their hull."""
    return np.concatenate([flatten_outline(outline, EXTENT_MM).points for outline in outlines])


def hull_of(points: Complexes) -> Complexes:
    """Return the corners of the convex hull, in order."""
    hull = shapely.convex_hull(shapely.MultiPoint(np.column_stack([points.real, points.imag])))
    return np.asarray(shapely.get_coordinates(hull) @ np.array([1, 1j]), dtype=np.complex128)


def round_mm(hull: Complexes) -> float | None:
    """Return the width of the circle about 0 through the outermost of the corners, mm; None where not round.

    ``hull`` holds the corners in order.
    """
    around = 2 * float(np.abs(hull).max())
    angles = np.arange(_TURNS) * math.pi / _TURNS
    return around if float(_widths(hull, angles).min()) >= _ROUND_PART * around else None


def room_taken(hull: Complexes, envelope: Envelope, *, on_circle: bool) -> float:
    """Return how much of the room an envelope gives a piece takes at its best turn: above 1 it does not go in.

    ``hull`` holds the corners in order, mm. A round piece on a circle takes its width, whichever way it is turned.
    """
    around = round_mm(hull) if on_circle else None
    if around is not None:
        return around / envelope.short_mm
    if envelope.kind == "circle":
        return 2 * _ring_mm(hull) / envelope.short_mm
    return _best_turn(hull, envelope)


def _ring_mm(hull: Complexes) -> float:
    """Return the radius of the least circle round all corners, mm.

    It is that of a few of them: of some that lie outermost, and of each that is found to lie outside. Round an oval of
    thousands of corners shapely alone takes half a second.
    """
    turns = np.exp(1j * np.arange(_FIRST) * math.tau / _FIRST)
    picked = {int(k) for k in (hull[:, None] * turns.conj()).real.argmax(axis=0)}
    while True:
        some = hull[sorted(picked)]
        points = shapely.MultiPoint(np.column_stack([some.real, some.imag]))
        radius = float(shapely.minimum_bounding_radius(points))
        middle = shapely.centroid(shapely.minimum_bounding_circle(points))
        away = np.abs(hull - complex(middle.x, middle.y))
        farthest = int(away.argmax())
        if away[farthest] <= radius + SUPPORT_MM or farthest in picked:
            return radius
        picked.add(farthest)


def _best_turn(hull: Complexes, envelope: Envelope) -> float:
    """Return the least of the greater of both parts, widths over sides, over all turns."""

    def parts(angles: Floats) -> Floats:
        across = _widths(hull, angles) / envelope.short_mm
        return np.maximum(across, _widths(hull, angles + math.pi / 2) / envelope.long_mm)

    angles = math.pi * np.arange(_TURNS) / _TURNS
    coarse = parts(angles)
    dips = np.flatnonzero((coarse <= np.roll(coarse, 1)) & (coarse <= np.roll(coarse, -1)))
    best = math.inf
    for k in dips[np.argsort(coarse[dips])][:_DIPS].tolist():
        middle, reach = float(angles[k]), math.pi / _TURNS
        for _ in range(_NARROWED):
            near = middle + reach * np.linspace(-1, 1, _FINER + 1)
            found = parts(near)
            middle, reach = float(near[found.argmin()]), reach * 2 / _FINER
            best = min(best, float(found.min()))
    return best


def _widths(hull: Complexes, angles: Floats) -> Floats:
    """Return how wide the hull is along each direction."""
    along = (np.exp(-1j * angles)[:, None] * hull).real
    return np.asarray(along.max(axis=1) - along.min(axis=1))
