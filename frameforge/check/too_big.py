"""too-big-for-sheet, too-big-for-envelope: a piece that does not go into what it must go into, however it is turned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.check.survey import Survey
from frameforge.finding import Finding, Severity
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM, WIDTH_MM
from frameforge.units import format_floor, format_mm

__all__ = ["Allowed", "find_too_big"]

COARSE_TURNS = 720
"""Turns tried over half a circle, a quarter of a degree apart, before the best ones are searched on."""
FINE_STEPS = 48
"""Golden sections of the best turn: its width is then true to 1e-9 mm."""
BEST = 4
AS_ROUND = 0.95
"""A piece whose width and height agree to this share needs the shorter side of its room, and no more is told."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """Room in mm for one piece, and what gives it: "a C6 envelope with 3 mm each side", "an A4 sheet".

    A round room, of a lid or a tin, has one width. ``larger`` are rooms to be offered instead, the least first, each
    with the words in ``typed`` that ask for it.
    """

    width_mm: float
    height_mm: float
    what: str
    kind: Literal["sheet", "envelope"]
    is_round: bool = False
    typed: str = ""
    larger: tuple[Allowed, ...] = ()


def find_too_big(survey: Survey, allowed: Sequence[Allowed], severity: Severity = "refused") -> tuple[Finding, ...]:
    """Return a finding for everything that takes the piece at no turn, with how far it reaches at the best one.

    All regions count as one piece. Accuracy: extents are those of chords within .0001 mm of the curves, so a piece
    that fits to the hair is let through.
    """
    if not survey.regions or not allowed:
        return ()
    corners = _hull(survey.regions)
    return tuple(found for room in allowed for found in _too_big(survey.regions, corners, room, severity))


def _too_big(
    regions: Sequence[Region], corners: npt.NDArray[np.complex128], room: Allowed, severity: Severity
) -> Sequence[Finding]:
    """Return the finding for one thing a piece must go into, if it does not."""
    reach, limit = _least_reach(corners, room)
    if _goes_in(reach, limit):
        return ()
    middle = bounds(regions).center
    larger = next((other for other in room.larger if _goes_in(*_least_reach(corners, other))), None)
    way = (
        f"take a larger {room.kind}" if larger is None else f"use {larger.typed} (takes {_room_words(larger, corners)})"
    )
    say = f"{_outer(reach, limit)} across, {room.what} takes {format_floor(limit)}. Make it smaller, or {way}."
    return (
        Finding(
            code=f"too-big-for-{room.kind}",
            severity=severity,
            say=say,
            x_mm=middle.real,
            y_mm=middle.imag,
            measured=reach,
            limit=limit,
        ),
    )


def _goes_in(reach_mm: float, limit_mm: float) -> bool:
    return reach_mm - limit_mm <= 2 * CHORD_MM / 100 + WIDTH_MM


def _outer(reach_mm: float, limit_mm: float) -> str:
    """Return an outer size to .1 mm, finer where that would read like what it is too large for."""
    told = format_mm(reach_mm)
    return told if told != format_mm(limit_mm) else f"{math.ceil(reach_mm * 100 - 1e-6) / 100:.2f} mm"


def _room_words(room: Allowed, corners: npt.NDArray[np.complex128]) -> str:
    """Return what a room takes: both sides as they lie; for what is about as high as wide, the shorter one."""
    width, height = np.ptp(corners.real), np.ptp(corners.imag)
    if min(width, height) >= AS_ROUND * max(width, height) or room.width_mm == room.height_mm:
        return format_floor(min(room.width_mm, room.height_mm))
    return f"{format_floor(room.width_mm).removesuffix(' mm')} x {format_floor(room.height_mm)}"


def _least_reach(corners: npt.NDArray[np.complex128], room: Allowed) -> tuple[float, float]:
    """Return how far the outline reaches at its best turn where it is largest for its room, and what is allowed."""
    if room.is_round:
        points = shapely.MultiPoint(corners.view(np.float64).reshape(-1, 2))
        return 2 * float(shapely.minimum_bounding_radius(points)), room.width_mm
    width, height = _extents(corners, np.array([_best_turn(corners, room)]))
    sides = ((float(width[0]), room.width_mm), (float(height[0]), room.height_mm))
    return max(sides, key=lambda side: side[0] - side[1])


def _hull(regions: Sequence[Region]) -> npt.NDArray[np.complex128]:
    """Return the corners of the smallest convex outline round all regions."""
    points = np.concatenate([flatten_outline(region.outer, CHORD_MM / 100).points for region in regions])
    hull = shapely.convex_hull(shapely.MultiPoint(points.view(np.float64).reshape(-1, 2)))
    x, y = shapely.get_coordinates(hull).T
    return np.asarray(x + 1j * y)


def _extents(
    corners: npt.NDArray[np.complex128], turns: npt.NDArray[np.float64]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Return width and height of the outline turned by each of some angles, in radians."""
    turned = corners[None, :] * np.exp(1j * turns)[:, None]
    return np.ptp(turned.real, axis=1), np.ptp(turned.imag, axis=1)


def _best_turn(corners: npt.NDArray[np.complex128], room: Allowed) -> float:
    """Return the turn in radians at which the outline is least too large, or fits with the most room to spare."""

    def excess(turns: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        width, height = _extents(corners, turns)
        return np.maximum(width - room.width_mm, height - room.height_mm)

    step = math.pi / COARSE_TURNS
    turns = np.arange(COARSE_TURNS, dtype=np.float64) * step
    coarse = excess(turns)
    starts = turns[np.argsort(coarse, kind="stable")[:BEST]]
    low, high = starts - step, starts + step
    shrink = (math.sqrt(5) - 1) / 2
    for _ in range(FINE_STEPS):
        left, right = high - shrink * (high - low), low + shrink * (high - low)
        is_left = excess(left) < excess(right)
        low, high = np.where(is_left, low, left), np.where(is_left, right, high)
    found = np.concatenate([starts, (low + high) / 2])
    return float(found[np.argmin(excess(found))])
