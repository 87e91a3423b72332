"""Whether a recipe asks for its pieces to be laid on sheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from frameforge.recipe.recipe import Recipe

__all__ = ["asks_for_sheets"]

_OF_STOCK: Final = {"sheets", "margin", "apart", "price", "stack", "used"}


def asks_for_sheets(recipe: Recipe) -> bool:
    """Return whether a recipe speaks of sheets: a [sheets] table or option, a piece with a sheet, a card in use.

    A card's table that holds only limits of card and machine asks for none; an empty one names a stock.
    """
    named = [*(piece.sheet for piece in recipe.pieces), *(rings.sheet for rings in recipe.tables.rings)]
    if recipe.tables.sheets is not None or any(named):
        return True
    tables: Mapping[str, Any] = recipe.raw.get("card", {})
    asked = [table for key in ("piece", "rings") for table in recipe.raw.get(key, ())]
    in_use = {table.get("card") for one in asked for table in (one, *one.get("layer", ()))}
    return any(not table or set(table) & _OF_STOCK for card, table in tables.items() if card in in_use)
