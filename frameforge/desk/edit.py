"""One value of a recipe put in or taken out, wherever it stands."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.lines import Path

__all__ = ["as_written", "put_in", "taken_out"]

_WHOLE: Final = frozenset(("count", "copies", "parts", "teeth", "feet", "layers", "seed", "tries", "passes"))
_DECIMAL: Final = frozenset(("scale", "ratio", "price", "speed", "crumb", "lift_time"))
_SWITCHES: Final = frozenset(
    ("one_path", "as_cut", "hand_out", "split_kinds", "test_piece", "keep_counters", "mirror", "flip")
)
_NUMBER: Final = re.compile(r"[-+]?(?:\d+[.,]?\d*|[.,]\d+)")


def as_written(path: Path, value: Any) -> Any:
    """Return what was typed into a blank in the type that the recipe has for its key; what is none of it, as it is."""
    key = str(path[-1])
    if not isinstance(value, str):
        return value
    text = value.strip()
    if key in _WHOLE and text.isdecimal():
        return int(text)
    if key in _DECIMAL and _NUMBER.fullmatch(text):
        return float(text.replace(",", "."))
    is_row_mirror = key == "mirror" and "motif" not in path
    if key in _SWITCHES and text in ("yes", "no") and not is_row_mirror:
        return text == "yes"
    return text


def put_in(raw: Mapping[str, Any], path: Path, value: Any) -> dict[str, Any]:
    """Return the recipe with a value at a path; tables on the way are begun where they are missing.

    Raises InputError where a list would get a hole in it.
    """
    found = _put(raw, path, value)
    assert isinstance(found, dict)
    return found


def _put(table: Any, path: Path, value: Any) -> Any:
    if not path:
        # Another motif in a pattern keeps what was said of how it differs.
        return {**table, "motif": value} if isinstance(table, Mapping) and isinstance(value, str) else value
    key, rest = path[0], path[1:]
    if isinstance(key, int):
        entries = list(table) if isinstance(table, list) else [] if table in (None, {}) else [table]
        if key > len(entries):
            raise InputError(f"there are {len(entries)} of these. Add one after the other.", code="no-place")
        entries[key : key + 1] = [_put(entries[key] if key < len(entries) else None, rest, value)]
        return entries
    if isinstance(table, str):
        table = {"motif": table}
    held = dict(table) if isinstance(table, Mapping) else {}
    return {**held, key: _put(held.get(key), rest, value) if rest else value}


def taken_out(raw: Mapping[str, Any], path: Path) -> dict[str, Any]:
    """Return the recipe without what stands at a path; a table or a list that is then empty goes too."""
    return dict(_take(raw, path))


def _take(table: Any, path: Path) -> Any:
    """Return a table or a list without what stands at a path."""
    key, rest = path[0], path[1:]
    if isinstance(key, int):
        if not isinstance(table, list) or key >= len(table):
            return table
        return [*table[:key], *([_take(table[key], rest)] if rest else []), *table[key + 1 :]]
    if not isinstance(table, Mapping) or key not in table:
        return table
    inner = _take(table[key], rest) if rest else None
    if key == "motif" and isinstance(inner, list):
        inner = _plain_pattern(inner)
    if inner in (None, {}, []):
        return {name: held for name, held in table.items() if name != key}
    return {**table, key: inner}


def _plain_pattern(entries: list[Any]) -> Any:
    """Return a pattern as plainly as it can be said: a motif that differs in nothing by its name, one alone too."""
    plain = [entry["motif"] if isinstance(entry, Mapping) and entry.keys() == {"motif"} else entry for entry in entries]
    return plain[0] if len(plain) == 1 and isinstance(plain[0], str) else plain
