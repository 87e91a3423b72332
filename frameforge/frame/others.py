"""Repeats that are no neighbours on the ring and yet come near: over a small one, or across an oval."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
import shapely

from frameforge.frame.gap import Gap, Standing, distance_between, gap_between
from frameforge.frame.layout import Layout
from frameforge.frame.ornament import Ready
from frameforge.frame.profile import Profile
from frameforge.frame.standing import standing_at
from frameforge.tolerances import CHORD_MM

__all__ = ["Others", "others_within"]


_MOST_LOOKED_AT: Final = 500
"""Discs compared each with each; of more, a tree tells sooner which are near."""


class Others(NamedTuple):
    """Two repeats that are no neighbours, by their numbers from 0 along the row, and the gap between them."""

    first: int
    second: int
    gap: Gap


def others_within(layout: Layout, within_mm: float) -> list[Others]:
    """Return the pairs, no neighbours, that are there and stand nearer than ``within_mm``, the nearest first.

    All outlines of both count. The gap is the true distance; below 0, as between neighbours, where they cross.
    """
    count = len(layout.seats)
    kept = [k for k, there in enumerate(layout.is_there) if there]
    if len(kept) < (3 if len(kept) < count or layout.is_open else 4):
        return []
    if not _may_meet(layout, kept, within_mm):
        return []
    placed = [standing_at(layout.track, layout.readies[k], layout.seats[k]) for k in kept]
    shapes = np.array([_lines(standing) for standing in placed])
    tree = shapely.STRtree(shapes)
    near = tree.query(shapes, predicate="dwithin", distance=max(within_mm, 0.0) + 2 * CHORD_MM)
    pairs = sorted({(int(a), int(b)) for a, b in near.T if a < b and not _are_neighbours(layout, kept[a], kept[b])})
    meet = [bool(shapely.intersects(shapes[a], shapes[b])) for a, b in pairs]
    found = [
        Others(kept[a], kept[b], gap_between(placed[a], placed[b]) if cross else distance_between(placed[a], placed[b]))
        for (a, b), cross in zip(pairs, meet, strict=True)
    ]
    return sorted((pair for pair in found if pair.gap.gap_mm < within_mm), key=lambda pair: pair.gap.gap_mm)


def _may_meet(layout: Layout, kept: Sequence[int], within_mm: float) -> bool:
    """Whether discs round the repeats leave it open that two which are no neighbours stand so near; True for bent ones.

    Most rows are answered by this first look.
    """
    if layout.track.is_bent or len(kept) > _MOST_LOOKED_AT:
        return True
    discs = [_disc(layout.readies[k]) for k in kept]
    placements = [layout.track.placement(layout.readies[k], layout.seats[k]) for k in kept]
    middles = np.array([place.apply(middle) for place, (middle, _) in zip(placements, discs, strict=True)])
    radii = np.array([radius for _, radius in discs]) + max(within_mm, 0.0) / 2 + 2 * CHORD_MM
    is_near = np.abs(middles[:, None] - middles) <= radii[:, None] + radii
    near = np.argwhere(np.triu(is_near, 1)).tolist()
    return any(not _are_neighbours(layout, kept[a], kept[b]) for a, b in near)


def _disc(ready: Ready) -> tuple[complex, float]:
    """Return middle and radius (mm) of a disc that holds all chords of a motif."""
    points = ready.profile.points
    middle = complex(points.real.min() + points.real.max(), points.imag.min() + points.imag.max()) / 2
    return middle, float(np.abs(points - middle).max())


def _are_neighbours(layout: Layout, a: int, b: int) -> bool:
    """Whether the gap between two repeats, a before b, is one of the row's own."""
    last = len(layout.seats) - 1
    return b - a == 1 or (a == 0 and b == last)


def _lines(standing: Standing) -> shapely.MultiLineString:
    """Return all outlines of a profile as closed lines."""
    points, profile = standing.points, standing.profile
    return shapely.MultiLineString([_closed(points[first:end]) for first, end in _rings(profile)])


def _rings(profile: Profile) -> list[tuple[int, int]]:
    """Return the first chord of every outline and the one past its last."""
    ends = np.flatnonzero(profile.following <= np.arange(len(profile.following))) + 1
    return list(zip([0, *ends[:-1].tolist()], ends.tolist(), strict=True))


def _closed(
    points: np.ndarray[tuple[int], np.dtype[np.complex128]],
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    ring = np.concatenate([points, points[:1]])
    return np.column_stack([ring.real, ring.imag])
