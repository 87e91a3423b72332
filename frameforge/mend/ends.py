"""Where the line along a narrow place ends: in a disc that just fits the thick, or short of the tip of a finger."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.check.chords import Chords, FloatArray
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.track import Track
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["Ends", "Room", "settled"]

REACH = 3.0
"""How far beyond a place, in radii, room for a whole disc is looked for."""
STRIDE = 1 / 8
"""Length of a step in radii; never more than the room there is, so that no edge is stepped over."""
LEAST_STRIDE = 1 / 32
TURNS_RAD = np.radians(np.arange(-60, 61, 10))
"""Directions looked into at each step, from the one so far."""
NOT_LESS_MM = 1e-3
"""Room that differs by less is alike: edges are measured as chords."""
ROUND = 1.1
"""A tip that stays within this many radii of its last disc's centre is round."""
STEEPEST = 0.8
"""Greatest slope of a straight end; one that is more aslant is squared off."""
MOST_STEPS = 80
HALVINGS = 12
BACK = 0.6
"""Over how much of its end, in radii, the direction of a line is taken."""


@dataclass(frozen=True, slots=True)
class Room:
    """The edges of a piece, asked how much room there is around a point."""

    chords: Chords

    def around(self, points: Sequence[complex]) -> FloatArray:
        """Return the distance from each point to the nearest edge, mm; within the chord distance of the curves."""
        z = np.array(points, dtype=np.complex128)
        spots = np.asarray(shapely.points(z.real, z.imag))
        found = self.chords.tree.query_nearest(spots, return_distance=True, all_matches=False)
        away = np.zeros(len(z))
        away[found[0][0]] = found[1]
        return away


@dataclass(frozen=True, slots=True)
class Ends:
    """The line along a place with its ends settled, and square pieces that end it where a finger ends square."""

    points: tuple[complex, ...]
    squares: tuple[Region, ...] = ()


def settled(track: Track, room: Room, radius_mm: float, reach: float = REACH) -> Ends:
    """Return the line of a track with its free ends settled for a disc of ``radius_mm`` swept along it.

    Where going on leads to room for the whole disc, the line goes on to there: that disc touches the edge from inside
    and leaves no notch. Where it leads to the tip of a finger, the line stops short, so that the disc goes no further
    than the tip did, and a tip that is not round gets a straight end. ``reach``: how far room is looked for, in radii.
    """
    points, squares = list(track.points), []
    if track.end_is_free:
        points, square = _settled(points, track.end_tip, room, radius_mm, reach)
        squares += square
    if track.start_is_free:
        points, square = _settled(points[::-1], track.start_tip, room, radius_mm, reach)
        points = points[::-1]
        squares += square
    return Ends(tuple(points), tuple(squares))


def _settled(
    points: list[complex], tip: tuple[complex, ...], room: Room, radius_mm: float, reach: float
) -> tuple[list[complex], list[Region]]:
    """Return the points with the last one carried on, or drawn back, and the square piece of a straight end."""
    here, way = points[-1], _way(points, radius_mm)
    clear = begin = float(room.around([here])[0])
    path, length, falls = [here], 0.0, False
    for _ in range(MOST_STEPS):
        if clear >= radius_mm:
            return [*points, *_just_enough(room, path, radius_mm)], []
        step = max(min(STRIDE * radius_mm, 0.9 * clear), LEAST_STRIDE * radius_mm)
        # A step longer than the room there is may cross an edge, unless it goes straight on.
        ways = way * np.exp(1j * (TURNS_RAD if step <= clear else np.zeros(1)))
        away = room.around((here + step * ways).tolist())
        best = int(np.argmax(away))
        length += step
        falls = bool(away[best] < clear - NOT_LESS_MM)
        if falls or length > reach * radius_mm:
            break
        # The widest way, but for rounding: straight on where all are alike.
        best = len(ways) // 2 if away[len(ways) // 2] >= away[best] - NOT_LESS_MM else best
        here, way, clear = here + step * complex(ways[best]), complex(ways[best]), float(away[best])
        path.append(here)
    if not (falls and tip) or begin == 0:
        return points, []
    whole = [*points, *path[1:]]
    way = _way(whole, radius_mm)
    end = _straight_end(here, way, tip, clear)
    if end is None:
        return _round_end(whole, way, tip, radius_mm), []
    return _squared(whole, way, end, radius_mm)


