"""Where a blank stands in a recipe: "count" of the first row, "row.1.count", "hole.0.size", "files.dxf"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from frameforge.recipe.checks import CHECKS, NESTED
from frameforge.recipe.from_options import ROW_OPTIONS
from frameforge.recipe.lines import Path

__all__ = ["Holder", "holder_of", "is_place", "path_of", "usual_holder"]

Holder = tuple[str, int]
"""The table that asks for a piece: ("piece", 1), or ("rings", 0)."""

_HOLDERS: Final = ("piece", "rings")
_WHOLE_RECIPE: Final = ("files", "sheets")
_NAMED: Final = {"card": "card", "drawing": "motif"}
"""Tables under a name of the maker's, as the page calls them, and their key in the recipe."""


def usual_holder(raw: Mapping[str, Any]) -> Holder:
    """Return the table that is meant where none is named: the first piece, or the first rings of a recipe of rings."""
    return ("rings", 0) if raw.get("rings") and not raw.get("piece") else ("piece", 0)


def holder_of(said: object, raw: Mapping[str, Any]) -> Holder:
    """Return the table of "piece.1"; the usual one where that says none, or one that is not there."""
    kind, _, number = str(said).partition(".")
    tables = raw.get(kind)
    if kind in _HOLDERS and number.isdecimal() and isinstance(tables, list) and int(number) < len(tables):
        return kind, int(number)
    return usual_holder(raw)


def path_of(address: str, holder: Holder) -> Path:
    """Return the way to a blank from the top of the recipe; addresses are of ``holder`` where they say nothing else.

    Keys of a row that name no row are those of the first one. "this.sheet" is the key of the table itself where the
    key alone would mean the whole recipe's.
    """
    parts: list[str | int] = [int(part) if part.isdecimal() else part for part in address.split(".")]
    first = parts[0]
    if first in _HOLDERS and len(parts) > 1 and isinstance(parts[1], int):
        return _within((str(first), parts[1]), parts[2:])
    if first in _WHOLE_RECIPE:
        return tuple(parts)
    if first == "units":
        return ("units",)
    if first in _NAMED and len(parts) > 1:
        return _named(address, str(first))
    return _within(holder, parts[1:] if first == "this" else parts)


def _within(holder: Holder, parts: list[str | int]) -> Path:
    """Return the way to a blank of a table: a key of a row that names none is the first one's."""
    return (*holder, "row", 0, *parts) if parts and parts[0] in ROW_OPTIONS else (*holder, *parts)


def _named(address: str, first: str) -> Path:
    """Return the way of "card.pale moss.kerf" or "drawing.daisy": names may hold anything, a full stop too."""
    rest = address.split(".", 1)[1]
    if first == "drawing":
        return (_NAMED[first], rest)
    name, _, key = rest.rpartition(".")
    return (_NAMED[first], name, key)


_OF_ENTRY: Final = ("motif", "scale", "lean", "mirror")


def is_place(path: Path) -> bool:
    """Whether a recipe may hold something at a path: a value, a motif of a pattern, a table or a list of tables."""
    kind, rest = "recipe", path
    while rest:
        key, rest = rest[0], rest[1:]
        shape = NESTED.get((kind, str(key)))
        if shape is None:
            return key in CHECKS[kind] and _ends(kind, str(key), rest)
        if shape != "one" and rest:
            if not isinstance(rest[0], int if shape == "array" else str):
                return False
            rest = rest[1:]
        kind = "ring_row" if (kind, key) == ("rings", "row") else str(key)
    return bool(path)


def _ends(kind: str, key: str, rest: Path) -> bool:
    """Whether a value may hold what is left of a path: nothing, or a motif of a row's pattern and how it differs."""
    if key != "motif" or kind not in ("row", "ring_row"):
        return not rest
    return len(rest) < 3 and all(isinstance(rest[k], int) if k == 0 else rest[k] in _OF_ENTRY for k in range(len(rest)))
