"""How much a recipe may ask for: a slip of the hand shall be told at once, and not be worked at for hours."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from frameforge.recipe.faults import Fault

__all__ = ["crowd_faults", "is_too_deep"]

_KEYS_DEEP: Final = 60
"""Keys within keys; a recipe needs 3, and more than some hundred take a time that grows with their square."""

_MOST_PIECES: Final = 2000
_MOST_IN_PIECE: Final = 200
_MOST: Final = {"hole": 1000, "row": 40}

_DEEP: Final = re.compile(rf"^[ \t\[]*(?:[\w\"'-]+[ \t]*\.[ \t]*){{{_KEYS_DEEP}}}", re.MULTILINE)


def is_too_deep(text: str) -> bool:
    """Return whether a line of a TOML text begins with more keys within keys than a recipe can need."""
    return _DEEP.search(text) is not None


def crowd_faults(raw: Mapping[str, Any]) -> list[Fault]:
    """Return a fault for every kind of table of which there are too many, of a recipe as it stands in its file."""
    found = []
    for kind in ("piece", "rings"):
        tables = raw.get(kind)
        if not isinstance(tables, list):
            continue
        if len(tables) > _MOST_PIECES:
            say = f"{len(tables)} of them are more than the {_MOST_PIECES} that one run takes. Part the recipe."
            found.append(Fault((kind, 0), say))
            continue
        for index, table in enumerate(tables):
            found += _in_piece((kind, index), table)
    return found


def _in_piece(path: tuple[str, int], table: object) -> list[Fault]:
    """Return the faults of one piece."""
    if not isinstance(table, Mapping):
        return []
    return [
        Fault((*path, key), f"{key}: {len(value)} are more than the {most} that one piece takes. Leave some out.")
        for key, value in table.items()
        if isinstance(value, list) and len(value) > (most := _MOST.get(key, _MOST_IN_PIECE))
    ]
