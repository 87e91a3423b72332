"""Designs laid on the sheets of a stock: refused, searched, proved. The one entry of the placer."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from frameforge.geometry.region import Region
from frameforge.sheet.cost import cost_of
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.filling import Filled, Filler
from frameforge.sheet.laid import to_layout
from frameforge.sheet.openings import with_hosts
from frameforge.sheet.raster import variants
from frameforge.sheet.search import search_order
from frameforge.sheet.stock import LeftOver, Stock, left_over, too_big
from frameforge.sheet.verify import faults_on

__all__ = ["Laid", "LaidSheet", "Progress", "lay", "sheets_at_least"]

CELL_MM = 0.5


@dataclass(frozen=True, slots=True)
class Progress:
    """How far the search is: orders tried so far and in all, sheets of the best so far, and by what it was found."""

    done: int
    tries: int
    sheets: int
    method: str


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
    ``tries`` counts the orders tried; ``interrupted`` tells that the search was ended before all of them.
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


def _on(_: Progress) -> bool:
    return True


def lay(
    designs: Sequence[Design],
    stock: Stock,
    *,
    seed: int = 1,
    tries: int = 600,
    keep_going: Callable[[Progress], bool] = _on,
) -> Laid:
    """Return the best proved layout found; the same designs, stock, seed and tries give the same layout.

    ``keep_going`` is asked before every try; False ends the search, and the best so far is proved and returned.
    """
    designs = tuple(designs)
    at_least = sheets_at_least(designs, stock)
    refused = too_big(designs, stock)
    if refused or not designs:
        return Laid((), refused, at_least, "", 0, False)
    done = 0

    def going(step: int) -> bool:
        nonlocal done
        done = step
        return keep_going(Progress(step, tries, 0, "search"))

    order = [i for i in _largest_first(designs) for _ in range(designs[i].copies)]
    shapes = variants(designs, stock.apart_mm, CELL_MM)
    found: list[tuple[float, Filler, Filled]] = []
    for preferred in range(len(stock.kinds)):
        kinds = [kind for k, kind in enumerate(stock.kinds) if k == preferred]
        kinds += [kind for k, kind in enumerate(stock.kinds) if k != preferred]
        filler = Filler(kinds, shapes, CELL_MM)
        filled = search_order(filler, order, iterations=tries, seed=seed, keep_going=going)
        found.append((cost_of(filler, filled), filler, filled))
    _, filler, filled = min(found, key=lambda entry: entry[0])
    sheets = _on_sheets(filler, filled, designs, stock)
    missing = _missing(sheets, designs, stock)
    _prove(sheets, designs)
    return Laid(sheets, missing, at_least, "search", done, False)


def _on_sheets(filler: Filler, filled: Filled, designs: tuple[Design, ...], stock: Stock) -> tuple[LaidSheet, ...]:
    layout = with_hosts(to_layout(filler, filled), designs)
    return tuple(
        LaidSheet(stock.kinds.index(filler.kinds[kind]), filler.kinds[kind].sheet, filler.kinds[kind].used, placed)
        for kind, placed in zip(filled.kinds, layout.sheets, strict=True)
    )


def _missing(sheets: tuple[LaidSheet, ...], designs: tuple[Design, ...], stock: Stock) -> tuple[LeftOver, ...]:
    laid = Counter(place.design for sheet in sheets for place in sheet.placed)
    return tuple(
        left_over(i, design, stock, design.copies - laid[i], "no sheet left")
        for i, design in enumerate(designs)
        if laid[i] < design.copies
    )


def _prove(sheets: tuple[LaidSheet, ...], designs: tuple[Design, ...]) -> None:
    laid = Counter(place.design for sheet in sheets for place in sheet.placed)
    asked = tuple(replace(design, copies=laid[i]) for i, design in enumerate(designs) if laid[i])
    if len(asked) == len(designs):
        layout = Layout(tuple(sheet.placed for sheet in sheets))
        assert not faults_on(layout, asked, [s.sheet for s in sheets], [s.used for s in sheets])


def _largest_first(designs: tuple[Design, ...]) -> list[int]:
    return sorted(range(len(designs)), key=lambda i: -designs[i].area_mm2)


def sheets_at_least(designs: Sequence[Design], stock: Stock) -> int:
    """Return how many sheets of the largest kind the bare area of card needs: no layout has fewer."""
    area = sum(design.area_mm2 * design.copies for design in designs)
    room = max(math.prod(kind.sheet.usable_mm) for kind in stock.kinds)
    return math.ceil(area / room - 1e-9)
