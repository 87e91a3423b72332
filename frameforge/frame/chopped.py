"""What is chopped: card of a motif that a window or a hole cuts off, and what is pushed beyond an edge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from frameforge.finding import Finding
from frameforge.frame.piece import PlacedMotif, RowResult
from frameforge.frame.unite import RowParts, card_before_windows
from frameforge.frame.wording import place_words, plural
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.combine import Copies, Expression, difference, evaluate, intersection, union
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["Chopping", "Surroundings", "chopped"]

_LEAST_MM2 = 0.01
"""Less than this cannot be seen (a tenth of a millimetre square)."""

Rings = tuple[np.ndarray[tuple[int], np.dtype[np.complex128]], ...]


@dataclass(frozen=True, slots=True)
class Chopping:
    """A row as it stands: ``cut`` gives what it cuts out of the card where it is a window row, else it is None.

    ``is_on_opening`` tells whether it stands at the opening, and not at the base.
    """

    row: RowResult
    is_on_opening: bool
    cut: Callable[[Motif], tuple[Region, ...]] | None = None


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the rows stand in: edges of the card, round holes, and what rows do to it."""

    base: Region
    opening: Region | None
    holes: tuple[Region, ...]
    parts: tuple[RowParts, ...]


def chopped(rows: Sequence[Chopping], around: Surroundings) -> Iterator[tuple[int, Finding]]:
    """Yield a warning for every motif of which something is chopped, with the number of its row, from 0.

    Of card joined on: what a window of another row or a round hole cuts out of it, and what is pushed beyond the other
    edge of the card. Of windows: what lies where there is no card. The measure is the area, the place its middle.
    Nothing chopped: nothing is yielded.
    """
    pierced = [[*_pierced(row)] for row in rows]
    holes = [_Placed(hole) for hole in around.holes]
    base, opening = _Placed(around.base), [_Placed(around.opening)] if around.opening else []
    for k, mine in enumerate(rows):
        if mine.cut is not None:
            yield from ((k, one) for one in _of_windows(mine, around))
            continue
        cutting = _Crowd([*holes, *(piece for j, pieces in enumerate(pierced) if j != k for piece in pieces)])
        inner = _Crowd([] if mine.is_on_opening else opening)
        for repeat in mine.row.repeats:
            for part in (_Placed(region, repeat.placement) for region in repeat.motif.join):
                cut, inside = cutting.overlap(part), inner.overlap(part)
                yield from ((k, one) for one in _finding(cut, repeat, "are cut off by a window or a hole"))
                yield from ((k, one) for one in _finding(inside, repeat, "reach into the opening"))
                if mine.is_on_opening and not shapely.contains(base.shape, part.shape):
                    beyond = evaluate(difference(part.region, around.base)).regions
                    yield from ((k, one) for one in _finding(beyond, repeat, "reach out beyond the base"))


def _of_windows(mine: Chopping, around: Surroundings) -> Iterator[Finding]:
    """Yield what of the windows of a row lies where there is no card."""
    disc = _Placed(around.base)
    empty = _Crowd(
        [
            *([_Placed(around.opening)] if around.opening else []),
            *(piece for row in around.parts for piece in _leaves((*row.hollow, *row.clears))),
        ]
    )
    card: tuple[Region, ...] | None = None
    for repeat in mine.row.repeats:
        for part in (_Placed(region, repeat.placement) for region in (mine.cut(repeat.motif) if mine.cut else ())):
            if shapely.contains(disc.shape, part.shape) and not empty.near(part):
                continue
            if card is None:
                card = evaluate(card_before_windows(around.base, around.opening, around.parts)).regions
            missing = evaluate(difference(part.region, *card)).regions
            yield from _finding(missing, repeat, "lie where there is no card to cut")


def _finding(chopped_off: tuple[Region, ...], repeat: PlacedMotif, what: str) -> Iterator[Finding]:
    """Yield the finding for the regions chopped off, if they are anything to speak of."""
    area = area_mm2(chopped_off) if chopped_off else 0.0
    if area < _LEAST_MM2:
        return
    spot = centroid(chopped_off)
    yield Finding(
        "chopped", "warning", f"{area:.2f} mm2 of the {plural(repeat.motif.name, 1)} {what}.",
        place_words(repeat.motif.name, repeat.position, repeat.direction_deg),
        x_mm=spot.real, y_mm=spot.imag, measured=area, limit=0.0, unit="mm2",
    )  # fmt: skip


def _pierced(other: Chopping) -> Iterator[_Placed]:
    """Yield what a row cuts out of the whole piece."""
    for repeat in other.row.repeats:
        for region in other.cut(repeat.motif) if other.cut else repeat.motif.window:
            yield _Placed(region, repeat.placement)


def _leaves(items: Iterable[Expression]) -> Iterator[_Placed]:
    """Yield the regions of an expression's leaves where they stand."""
    for item in items:
        if isinstance(item, Region):
            yield _Placed(item)
        elif isinstance(item, Copies):
            yield from (_Placed(item.region, placement) for placement in item.placements)


class _Placed:
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


class _Crowd:
    """Regions that are looked up by place."""

    __slots__ = ("_items", "_tree")

    def __init__(self, items: Sequence[_Placed]) -> None:
        self._items = items
        self._tree = shapely.STRtree([item.shape for item in items]) if items else None

    def near(self, part: _Placed) -> list[_Placed]:
        """Return those that a part meets."""
        if self._tree is None:
            return []
        return [self._items[k] for k in sorted(self._tree.query(part.shape, predicate="intersects").tolist())]

    def overlap(self, part: _Placed) -> tuple[Region, ...]:
        """Return what a part shares with any of them."""
        near = [item.region for item in self.near(part)]
        return evaluate(intersection(part.region, union(*near))).regions if near else ()


@lru_cache(maxsize=512)
def _chords(region: Region) -> Rings:
    return tuple(flatten_outline(outline).points for outline in region.outlines)
