"""The turns at which a design is laid."""

from __future__ import annotations

import math

import numpy as np
import shapely

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.sheet.design import Design

__all__ = ["all_turns", "free_turns", "is_near_round"]

NEAR_ROUND = 0.95
"""A design whose narrowest width is this share of its greatest is taken as round: turning it gains nothing."""
FREE_TURNS = 8
"""Turns tried for a design that may turn freely, beside quarters and the turn of least box."""


def free_turns(design: Design) -> tuple[float, ...]:
    """Return the turns to try, degrees counter-clockwise: by the design's turning, one for a near-round design."""
    turns = all_turns(design)
    return turns[:1] if len(turns) > 1 and is_near_round(design) else turns


def all_turns(design: Design) -> tuple[float, ...]:
    """Return all turns that are looked at, the one as drawn first."""
    if design.turning == "none":
        return (0.0,)
    if design.turning == "half":
        return (0.0, 180.0)
    quarters = (0.0, 90.0, 180.0, 270.0)
    if design.turning == "quarter":
        return quarters
    least = _least_box_turn(_hull(design))
    evenly = [360.0 * k / FREE_TURNS for k in range(FREE_TURNS)]
    return tuple(dict.fromkeys([*quarters, *(round(least + q, 9) % 360 for q in quarters), *evenly]))


def is_near_round(design: Design) -> bool:
    """Return whether the narrowest width of a design comes near its greatest."""
    return _has_even_width(_hull(design))


def _hull(design: Design) -> shapely.Geometry:
    return boolean.union([to_polygon(region) for region in design.regions]).convex_hull


def _has_even_width(hull: shapely.Geometry) -> bool:
    points = shapely.get_coordinates(hull)
    directions = np.exp(1j * np.linspace(0, math.pi, 180, endpoint=False))
    spread = np.ptp(np.outer(directions.real, points[:, 0]) + np.outer(directions.imag, points[:, 1]), axis=1)
    return bool(spread.min() >= NEAR_ROUND * spread.max())


def _least_box_turn(hull: shapely.Geometry) -> float:
    """Return the turn that lays the smallest surrounding rectangle level, in degrees."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(hull))
    side = corners[1] - corners[0]
    return -math.degrees(math.atan2(side[1], side[0]))
