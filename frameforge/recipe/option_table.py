"""Options of a command that takes no recipe, checked like the keys of a recipe's table."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from frameforge.errors import InputError
from frameforge.recipe.checks import CHECKS
from frameforge.recipe.faults import Fault
from frameforge.recipe.from_options import one_or_list
from frameforge.recipe.lines import Path
from frameforge.recipe.recipe import as_error
from frameforge.recipe.source import Source
from frameforge.recipe.words import allowed_say

__all__ = ["checked_options"]


def checked_options(tables: Mapping[str, tuple[str, ...]], options: Mapping[str, Any], command: str) -> dict[str, Any]:
    """Return the values of options in our units, by key; those left out (None, False, ()) are not among them.

    ``tables`` names the keys to take from each table of a recipe. Raises InputError, a line for each fault.
    """
    found: dict[str, Any] = {}
    faults: list[Fault] = []
    places: dict[Path, str] = {}
    for table, keys in tables.items():
        for key in keys:
            value = one_or_list(options.get(key))
            if value in (None, False, [], ()):
                continue
            places[table, key] = f"--{key.replace('_', '-')}"
            try:
                found[key] = CHECKS[table][key](value, "mm")
            except InputError as fault:
                say = fault.say if "Write " in fault.say else f"{fault.say} {allowed_say(table, key)}"
                faults.append(Fault((table, key), say, value, has_found=True))
    if faults:
        raise as_error(faults, Source("", {}, places, command))
    return found
