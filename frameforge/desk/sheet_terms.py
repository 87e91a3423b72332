"""What stands in the blanks of the sentence about sheets: copies, and the keys of [sheets], as they would be typed."""

from __future__ import annotations

from typing import Any, Final

from frameforge.job.sheet_terms import APART_MM, MARGIN_MM, default_size
from frameforge.recipe.recipe import Recipe
from frameforge.units import format_mm

__all__ = ["sheet_terms"]

_KEYS: Final = ("sheet", "margin", "apart", "turn", "stack", "price", "seed", "tries")


def sheet_terms(recipe: Recipe) -> dict[str, Any]:
    """Return the values of the blanks: ``said`` what stands in the recipe, ``usual`` what holds where nothing does.

    ``copies`` holds each table that asks for pieces: its address, its name and how often it is cut.
    """
    raw = recipe.raw.get("sheets", {})
    unit = str(recipe.raw.get("units", "mm"))
    asked = [("piece", k) for k in range(len(recipe.tables.piece))] + [
        ("rings", k) for k in range(len(recipe.tables.rings))
    ]
    copies = [
        {
            "address": f"{kind}.{k}.copies",
            "name": recipe.asked((kind, k)).name or "",
            "value": str(recipe.asked((kind, k)).copies),
        }
        for kind, k in asked
    ]
    return {
        "said": {key: _typed(raw[key], unit) for key in _KEYS if key in raw},
        "usual": {
            "sheet": default_size(recipe).name,
            "margin": format_mm(MARGIN_MM).replace(" ", ""),
            "apart": format_mm(APART_MM).replace(" ", ""),
            "turn": "free",
            "stack": "1",
            "price": "",
            "seed": "1",
            "tries": "",
        },
        "copies": copies,
    }


def _typed(value: Any, unit: str) -> str:
    """Return one value as it would be typed."""
    if isinstance(value, list):
        if len(value) == 2 and all(isinstance(side, (int, float)) for side in value):
            return "x".join(f"{side:.12g}" for side in value) + unit
        return ", ".join(_typed(entry, unit) for entry in value)
    return f"{value:.12g}" if isinstance(value, float) else str(value)
