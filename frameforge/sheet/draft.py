"""Layouts before they are proved: what lies on which kind of sheet, and what that costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from frameforge.geometry.box import Box
from frameforge.sheet.cost import cost_in_sheets
from frameforge.sheet.design import Design, Layout, Placed
from frameforge.sheet.filling import Filled, Filler
from frameforge.sheet.stock import Stock

__all__ = ["Draft", "Sheets", "draft_cost", "draft_from", "numbered"]

Sheets = tuple[tuple[int, tuple[Placed, ...]], ...]
"""Sheets in order: the kind of each (its place in the stock) and what lies on it."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A layout and the method it was found by."""

    method: str
    sheets: Sheets

    @property
    def layout(self) -> Layout:
        """What lies where, without the kinds of sheets."""
        return Layout(tuple(placed for _, placed in self.sheets))

    @property
    def laid(self) -> Counter[int]:
        """How many copies of each design are laid."""
        return Counter(place.design for _, placed in self.sheets for place in placed)


def draft_from(method: str, filler: Filler, filled: Filled, stock: Stock) -> Draft:
    """Return a filling of the grid in mm from the sheet's lower left."""
    sheets = []
    for spots, kind in zip(filled.sheets, filled.kinds, strict=True):
        margin = filler.kinds[kind].sheet.margin_mm
        placed = []
        for spot in spots:
            variant = filler.variants[spot.variant]
            x = margin + spot.column * filler.cell_mm + variant.width_mm / 2
            y = margin + spot.row * filler.cell_mm + variant.height_mm / 2
            placed.append(Placed(variant.design, 1, x, y, variant.turn_deg))
        sheets.append((stock.kinds.index(filler.kinds[kind]), tuple(placed)))
    return Draft(method, tuple(sheets))


def numbered(sheets: Sheets) -> Sheets:
    """Return the sheets with the copies of each design numbered from 1 in their order."""
    laid: Counter[int] = Counter()
    result = []
    for kind, placed in sheets:
        told = []
        for place in placed:
            laid[place.design] += 1
            told.append(replace(place, copy=laid[place.design]))
        result.append((kind, tuple(told)))
    return tuple(result)


def draft_cost(draft: Draft, designs: Sequence[Design], stock: Stock) -> float:
    """Return the cost in sheets, to be compared with other drafts of the same designs and stock."""
    laid, asked = draft.laid, {i: design.copies for i, design in enumerate(designs)}
    unlaid = sum(copies - laid[i] for i, copies in asked.items())
    if not draft.sheets:
        return cost_in_sheets([], stock.kinds, unlaid, 0.0, 0.0)
    kind, last = draft.sheets[-1]
    sheet = stock.kinds[kind].sheet
    boxes: dict[tuple[int, float], Box] = {}
    for place in last:
        key = place.design, place.turn_deg
        if key not in boxes:
            boxes[key] = designs[place.design].box(place.turn_deg)
    right = max(place.x_mm + boxes[place.design, place.turn_deg].width_mm / 2 for place in last)
    area = sum(designs[place.design].area_mm2 for place in last)
    return cost_in_sheets(
        [k for k, _ in draft.sheets],
        stock.kinds,
        unlaid,
        area / (sheet.usable_mm[0] * sheet.usable_mm[1]),
        (right - sheet.margin_mm) / sheet.usable_mm[0],
    )