def _round_end(points: list[complex], way: complex, tip: tuple[complex, ...], radius_mm: float) -> list[complex]:
    """Return the points with the last one where a disc of ``radius_mm`` round it just holds the round tip."""
    here = points[-1]
    seen = [(p - here) / way for p in tip]
    # A line may have gone on past the whole of a tip that bends away.
    beyond = [p for p in seen if p.real > 0] or seen
    # With the centre at x, (p.real - x)^2 + p.imag^2 <= radius^2 for all of the tip.
    far = max(p.real - math.sqrt(max(radius_mm**2 - p.imag**2, 0.0)) for p in beyond)
    far += MEND_MARGIN_MM
    return [*points[:-1], here + far * way] if far > 0 else _drawn_back(points, -far)


def _straight_end(
    centre: complex, way: complex, tip: tuple[complex, ...], radius_mm: float
) -> tuple[float, float] | None:
    """Return the straight end of a finger: how far beyond its last disc's centre, and how much further to the left.

    The second is the slope of the end, to the left of ``way``. None where the tip is round, or not known.
    """
    seen = [p for p in ((p - centre) / way for p in tip) if p.real > 0]
    if not seen or max(abs(p) for p in seen) < ROUND * radius_mm:
        return None
    furthest = max(p.real for p in seen)
    # The line over all the tip that is nearest to it in the middle: an edge of the convex hull.
    left, right = [p for p in seen if p.imag > 0], [p for p in seen if p.imag <= 0]
    lines = [(p, (q.real - p.real) / (q.imag - p.imag)) for p in right for q in left if q.imag - p.imag > 1e-9]
    over = [
        (p.real - slope * p.imag, slope)
        for p, slope in lines
        if abs(slope) <= STEEPEST and all(s.real - slope * s.imag <= p.real - slope * p.imag + 1e-9 for s in seen)
    ]
    return min(over, default=(furthest, 0.0))


def _squared(
    points: list[complex], way: complex, end: tuple[float, float], radius_mm: float
) -> tuple[list[complex], list[Region]]:
    """Return the points drawn back from a straight end, and what fills the strip from there up to the end."""
    far, slope = end
    tip, nearest = points[-1], far - abs(slope) * radius_mm
    kept = _drawn_back(points, max(radius_mm - nearest, 0.0) + MEND_MARGIN_MM)
    begin = ((kept[-1] - tip) / way).real
    if nearest <= begin:
        return kept, []
    corners = [
        complex(begin, -radius_mm),
        complex(far - slope * radius_mm, -radius_mm),
        complex(far + slope * radius_mm, radius_mm),
        complex(begin, radius_mm),
    ]
    return kept, [Region(Outline.from_points(tip + way * p for p in corners))]


def _just_enough(room: Room, path: list[complex], radius_mm: float) -> list[complex]:
    """Return the path but for its first point, its last one drawn back to where there is just enough room."""
    if len(path) < 2:
        return []
    low, high = path[-2:]
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if room.around([middle])[0] >= radius_mm else (middle, high)
    return [*path[1:-1], high]


def _way(points: Sequence[complex], radius_mm: float) -> complex:
    """Return the unit direction in which a line of at least two points ends."""
    end = points[-1]
    back = next((p for p in reversed(points) if abs(end - p) >= BACK * radius_mm), points[0])
    return (end - back) / abs(end - back)


def _drawn_back(points: list[complex], by_mm: float) -> list[complex]:
    """Return the line shortened at its end, by less where it is not longer than that."""
    kept = list(points)
    while len(kept) > 1 and by_mm > 0:
        last = abs(kept[-1] - kept[-2])
        if last > by_mm:
            kept[-1] += (kept[-2] - kept[-1]) * by_mm / last
            break
        by_mm -= last
        kept.pop()
    return kept if len(kept) > 1 else [points[0], points[0] + 1e-3 * (points[1] - points[0])]
