"""Names of files in a recipe that came over the page: none of them is followed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from frameforge.desk.fonts import is_font_name
from frameforge.errors import InputError
from frameforge.motif.catalogue import is_path

__all__ = ["refuse_paths"]

_FILES: Final = ("file", "used")
"""Keys whose values name files."""

_MOTIFS: Final = ("motif", "filler")


def refuse_paths(raw: Mapping[str, Any]) -> None:
    """Raise InputError, a line each, for everything in a recipe that names a file: the page reaches none."""
    faults = [InputError(say, where=f"recipe, {key}", code="names-a-file") for key, say in _faults(raw)]
    if "names" in raw:
        say = "a list of names is made by the command. Save the recipe and write: frameforge make RECIPE --names LIST"
        faults.append(InputError(say, where="recipe, names", code="names-a-file"))
    if faults:
        raise InputError.from_many(list(faults))


def _faults(value: Any) -> Iterator[tuple[str, str]]:
    """Yield key and sentence of every file named in a table and in those within it."""
    if isinstance(value, list):
        for entry in value:
            yield from _faults(entry)
    if not isinstance(value, Mapping):
        return
    for key, held in value.items():
        if key in _FILES and held not in (None, "", []):
            yield key, "the desk reads no files by their names. Leave this out, or use the command."
        elif key == "font" and held not in (None, "") and not is_font_name(held):
            yield key, "the desk reads no fonts by their places. Drop the font onto the page instead."
        elif key in _MOTIFS and any(map(is_path, _texts(held))):
            yield key, "the desk reads no drawings by their names. Drop the drawing onto the page instead."
        yield from _faults(held)


def _texts(value: Any) -> list[str]:
    """Return the texts of a motif or a pattern; what is a table is looked at by itself."""
    if isinstance(value, str):
        return [value]
    return [entry for entry in value if isinstance(entry, str)] if isinstance(value, list) else []
