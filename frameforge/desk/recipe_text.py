"""A recipe written out as a maker would write it: its tables one below the other, [[piece.row]] below [[piece]]."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any, Final

import tomli_w

__all__ = ["recipe_text"]


def recipe_text(raw: Mapping[str, Any]) -> str:
    """Return the text of a recipe's tables (TOML 1.0); read again it gives the same tables."""
    text = "\n".join("\n".join(block) for block in _blocks(raw, "") if block).lstrip("\n") + "\n"
    # What is laid out for the eye must say the same; a table that it does not suit is written as it comes.
    return text if tomllib.loads(text) == raw else tomli_w.dumps(raw)


def _blocks(table: Mapping[str, Any], path: str) -> Iterator[list[str]]:
    """Yield the lines of a table's own values, then those of the tables in it, each below its heading."""
    plain = {key: value for key, value in table.items() if not _holds_tables(value)}
    listed = [line for key in _LISTED if _holds_tables(table.get(key)) for line in _list_lines(key, table[key])]
    if plain or listed:
        yield [*(tomli_w.dumps(plain).splitlines() if plain else ()), *listed]
    for key, value in table.items():
        if key in _LISTED:
            continue
        name = f"{path}.{_quoted(key)}" if path else _quoted(key)
        if not _holds_tables(value):
            continue
        for entry in value if isinstance(value, list) else [value]:
            heading = f"[[{name}]]" if isinstance(value, list) else f"[{name}]"
            is_mere_holder = isinstance(value, Mapping) and entry and all(map(_holds_tables, entry.values()))
            is_mere_holder = is_mere_holder and not any(key in _LISTED for key in entry)
            has_own = any(not _holds_tables(inner) or key in _LISTED for key, inner in entry.items())
            blocks = list(_blocks(entry, name))
            if not is_mere_holder:
                yield ["", heading, *(blocks.pop(0) if has_own else ())]
            yield from blocks


_LISTED: Final = ("laid",)
"""Lists of many small tables: each stands on one line."""


def _list_lines(key: str, tables: Any) -> list[str]:
    """Return the lines of a list of small tables, one line each."""
    each = (", ".join(tomli_w.dumps({name: value}).strip() for name, value in table.items()) for table in tables)
    return [f"{key} = [", *(f"  {{ {line} }}," for line in each), "]"]


def _holds_tables(value: Any) -> bool:
    """Whether a value is a table, or a list of nothing but tables."""
    if isinstance(value, list):
        return bool(value) and all(isinstance(entry, Mapping) for entry in value)
    return isinstance(value, Mapping)


def _quoted(key: str) -> str:
    """Return a key as it stands in a heading: quoted where it has to be."""
    return tomli_w.dumps({key: 0}).rpartition(" = ")[0]
