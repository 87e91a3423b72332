"""chopped: card of a motif that a window or a hole cuts off, and what is pushed beyond an edge."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from frameforge.finding import Finding
from frameforge.frame.piece import PlacedMotif, RowResult
from frameforge.frame.placed import Crowd, Placed, placed_leaves
from frameforge.frame.unite import RowParts, card_before_windows
from frameforge.frame.wording import place_words, plural
from frameforge.geometry.combine import difference, evaluate
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif

__all__ = ["Chopping", "Surroundings", "chopped"]

_LEAST_MM2 = 0.01
"""Less than this cannot be seen (a tenth of a millimetre square)."""


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
    # Of a lone row nothing is cut off by another.
    pierced = [[*_pierced(row)] for row in rows] if len(rows) > 1 else [[]]
    holes = [Placed(hole) for hole in around.holes]
    base, opening = Placed(around.base), [Placed(around.opening)] if around.opening else []
    for k, mine in enumerate(rows):
        if mine.cut is not None:
            yield from ((k, one) for one in _of_windows(mine, around))
            continue
        cutting = Crowd([*holes, *(piece for j, pieces in enumerate(pierced) if j != k for piece in pieces)])
        inner = Crowd([] if mine.is_on_opening else opening)
        for repeat in mine.row.repeats:
            if cutting.is_empty and not mine.is_on_opening and not inner.may_meet(repeat.motif.join, repeat.placement):
                continue
            for part in (Placed(region, repeat.placement) for region in repeat.motif.join):
                cut, inside = cutting.overlap(part), inner.overlap(part)
                yield from ((k, one) for one in _finding(cut, repeat, "are cut off by a window or a hole"))
                yield from ((k, one) for one in _finding(inside, repeat, "reach into the opening"))
                if mine.is_on_opening and not shapely.contains(base.shape, part.shape):
                    beyond = evaluate(difference(part.region, around.base)).regions
                    yield from ((k, one) for one in _finding(beyond, repeat, "reach out beyond the base"))


def _of_windows(mine: Chopping, around: Surroundings) -> Iterator[Finding]:
    """Yield what of the windows of a row lies where there is no card."""
    disc = Placed(around.base)
    empty = Crowd(
        [
            *([Placed(around.opening)] if around.opening else []),
            *(piece for row in around.parts for piece in placed_leaves((*row.hollow, *row.clears))),
        ]
    )
    card: tuple[Region, ...] | None = None
    for repeat in mine.row.repeats:
        for part in (Placed(region, repeat.placement) for region in (mine.cut(repeat.motif) if mine.cut else ())):
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


def _pierced(other: Chopping) -> Iterator[Placed]:
    """Yield what a row cuts out of the whole piece."""
    for repeat in other.row.repeats:
        for region in other.cut(repeat.motif) if other.cut else repeat.motif.window:
            yield Placed(region, repeat.placement)
