"""What a layout costs: whole sheets first, then how far the last one is used."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.sheet.stock import StockSheet

__all__ = ["cost_in_sheets"]

BEGUN = 0.01
"""Cost of a sheet that was cut from before, against 1 for the first kind of new sheet: the rest of it is free."""
UNLAID = 100.0
"""Cost of a piece that no sheet is left for: no saving outweighs it."""


def cost_in_sheets(
    used: Sequence[int], kinds: Sequence[StockSheet], unlaid: int, area_part: float, length_part: float
) -> float:
    """Return the cost: all sheets but the last, and of that half its share of area and half of length used.

    ``used`` are the kinds of the sheets in order. A kind counts by its area against that of the first that is new.
    """
    if not used:
        return UNLAID * unlaid
    unit = next((kind.area_mm2 for kind in kinds if kind.area_mm2), 1.0)
    costs = [kinds[k].area_mm2 / unit or BEGUN for k in used]
    return UNLAID * unlaid + sum(costs[:-1]) + costs[-1] * (area_part + length_part) / 2
