"""Which files a recipe writes, as the page ticks them off."""

from __future__ import annotations

from typing import Any

from frameforge.job.sheet_terms import default_size
from frameforge.recipe.recipe import Recipe
from frameforge.recipe.sheets_asked import asks_for_sheets
from frameforge.write.formats import FORMATS

__all__ = ["writes_of"]


def writes_of(recipe: Recipe) -> dict[str, Any]:
    """Return what is written: the kinds of file, and whether as-cut pictures, hand-outs and sheets are.

    ``sheet`` is the sheet that is taken where sheets are asked for and none is named; ``sheets_by`` tells whether it
    is [sheets] that asks for them, and not a piece or a card.
    """
    files = recipe.tables.files
    return {
        "formats": list(files.formats or FORMATS),
        "as_cut": files.as_cut,
        "hand_out": files.hand_out,
        "sheets": asks_for_sheets(recipe),
        "sheets_by": recipe.tables.sheets is not None,
        "sheet": default_size(recipe).name,
    }
