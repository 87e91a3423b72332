"""The options about folds, lids and stands, laid into a piece."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.fold_fields import fold_said, lid_said, stand_said
from frameforge.recipe.lines import Path
from frameforge.recipe.source import Source

__all__ = ["FOLD_OPTIONS", "lay_folds"]

_TABLES: Final[Mapping[str, Callable[[str], dict[str, Any]]]] = {
    "fold": fold_said,
    "lid": lid_said,
    "stand": stand_said,
}
"""The options that stand for a table, and what reads their text."""

_OF_TABLE: Final[Mapping[str, tuple[str, ...]]] = {"flat": ("fold",), "crease": ("fold", "lid")}
"""The options that are a key of such a table, and of which."""

FOLD_OPTIONS: Final = (*_TABLES, *_OF_TABLE)
"""All of them, by key."""


def lay_folds(piece: dict[str, Any], source: Source, given: Mapping[str, Any], places: dict[Path, str]) -> None:
    """Put the options about folds, lids and stands into ``piece``, and where they come from into ``places``.

    An option takes the place of what the recipe says by the same key. Raises InputError for a key without its table.
    """
    for key, said in _TABLES.items():
        if key in given:
            piece[key] = [{**_first(piece.get(key)), **said(given[key])}]
            places.update({("piece", 0, key, 0, inner): f"--{key}" for inner in piece[key][0]})
            places["piece", 0, key, 0] = f"--{key}"
    for key, tables in _OF_TABLE.items():
        if key not in given:
            continue
        table = next((table for table in tables if _first(piece.get(table))), None)
        if table is None:
            needed = " or ".join(f"--{table}" for table in tables)
            example = '--fold "10mm top"'
            say = f"there is no {' or '.join(tables)} that it could be of. Add {needed}, for example {example}."
            raise InputError(say, where=f"{source.command}, --{key}", code="no-fold")
        piece[table] = [{**_first(piece[table]), key: given[key]}]
        places["piece", 0, table, 0, key] = f"--{key}"


def _first(tables: Any) -> dict[str, Any]:
    """Return the first table of a key as it was written; an empty one where there is none."""
    if isinstance(tables, Mapping):
        return dict(tables)
    if isinstance(tables, list) and tables and isinstance(tables[0], Mapping):
        return dict(tables[0])
    return {}
