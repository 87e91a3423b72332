"""The recipe that the files of a whole run keep: those of its pieces put together again."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from typing import Any, Final

import tomli_w

__all__ = ["kept_whole"]

_LISTS: Final = ("piece", "rings")
_NAMED: Final = ("card", "preset")
_ELSEWHERE: Final = ("used",)
"""Keys of [sheets] that name files."""


def kept_whole(texts: Iterable[str], sheets: Mapping[str, Any] | None) -> str:
    """Return one recipe of the recipes kept in the files of its pieces; several files of one table keep it once.

    ``sheets`` is the [sheets] table as it was written. Motifs of one name that differ from piece to piece are told
    apart by numbers. Same pieces, same text.
    """
    whole: dict[str, Any] = {}
    motifs: dict[str, Any] = {}
    tables: dict[str, list[dict[str, Any]]] = {}
    for text in dict.fromkeys(texts):
        kept = tomllib.loads(text)
        names = {name: _taken_in(name, table, motifs) for name, table in kept.pop("motif", {}).items()}
        for key in _LISTS:
            tables.setdefault(key, []).extend(_renamed(table, names) for table in kept.pop(key, ()))
        for key in _NAMED:
            if key in kept:
                whole.setdefault(key, {}).update(kept.pop(key))
        whole.update(kept)
    if sheets is not None:
        whole["sheets"] = {key: value for key, value in sheets.items() if key not in _ELSEWHERE}
    lists = {key: entries for key, entries in tables.items() if entries}
    return tomli_w.dumps({**whole, **lists, **({"motif": motifs} if motifs else {})})


def _taken_in(name: str, table: object, motifs: dict[str, Any]) -> str:
    """Add a motif under its name, numbered when another one is called the same; return what it is called."""
    free, number = name, 1
    while free in motifs and motifs[free] != table:
        number += 1
        free = f"{name}-{number}"
    motifs[free] = table
    return free


def _renamed(table: dict[str, Any], names: Mapping[str, str]) -> dict[str, Any]:
    """Return a piece with its motifs under their new names."""
    if "row" not in table:
        return table
    rows = []
    for row in table["row"]:
        fresh = {**row, "motif": _pattern(row["motif"], names)}
        if "filler" in row:
            fresh["filler"] = names.get(row["filler"], row["filler"])
        rows.append(fresh)
    return {**table, "row": rows}


def _pattern(pattern: Any, names: Mapping[str, str]) -> Any:
    """Return a pattern as it was written, every motif under its new name."""
    if isinstance(pattern, str):
        return names.get(pattern, pattern)
    if isinstance(pattern, Mapping):
        return {**pattern, "motif": names.get(pattern["motif"], pattern["motif"])}
    return [_pattern(entry, names) for entry in pattern]
