"""Presets of the maker's own: read from a presets.toml or a recipe, each like another one but for what it says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from frameforge.card.preset import FIELD_OF, Preset, load_preset, no_such_preset, preset_names
from frameforge.errors import InputError
from frameforge.recipe.faults import Fault
from frameforge.recipe.lines import line_numbers
from frameforge.recipe.model import PresetTable
from frameforge.recipe.recipe import as_error, parse_toml
from frameforge.recipe.source import Source
from frameforge.recipe.walk import walk

__all__ = ["Shelf", "preset_from", "read_shelf"]


@dataclass(frozen=True, slots=True)
class Shelf:
    """Presets that stand in one file, called ``origin`` on screen."""

    origin: str
    presets: Mapping[str, PresetTable]


def read_shelf(text: str, origin: str) -> Shelf:
    """Return the presets of a TOML text such as the one that travels with us: a table for each, [my-laser].

    Raises InputError with every fault in it, a line each.
    """
    raw = parse_toml(text, origin)
    lines = {("preset", *path): number for path, number in line_numbers(text).items()}
    alone = [key for key, value in raw.items() if not isinstance(value, dict)]
    say = "it stands below no name. Write it below a line such as [my-laser]."
    astray = [Fault(("preset", key), say, raw[key], has_found=True) for key in alone]
    tables, faults = walk({"preset": {key: value for key, value in raw.items() if key not in alone}})
    faults += astray
    if tables is None or faults:
        raise as_error(faults, Source(origin, lines))
    return Shelf(origin, tables.preset)


def preset_from(shelves: Sequence[Shelf], name: str) -> tuple[Preset, tuple[str, ...]]:
    """Return the preset called ``name`` and where else one of that name stands and was passed over.

    Looked for in the shelves in their order, then among those that travel with the program. Raises InputError when
    there is none, when it is like itself, or when limits are missing that no other preset gives.
    """
    holders = [shelf.origin for shelf in shelves if name in shelf.presets]
    if name in preset_names():
        holders.append("")
    if not holders:
        raise no_such_preset(name, (*(own for shelf in shelves for own in shelf.presets), *preset_names()))
    return _settled(shelves, name, ()), tuple(holders[1:])


def _settled(shelves: Sequence[Shelf], name: str, seen: tuple[tuple[str, str], ...]) -> Preset:
    """Return a preset with what it takes from the one it is like; a name in its own file means the one before it."""
    holder = next((s for s in shelves if name in s.presets and (s.origin, name) not in seen), None)
    if holder is None:
        if name in preset_names():
            return load_preset(name)
        if seen:
            say = f"[{seen[-1][1]}] is like itself in the end. Name a preset that stands on its own."
            raise InputError(say, where=seen[-1][0], code="preset")
        raise no_such_preset(name, preset_names())
    table = holder.presets[name]
    if table.like is None:
        return _whole(holder.origin, name, table)
    return replace(
        _named(shelves, table.like, (*seen, (holder.origin, name))).with_values(table.limits),
        name=name,
        origin=holder.origin,
    )


def _named(shelves: Sequence[Shelf], name: str, seen: tuple[tuple[str, str], ...]) -> Preset:
    """Return the preset that another one is like. Raises InputError, said of that other one."""
    known = [*(own for shelf in shelves for own in shelf.presets), *preset_names()]
    if name not in known:
        fault = no_such_preset(name, known)
        raise InputError(fault.say, where=f"{seen[-1][0]}, {seen[-1][1]}, like", code="preset")
    return _settled(shelves, name, seen)


def _whole(origin: str, name: str, table: PresetTable) -> Preset:
    """Return a preset that stands on its own. Raises InputError where a limit is missing."""
    missing = [key for key, field in FIELD_OF.items() if field not in table.limits]
    if missing:
        say = f'no {", ".join(missing)}. Write them, or like = "card-240-laser" for all that you leave out.'
        raise InputError(say, where=f"{origin}, {name}", code="preset")
    return Preset(name=name, origin=origin, **table.limits)  # type: ignore[arg-type]  # passes is a whole number
