"""On what sheets the pieces of a run are laid: what was said for each card, what holds where nothing was said."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.errors import InputError
from frameforge.job.part import Part
from frameforge.job.used_sheet import UsedSheet
from frameforge.recipe.model import CardTable, SheetsTable
from frameforge.recipe.recipe import Recipe
from frameforge.sheet.design import Sheet
from frameforge.sheet.stock import Stock, StockSheet
from frameforge.units import format_floor, format_mm, is_in_inches

__all__ = ["APART_MM", "MARGIN_MM", "SheetGroup", "SheetTerms", "default_size", "groups_of", "terms_of"]

MARGIN_MM: Final = 5.0
"""Kept free at the edge of every sheet: what most cutters cannot reach (common practice, no source)."""

APART_MM: Final = 3.0
"""Kept between pieces, so that the waste stays one and lies flat (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class SheetTerms:
    """What holds on the sheets of one card: sizes in order of preference, distances in mm, one sheet's price, how many
    lie on one another while they are cut, sheets begun before."""

    sizes: tuple[SheetSize, ...]
    margin_mm: float = MARGIN_MM
    apart_mm: float = APART_MM
    price: float | None = None
    stack: int | float = 1
    used: tuple[UsedSheet, ...] = ()

    def stacked(self, thickness_mm: float) -> int:
        """Return how many sheets are cut at once; a depth (a float, mm) takes as many as lie in it, at least one."""
        if isinstance(self.stack, int):
            return self.stack
        return max(1, math.floor(self.stack / thickness_mm + 1e-9)) if thickness_mm else 1


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """Pieces laid together on sheets of one card, the stock they are laid on, and notes for the maker.

    ``sizes`` are what the kinds of the stock are called, in their order. ``stack`` sheets are cut at once, so of each
    part only every ``stack``-th copy is laid.
    """

    card: str | None
    parts: tuple[Part, ...]
    stock: Stock
    sizes: tuple[SheetSize, ...]
    price: float | None = None
    stack: int = 1
    notes: tuple[str, ...] = ()

    def laid_copies(self, part: Part) -> int:
        """Return how many copies of a part are laid: all of them, or those of one layer of the stack."""
        return math.ceil(part.copies / self.stack)


def terms_of(
    sheets: SheetsTable | None, card: CardTable, default: SheetSize, used: Sequence[UsedSheet] = ()
) -> SheetTerms:
    """Return what holds for a card: its own words, else those of [sheets], else ours."""
    general = sheets or SheetsTable()

    def said(own: Any, of_all: Any, otherwise: Any) -> Any:
        return own if own is not None else of_all if of_all is not None else otherwise

    return SheetTerms(
        sizes=said(card.sheets, general.sheet, (default,)),
        margin_mm=said(card.margin, general.margin, MARGIN_MM),
        apart_mm=said(card.apart, general.apart, APART_MM),
        price=said(card.price, general.price, None),
        stack=said(card.stack, general.stack, 1),
        used=tuple(used),
    )


def default_size(recipe: Recipe) -> SheetSize:
    """Return the sheet taken where none is named: A4, or 12 x 12 in where the sizes of the pieces are in inches."""
    sizes = [piece.get("size") for piece in recipe.raw.get("piece", ())]
    sizes += [rings.get("sizes") for rings in recipe.raw.get("rings", ())]
    in_inches = recipe.tables.units == "in" or any(isinstance(s, str) and is_in_inches(s) for s in sizes)
    return parse_sheet("12x12in") if in_inches else A4


def groups_of(
    parts: Sequence[Part], terms: Callable[[str | None], SheetTerms], where: Callable[[str | None], str]
) -> tuple[SheetGroup, ...]:
    """Return the parts in groups that are laid together, card by card: one, and one for each sheet a piece insists on.

    ``terms`` gives what holds for a card, ``where`` names the card for messages. Raises InputError where a margin
    leaves no room on a sheet.
    """
    groups: dict[tuple[str | None, tuple[SheetSize, ...] | None], list[Part]] = {}
    for part in parts:
        groups.setdefault((part.card, part.sheets), []).append(part)
    found = []
    begun: set[str | None] = set()
    cards = list(dict.fromkeys(card for card, _ in groups))
    for (card, sizes), members in sorted(groups.items(), key=lambda entry: cards.index(entry[0][0])):
        of_card = terms(card)
        if sizes is not None or card in begun:
            of_card = replace(of_card, sizes=sizes or of_card.sizes, used=())
        else:
            begun.add(card)
        found.append(_group(card, tuple(members), of_card, where(card)))
    return tuple(found)


def _group(card: str | None, parts: tuple[Part, ...], terms: SheetTerms, where: str) -> SheetGroup:
    """Return one group with its stock: begun sheets first, then the sizes as they were named.

    A cut that begins in the waste beside a piece begins on the sheet: the margin is no narrower than a lead-in is long.
    """
    apart_mm, notes = _apart_mm(parts, terms)
    margin_mm = max(terms.margin_mm, *(part.lead_in_mm for part in parts))
    sizes = (*(sheet.size for sheet in terms.used), *terms.sizes)
    kinds = [_kind(sheet.size, margin_mm, apart_mm, where, sheet) for sheet in terms.used]
    kinds += [_kind(size, margin_mm, apart_mm, where) for size in terms.sizes]
    stack = terms.stacked(max(part.preset.thickness_mm for part in parts))
    return SheetGroup(card, parts, Stock(tuple(kinds)), sizes, terms.price, stack, notes)


def _apart_mm(parts: Sequence[Part], terms: SheetTerms) -> tuple[float, tuple[str, ...]]:
    """Return the distance between pieces, wider where cuts begin in the waste, and the note that says so.

    Two pieces may turn their lead-ins to one another; a slot of the waste stays between them.
    """
    lead_in = max(part.lead_in_mm for part in parts)
    least = lead_in + max(part.preset.least_slot_mm for part in parts) if lead_in else 0.0
    if terms.apart_mm >= least:
        return terms.apart_mm, ()
    say = f"pieces lie {format_floor(least)} apart: a lead-in of {format_floor(lead_in)} begins in the waste there."
    return least, (say,)


def _kind(size: SheetSize, margin_mm: float, apart_mm: float, where: str, used: UsedSheet | None = None) -> StockSheet:
    """Return one kind of sheet. Raises InputError where the margin leaves no room."""
    least = min(size.width_mm, size.height_mm)
    if 2 * margin_mm >= least:
        most = math.floor(least / 2 * 10 - 1e-9) / 10
        say = (
            f"a margin of {format_floor(margin_mm)} leaves nothing of {size.words}, {format_mm(least)} wide. "
            f"Take less than {most:g} mm."
        )
        raise InputError(say, where=where, code="range")
    sheet = Sheet(size.width_mm, size.height_mm, margin_mm, apart_mm)
    return StockSheet(sheet) if used is None else StockSheet(sheet, 1, used.regions)
