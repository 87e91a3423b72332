"""Regions where they stand, looked up by place before their true curves are worked with."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

import numpy as np
import shapely

from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.combine import Copies, Expression, evaluate, intersection, union
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.region import Region

__all__ = ["Crowd", "Placed", "placed_leaves"]

Rings = tuple[np.ndarray[tuple[int], np.dtype[np.complex128]], ...]


def placed_leaves(items: Iterable[Expression]) -> Iterator[Placed]:
    """Yield the regions among expressions, and all copies of regions, where they stand."""
    for item in items:
        if isinstance(item, Region):
            yield Placed(item)
        elif isinstance(item, Copies):
            yield from (Placed(item.region, placement) for placement in item.placements)


class Placed:
    """A region where it stands, with its polygon of chords for a first look."""

    __slots__ = ("_drawn", "_placement", "shape")

    def __init__(self, region: Region, placement: Affine = IDENTITY) -> None:
        self._drawn, self._placement = region, placement
        rings = [placement.apply(points) for points in _chords(region)]
        outer, *holes = (np.column_stack([ring.real, ring.imag]) for ring in rings)
        self.shape = shapely.Polygon(outer, holes)

    @property
    def region(self) -> Region:
        """The true curves."""
        return self._drawn.transformed(self._placement)


class Crowd:
    """Regions that are looked up by place."""

    __slots__ = ("_items", "_radius_mm", "_tree")

    def __init__(self, items: Sequence[Placed]) -> None:
        self._items = items
        self._tree = shapely.STRtree([item.shape for item in items]) if items else None
        corners = shapely.get_coordinates([item.shape for item in items])
        self._radius_mm = float(np.hypot(corners[:, 0], corners[:, 1]).max(initial=-math.inf))

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to be near to."""
        return self._tree is None

    def may_meet(self, regions: Iterable[Region], placement: Affine) -> bool:
        """Whether discs leave it open that regions, placed, meet any of them: a first look at what lies in the middle.

        The disc is round 0 and holds all of these; no chord of a region comes nearer to 0 than its ends do by more
        than half its length.
        """
        for region in regions:
            for points in _chords(region):
                ends = placement.apply(points)
                longest = float(np.abs(np.diff(ends, append=ends[:1])).max())
                if float(np.abs(ends).min()) - longest / 2 <= self._radius_mm:
                    return True
        return False

    def near(self, part: Placed) -> list[Placed]:
        """Return those that a part meets."""
        if self._tree is None:
            return []
        return [self._items[k] for k in sorted(self._tree.query(part.shape, predicate="intersects").tolist())]

    def overlap(self, part: Placed) -> tuple[Region, ...]:
        """Return what a part shares with any of them."""
        near = [item.region for item in self.near(part)]
        return evaluate(intersection(part.region, union(*near))).regions if near else ()


@lru_cache(maxsize=512)
def _chords(region: Region) -> Rings:
    return tuple(flatten_outline(outline).points for outline in region.outlines)
