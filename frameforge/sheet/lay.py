"""Designs laid on the sheets of a stock: refused, searched, moved together, proved. The one entry of the placer."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from frameforge.errors import NestError
from frameforge.geometry.region import Region
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.draft import Draft, draft_cost
from frameforge.sheet.equal import equal_drafts
from frameforge.sheet.finish import finished
from frameforge.sheet.many import MANY, PART, repeated
from frameforge.sheet.progress import Budget, Progress
from frameforge.sheet.stock import LeftOver, Stock, left_over, too_big, turns_on
from frameforge.sheet.strategy import searched
from frameforge.sheet.task import Task
from frameforge.sheet.turns import free_turns

__all__ = ["Laid", "LaidSheet", "Progress", "lay", "sheets_at_least", "worth_while"]

MOST_TRIES, LEAST_TRIES = 3600, 120
TURNED_PIECES = 460_000
"""Pieces, each counted once for every turn it may take, that are laid in all tries together."""


@dataclass(frozen=True, slots=True)
class LaidSheet:
    """One sheet: its kind (the place in the stock), its size, what was cut from it before, and what lies on it."""

    kind: int
    sheet: Sheet
    used: tuple[Region, ...]
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """A proved layout. ``method`` tells by what it was found; ``sheets_at_least`` is what the bare area of card needs.

    ``left_over`` names what lies on no sheet; when something is too big for every sheet, nothing is laid at all.
    ``tries`` counts the tries made; ``interrupted`` tells that the search was ended before all of them.
    """

    sheets: tuple[LaidSheet, ...]
    left_over: tuple[LeftOver, ...]
    sheets_at_least: int
    method: str
    tries: int
    interrupted: bool

    @property
    def layout(self) -> Layout:
        """Where everything lies."""
        return Layout(tuple(sheet.placed for sheet in self.sheets))


def _always(_: Progress) -> bool:
    return True


def lay(
    designs: Sequence[Design],
    stock: Stock,
    *,
    seed: int = 1,
    tries: int | None = None,
    keep_going: Callable[[Progress], bool] = _always,
) -> Laid:
    """Return the best proved layout found; the same designs, stock, seed and tries give the same layout.

    Without ``tries`` as many are made as are worth while, fewer the more pieces and turns there are.
    ``keep_going`` is asked before every try; False ends the search, and the best so far is proved and returned.
    Designs that fit no empty sheet are refused before any try. Raises NestError when nothing found can be proved.
    """
    designs = tuple(designs)
    at_least = sheets_at_least(designs, stock)
    refused = too_big(designs, stock)
    if refused or not designs:
        return Laid((), refused, at_least, "", 0, False)
    budget = Budget(worth_while(designs) if tries is None else tries, keep_going)
    task = Task(designs, stock, seed, budget, tuple(turns_on(design, stock) for design in designs))
    drafts = equal_drafts(task) + repeated(task) + searched(task)
    best = _best_proved(drafts, designs, stock, is_hurried=budget.interrupted)
    laid = best.laid
    missing = tuple(
        left_over(i, design, stock, design.copies - laid[i], "no sheet left")
        for i, design in enumerate(designs)
        if laid[i] < design.copies
    )
    sheets = tuple(
        LaidSheet(kind, stock.kinds[kind].sheet, stock.kinds[kind].used, placed) for kind, placed in best.sheets
    )
    return Laid(sheets, missing, at_least, best.method, budget.done, budget.interrupted)


def sheets_at_least(designs: Sequence[Design], stock: Stock) -> int:
    """Return how many sheets of the largest kind the bare area of card needs: no layout has fewer."""
    area = sum(design.area_mm2 * design.copies for design in designs)
    room = max(math.prod(kind.sheet.usable_mm) for kind in stock.kinds)
    return math.ceil(area / room - 1e-9)


def worth_while(designs: Sequence[Design]) -> int:
    """Return a number of tries that takes about as long for any designs: half a minute for sixty pieces."""
    pieces = sum(design.copies for design in designs)
    turned = sum(design.copies * len(free_turns(design)) for design in designs)
    at_once = turned * min(1.0, PART / pieces) if pieces > MANY else turned
    return max(min(int(TURNED_PIECES / at_once), MOST_TRIES), LEAST_TRIES)


def _best_proved(drafts: list[Draft], designs: tuple[Design, ...], stock: Stock, *, is_hurried: bool) -> Draft:
    """Return the cheapest draft that holds against the proof, moved together if that holds too."""
    for draft in sorted(drafts, key=lambda d: draft_cost(d, designs, stock)):
        proved = finished(draft, designs, stock, is_hurried=is_hurried)
        if proved is not None:
            return proved
    raise NestError("no layout could be proved", code="not-proved")
