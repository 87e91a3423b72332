"""The walk through a recipe's tables: every value checked, every fault noted, unknown keys never passed over.

Written out instead of left to a schema library: one would cost a tenth of a whole run to load, and its sentences would
all have to be replaced by ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from frameforge.errors import InputError
from frameforge.recipe.checks import CHECKS, NEEDED, NESTED, TABLES
from frameforge.recipe.faults import Fault, unknown_say
from frameforge.recipe.lines import Path
from frameforge.recipe.model import RecipeTable
from frameforge.recipe.words import allowed_say
from frameforge.units import LengthUnit

__all__ = ["walk"]


def walk(raw: Mapping[str, Any]) -> tuple[RecipeTable | None, list[Fault]]:
    """Return the recipe of tables as they were written, and its faults; None in its place when there are any."""
    units = raw.get("units", "mm")
    unit: LengthUnit = units if units in ("mm", "cm", "in") else "mm"
    faults: list[Fault] = []
    table = _table("recipe", raw, (), unit, faults)
    return (table if isinstance(table, RecipeTable) and not faults else None), faults


def _table(kind: str, raw: Mapping[str, Any], path: Path, unit: LengthUnit, faults: list[Fault]) -> object:
    """Return one table's value, or None when a fault was noted in it."""
    before = len(faults)
    values: dict[str, Any] = {}
    for key, value in raw.items():
        here: Path = (*path, key)
        if (kind, key) in NESTED:
            values[key] = _nested(kind, key, value, here, unit, faults)
        elif key in CHECKS[kind]:
            values[key] = _value(kind, key, value, here, unit, faults)
        else:
            faults.append(Fault(here, unknown_say(kind, key)))
    is_sized = kind == "piece" and (raw.get("test_piece") is True or "from_opening" in raw)
    missing = [key for key in NEEDED.get(kind, ()) if key not in raw and not is_sized]
    faults += [Fault(path, f'no "{key}". {allowed_say(kind, key)}') for key in missing]
    return None if len(faults) > before else TABLES[kind](**values)


def _value(kind: str, key: str, value: Any, path: Path, unit: LengthUnit, faults: list[Fault]) -> object:
    """Return one value in our units, or None when it was noted as a fault."""
    try:
        return CHECKS[kind][key](value, unit)
    except InputError as fault:
        say = fault.say if "Write " in fault.say else f"{fault.say} {allowed_say(kind, key)}"
        faults.append(Fault(path, say, value, has_found=True))
        return None


def _nested(kind: str, key: str, value: Any, path: Path, unit: LengthUnit, faults: list[Fault]) -> object:
    """Return the tables below a key: a tuple, a mapping by name, or one."""
    shape = NESTED[kind, key]
    inner = "ring_row" if (kind, key) == ("rings", "row") else key
    if shape == "array" and isinstance(value, list) and all(isinstance(entry, Mapping) for entry in value):
        return tuple(_table(inner, entry, (*path, place), unit, faults) for place, entry in enumerate(value))
    if shape == "named" and isinstance(value, Mapping) and all(isinstance(entry, Mapping) for entry in value.values()):
        return {name: _table(inner, entry, (*path, name), unit, faults) for name, entry in value.items()}
    if shape == "one" and isinstance(value, Mapping):
        return _table(inner, value, path, unit, faults)
    if key == "hole":
        say = "holes are tables written [[piece.hole]]. For the middle write opening."
    else:
        say = f"not tables. {allowed_say(kind, key)}"
    faults.append(Fault(path, say, value, has_found=not isinstance(value, (dict, list))))
    return None
