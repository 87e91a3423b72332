"""Fillings of the grid turned into layouts in millimetres."""

from __future__ import annotations

from collections import Counter

from frameforge.sheet.design import Layout, Placed, Sheet
from frameforge.sheet.filling import Filled, Filler

__all__ = ["to_layout"]


def to_layout(filler: Filler, filled: Filled, sheet: Sheet) -> Layout:
    """Return where each piece lies, mm from the sheet's lower left; copies are numbered in the order of the sheets."""
    laid: Counter[int] = Counter()
    sheets = []
    for spots in filled.sheets:
        placed = []
        for spot in spots:
            variant = filler.variants[spot.variant]
            laid[variant.design] += 1
            x = sheet.margin_mm + spot.column * filler.cell_mm + variant.width_mm / 2
            y = sheet.margin_mm + spot.row * filler.cell_mm + variant.height_mm / 2
            placed.append(Placed(variant.design, laid[variant.design], x, y, variant.turn_deg))
        sheets.append(tuple(placed))
    return Layout(tuple(sheets))
