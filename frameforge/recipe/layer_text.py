"""Layers as they are typed behind an option, "cream 5mm, brick 5mm", as tables of a recipe."""

from __future__ import annotations

import re
from typing import Any, Final

__all__ = ["layer_tables"]

_LAYER: Final = re.compile(
    r"(?:(?P<card>.*?\S)\s+)?(?P<border>[-+−–]?\s*[\d.½¼¾⅓⅔⅛⅜⅝⅞].*?)(?:\s+(?P<opening>follow|same|closed))?",
    re.IGNORECASE,
)


def layer_tables(text: Any) -> list[dict[str, Any]]:
    """Return a table for each layer of a text: its colour, its border and what becomes of the opening, as written.

    Commas part the layers; where a semicolon stands in the text, semicolons do, and a comma is a decimal comma. What
    cannot be understood stays in the table for the recipe to tell of.
    """
    parts = re.split(";" if ";" in text else ",", text) if isinstance(text, str) else []
    return [_table(part.strip()) for part in parts if part.strip()]


def _table(part: str) -> dict[str, Any]:
    found = _LAYER.fullmatch(part)
    if not found:
        return {"card": part}
    return {key: found[key] for key in ("card", "border", "opening") if found[key]}
