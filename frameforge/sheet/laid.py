"""Fillings of the grid turned into layouts in millimetres."""

from __future__ import annotations

from collections import Counter

from frameforge.sheet.design import Layout, Placed
from frameforge.sheet.filling import Filled, Filler

__all__ = ["to_layout"]


def to_layout(filler: Filler, filled: Filled) -> Layout:
    """Return where each piece lies, mm from the sheet's lower left; copies are numbered in the order of the sheets."""
    laid: Counter[int] = Counter()
    sheets = []
    for spots, kind in zip(filled.sheets, filled.kinds, strict=True):
        margin = filler.kinds[kind].sheet.margin_mm
        placed = []
        for spot in spots:
            variant = filler.variants[spot.variant]
            laid[variant.design] += 1
            x = margin + spot.column * filler.cell_mm + variant.width_mm / 2
            y = margin + spot.row * filler.cell_mm + variant.height_mm / 2
            placed.append(Placed(variant.design, laid[variant.design], x, y, variant.turn_deg))
        sheets.append(tuple(placed))
    return Layout(tuple(sheets))
