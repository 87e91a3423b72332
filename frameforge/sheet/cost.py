"""What a layout costs: whole sheets first, then how far the last one is used."""

from __future__ import annotations

from frameforge.sheet.filling import Filled, Filler

__all__ = ["cost_of"]

BEGUN = 0.01
"""Cost of a sheet that was cut from before, against 1 for the first kind of new sheet: the rest of it is free."""
UNLAID = 100.0
"""Cost of a piece that no sheet is left for: no saving outweighs it."""


def cost_of(filler: Filler, filled: Filled) -> float:
    """Return the cost in sheets: all but the last, and of that half its share of area and half of length used.

    A kind of sheet counts by its area against that of the first kind that is new.
    """
    unlaid = UNLAID * filled.sheet_of.count(-1)
    if not filled.sheets:
        return unlaid
    unit = next((kind.area_mm2 for kind in filler.kinds if kind.area_mm2), 1.0)
    costs = [filler.kinds[k].area_mm2 / unit or BEGUN for k in filled.kinds]
    last = filled.sheets[-1]
    width, height = filler.kinds[filled.kinds[-1]].sheet.usable_mm
    used = sum(filler.areas[spot.variant] for spot in last) / (width * height)
    length = max(spot.column * filler.cell_mm + filler.variants[spot.variant].width_mm for spot in last) / width
    return unlaid + sum(costs[:-1]) + costs[-1] * (used + length) / 2
