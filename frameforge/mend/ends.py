"""Where the line along a narrow place ends: in a disc that just fits the thick, or short of the tip of a finger."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from frameforge.check.chords import Chords, FloatArray
from frameforge.mend.track import Track
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["Room", "with_ends"]

REACH = 3.0
"""How far beyond a place, in radii, room for a whole disc is looked for."""
STRIDE = 1 / 8
"""Length of a step in radii; never more than the room there is, so that no edge is stepped over."""
LEAST_STRIDE = 1 / 32
TURNS_RAD = np.radians(np.arange(-60, 61, 10))
"""Directions looked into at each step, from the one so far."""
NOT_LESS_MM = 1e-3
"""Room that differs by less is alike: edges are measured as chords."""
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


def with_ends(track: Track, room: Room, radius_mm: float) -> Track:
    """Return the track with its free ends settled for a disc of ``radius_mm`` swept along it.

    Where going straight on leads to room for the whole disc, the track goes on to there: that disc touches the edge
    from inside and leaves no notch. Where it leads to the tip of a finger, the track stops short, so that the disc
    goes no further than the tip did.
    """
    if track.is_closed:
        return track
    points = list(track.points)
    if track.end_is_free:
        points = _settled(points, room, radius_mm)
    if track.start_is_free:
        points = _settled(points[::-1], room, radius_mm)[::-1]
    return replace(track, points=tuple(points))


def _settled(points: list[complex], room: Room, radius_mm: float) -> list[complex]:
    """Return the points with the last one carried on, or drawn back."""
    here, way = points[-1], _way(points, radius_mm)
    clear = begin = float(room.around([here])[0])
    path, length = [here], 0.0
    for _ in range(MOST_STEPS):
        if clear >= radius_mm:
            return [*points, *_just_enough(room, path, radius_mm)]
        step = max(min(STRIDE * radius_mm, 0.9 * clear), LEAST_STRIDE * radius_mm)
        ways = way * np.exp(1j * TURNS_RAD)
        away = room.around((here + step * ways).tolist())
        best = int(np.argmax(away))
        length += step
        if away[best] < clear - NOT_LESS_MM or length > REACH * radius_mm:
            break
        # The widest way, but for rounding: straight on where all are alike.
        best = len(ways) // 2 if away[len(ways) // 2] >= away[best] - NOT_LESS_MM else best
        here, way, clear = here + step * complex(ways[best]), complex(ways[best]), float(away[best])
        path.append(here)
    if length <= step and begin > 0:
        return _drawn_back(points, radius_mm - begin - MEND_MARGIN_MM)
    return points


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
