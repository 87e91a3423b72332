"""Where the presets of a run come from: the recipe, a presets.toml beside it, the maker's own folder, and us."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import InputError
from frameforge.finding import Finding
from frameforge.job.recipe_file import recipe_text, shown_path
from frameforge.read.motif_folder import own_folder
from frameforge.recipe.model import CardTable, PresetTable
from frameforge.recipe.preset_file import Shelf, preset_from, read_shelf
from frameforge.recipe.recipe import Recipe

__all__ = ["DEFAULT_PRESET", "PRESET_FILE", "FoundPreset", "find_preset", "own_preset_file", "preset_of"]

DEFAULT_PRESET: Final = "card-240-knife"
"""The limits that hold where neither piece nor card names others."""

PRESET_FILE: Final = "presets.toml"
"""The maker's own presets, beside a recipe or in the maker's own folder."""


@dataclass(frozen=True, slots=True)
class FoundPreset:
    """A preset, and the note that says so where one of the same name was passed over for it."""

    preset: Preset
    notes: tuple[Finding, ...] = ()


def find_preset(
    name: str, beside: Path | None = None, own: Mapping[str, PresetTable] | None = None, own_origin: str = ""
) -> FoundPreset:
    """Return the preset called ``name``: out of the recipe's ``own`` tables, the presets.toml ``beside`` the recipe,
    the one in the maker's own folder, or those that travel with the program, whichever comes first.

    Raises InputError when there is none, with the nearest name, or when a presets.toml holds faults; FileError when
    it cannot be read.
    """
    shelves = [Shelf(own_origin, own)] if own else []
    beside_it = None if beside is None else beside / PRESET_FILE
    files = dict.fromkeys(file for file in (beside_it, own_preset_file()) if file is not None)
    shelves += [_shelf(file) for file in files if os.path.isfile(file)]
    preset, passed_over = preset_from(shelves, name)
    if not passed_over:
        return FoundPreset(preset)
    others = " and ".join(f"the one in {origin}" if origin else "the one that comes with frameforge"
                          for origin in passed_over)  # fmt: skip
    say = f"preset {name}: took the one in {preset.origin} and left out {others}."
    return FoundPreset(preset, (Finding("took", "note", say),))


def own_preset_file() -> Path | None:
    """Return where the maker's own presets lie, which may not exist yet; None where nobody is at home."""
    mine = own_folder()
    return None if mine is None else mine.parent / PRESET_FILE


def preset_of(recipe: Recipe, index: int, folder: Path, table: str = "piece") -> FoundPreset:
    """Return the limits that hold for the piece (or the "rings") at ``index``: its own preset, its card's, or
    ``DEFAULT_PRESET``, with the single limits of its card in place of the preset's. ``folder`` is the recipe's.

    Raises InputError as ``find_preset`` does, said of the place of the name.
    """
    piece, source = recipe.asked((table, index)), recipe.source
    card = recipe.tables.card.get(piece.card or "", CardTable())
    name = piece.preset or card.preset or DEFAULT_PRESET
    try:
        found = find_preset(name, folder if source.name else None, recipe.tables.preset, source.name)
    except InputError as fault:
        if fault.code != "no-preset" or not (piece.preset or card.preset):
            raise
        path = (table, index, "preset") if piece.preset else ("card", piece.card or "", "preset")
        raise InputError(fault.say, where=source.label(path, name), code=fault.code) from fault
    return FoundPreset(found.preset.with_values(card.limits), found.notes) if card.limits else found


def _shelf(path: Path) -> Shelf:
    """Return the presets in a file."""
    return read_shelf(recipe_text(path), shown_path(path))
