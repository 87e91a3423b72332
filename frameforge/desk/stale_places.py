"""Places of pieces that a change of the recipe makes pointless: the pieces are then laid anew."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

__all__ = ["without_stale_places"]

_APART_FROM: Final = ("files",)
_KEPT_WITH: Final = frozenset(("laid", "margin", "apart", "price"))
"""Keys of [sheets] that may change while every piece stays where it lies; whether it may lie there is then proved."""


def without_stale_places(before: Mapping[str, Any], after: dict[str, Any]) -> dict[str, Any]:
    """Return a changed recipe without the places of its pieces where the pieces, their number or their sheets differ.

    Which files are written, how far apart pieces shall lie and what a sheet costs moves nothing.
    """
    sheets = after.get("sheets")
    if not isinstance(sheets, Mapping) or "laid" not in sheets or _what_lies(before) == _what_lies(after):
        return after
    return {**after, "sheets": {key: value for key, value in sheets.items() if key != "laid"}}


def _what_lies(raw: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return what decides which pieces lie on which sheets."""
    sheets = raw.get("sheets")
    said = sheets if isinstance(sheets, Mapping) else {}
    rest = {key: value for key, value in raw.items() if key not in (*_APART_FROM, "sheets")}
    return rest, {key: value for key, value in said.items() if key not in _KEPT_WITH}
