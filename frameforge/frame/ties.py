"""Ties: strips of card that hold the islands of a window, as in a stencil.

A motif cut out as a window leaves islands: what were its own windows. A bar through the middle of an island, both ways
to the next card, holds it. Bars are looked for in a few directions and the shortest pair is taken, symmetric about the
motif's axis where the motif is.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.describe import card_of
from frameforge.motif.motif import Motif
from frameforge.tolerances import EVEN_MM, ROOT_MM

__all__ = ["Tied", "tied"]

_TURNS: Final = 12
"""Directions of bars tried in half a turn."""
_LINES: Final = 9
"""Lines side by side by which a bar's length is found."""
_ROUNDS: Final = 6
"""Times that islands which hold on to each other only are looked for again."""
_LOPSIDED: Final = 3.0
"""A bar so many times longer than its fellow on the other side of the island is left out."""
_IN_CUT_MM: Final = 1000.0
"""Added to the length of a bar that ends in another window: taken only where there is no other."""

Complexes = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class Tied:
    """What a window row cuts of one motif, how many islands that leaves and how many ties hold them."""

    cut: tuple[Region, ...]
    islands: int = 0
    ties: int = 0


@lru_cache
def tied(motif: Motif, width_mm: float, *, is_upright: bool = False) -> Tied | None:
    """Return the card of a motif as a window whose islands are held by ties ``width_mm`` wide, in the motif's place.

    ``is_upright`` has all ties run straight up and down, as in stencilled letters. None where no ties hold them all, or
    nothing would be left to cut.
    """
    cut = card_of(motif)
    first = [hole for region in cut for hole in region.holes]
    bars: list[Outline] = []
    islands, is_even = first, not is_upright and _is_even(cut)
    turns = (math.pi / 2,) if is_upright else tuple(k * math.pi / _TURNS for k in range(_TURNS))
    for _ in range(_ROUNDS):
        if not islands or not cut:
            return Tied(cut, len(first), len(bars)) if cut else None
        bars += _bars(islands, cut, width_mm, turns, is_even=is_even)
        cut = evaluate(difference(union(*card_of(motif)), *(Region(bar) for bar in bars))).regions
        islands = [hole for region in cut for hole in region.holes]
    return None


def _is_even(regions: Iterable[Region]) -> bool:
    """Return whether regions are their own mirror image about the axis."""
    outlines = [outline for region in regions for outline in region.outlines]
    edges = shapely.MultiLineString([_ring(flatten_outline(outline).points) for outline in outlines])
    points = np.concatenate([flatten_outline(outline).points for outline in outlines])
    shapely.prepare(edges)
    return bool(np.all(shapely.dwithin(edges, shapely.points(-points.real, points.imag), EVEN_MM)))


def _ring(points: Complexes) -> npt.NDArray[np.float64]:
    closed = np.concatenate([points, points[:1]])
    return np.column_stack([closed.real, closed.imag])


def _bars(
    islands: Sequence[Outline], cut: Sequence[Region], width_mm: float, turns: Sequence[float], *, is_even: bool
) -> list[Outline]:
    """Return bars for islands; for an even motif those right of the axis are copied to its left."""
    walls = _Walls.of(cut)
    bars: list[Outline] = []
    for island in islands:
        box = bounds(island)
        if not is_even:
            bars += _best(walls, _middle(island), turns, width_mm)
        elif abs(box.center.real) <= EVEN_MM:
            bars += _best(walls, _middle_on_axis(island), (0.0, math.pi / 2), width_mm)
        elif box.center.real > 0:
            found = _best(walls, _middle(island), turns, width_mm)
            bars += [*found, *(_mirrored(bar) for bar in found)]
    return bars


def _middle_on_axis(island: Outline) -> complex:
    """Return the middle of the longest stretch of the axis that lies in an island."""
    below = complex(0, bounds(island).bottom - 1)
    met = _Walls.of([Region(island.reversed())]).met(below, 1j)
    low, high = max(zip(met[::2], met[1::2], strict=True), key=lambda stretch: stretch[1] - stretch[0])
    return below + 1j * (low + high) / 2


def _middle(island: Outline) -> complex:
    """Return a point in an island: its centre of area, or the middle of its largest disc where that lies outside."""
    shape = to_polygon(Region(island.reversed()))
    centre = shape.centroid
    if not shape.contains(centre):
        centre = shapely.Point(shapely.maximum_inscribed_circle(shape).coords[0])
    return complex(centre.x, centre.y)


def _mirrored(bar: Outline) -> Outline:
    return Outline.from_points([complex(-s.start.real, s.start.imag) for s in reversed(bar.segments)])


@dataclass(frozen=True, slots=True, eq=False)
class _Walls:
    """All chords of what is cut."""

    start: Complexes
    end: Complexes

    @classmethod
    def of(cls, cut: Sequence[Region]) -> _Walls:
        """Return the chords of regions."""
        rings = [flatten_outline(outline).points for region in cut for outline in region.outlines]
        return cls(np.concatenate(rings), np.concatenate([np.roll(ring, -1) for ring in rings]))

    def met(self, origin: complex, towards: complex) -> list[float]:
        """Return how far from ``origin``, in the unit direction ``towards``, a ray crosses chords, in order."""
        a, b = (self.start - origin) / towards, (self.end - origin) / towards
        crosses = (a.imag <= 0) != (b.imag <= 0)
        a, b = a[crosses], b[crosses]
        along = a.real - a.imag * (b.real - a.real) / (b.imag - a.imag)
        return sorted(along[along > 0].tolist())


def _best(walls: _Walls, middle: complex, turns: Iterable[float], width_mm: float) -> list[Outline]:
    """Return the one or two bars through ``middle`` of the direction in which they are shortest."""
    tried = []
    for turn in turns:
        ways = [(_reach(walls, middle, cmath.rect(1, turn + half), width_mm), turn + half) for half in (0.0, math.pi)]
        tried.append((sum(cost for (_, cost), _ in ways), ways))
    _, ways = min(tried, key=lambda entry: round(entry[0], 6))
    shorter = min(cost for (_, cost), _ in ways)
    return [
        _bar(middle, cmath.rect(1, turn), length, width_mm)
        for (length, cost), turn in ways
        if cost <= _LOPSIDED * shorter + width_mm
    ]


def _reach(walls: _Walls, middle: complex, towards: complex, width_mm: float) -> tuple[float, float]:
    """Return how long a bar from ``middle`` is that ends in card all across, and what it costs: the way it bridges."""
    reach, bridged, crossings = 0.0, 0.0, []
    for aside in np.linspace(-width_mm / 2, width_mm / 2, _LINES).tolist():
        met = walls.met(middle + 1j * towards * aside, towards)
        crossings.append(met)
        # In card, an even number of walls lies ahead: into the window and out again; in the window only out.
        ahead = met[: 2 - len(met) % 2]
        if ahead:
            reach = max(reach, ahead[-1])
            bridged = max(bridged, ahead[-1] - (ahead[0] if len(ahead) == 2 else 0.0))
    length = reach + ROOT_MM
    is_in_cut = any(sum(along > length for along in met) % 2 for met in crossings)
    return length, bridged + (_IN_CUT_MM if is_in_cut else 0.0)


def _bar(middle: complex, towards: complex, length_mm: float, width_mm: float) -> Outline:
    side = 1j * towards * width_mm / 2
    end = middle + towards * length_mm
    return Outline.from_points([middle - side, end - side, end + side, middle + side])
