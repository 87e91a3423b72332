"""The recipe of a run, wherever it stands: in a TOML file, inside a file that frameforge wrote, or in options alone."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from frameforge.errors import FileError, InputError
from frameforge.read.kept_recipe import kept_recipe
from frameforge.read.read_fault import read_fault
from frameforge.recipe.from_options import with_options
from frameforge.recipe.lines import line_numbers
from frameforge.recipe.recipe import Recipe, check_recipe, parse_toml
from frameforge.recipe.source import Source

__all__ = ["GREATEST_BYTES", "file_bytes", "recipe_of", "recipe_text", "shown_path"]

GREATEST_BYTES = 50_000_000
"""Larger files are no recipes: a slip of the name shall not fill the memory."""


def recipe_of(path: Path | None, options: Mapping[str, Any]) -> Recipe:
    """Return the checked recipe of a file with options laid over it, or of options alone.

    Raises FileError when the file cannot be read, InputError with every fault in it or in the options.
    """
    if path is None:
        return check_recipe(*with_options({}, Source(""), options))
    text = recipe_text(path)
    is_kept = path.suffix.lower() != ".toml"
    raw = parse_toml(text, shown_path(path))
    # Lines inside a kept recipe are no lines of the file, so they are not told.
    source = Source(shown_path(path), {} if is_kept else line_numbers(text))
    return check_recipe(*with_options(raw, source, options))


def shown_path(path: Path) -> str:
    """Return a path as the maker typed it, with slashes."""
    return path.as_posix()


def recipe_text(path: Path) -> str:
    """Return the text of a recipe file, or of the recipe kept in an SVG or DXF.

    Raises FileError when it cannot be read, InputError when it is no text.
    """
    data = file_bytes(path)
    if path.suffix.lower() != ".toml":
        return kept_recipe(data, where=shown_path(path))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        say = "not written in UTF-8. Save it again as UTF-8."
        raise InputError(say, where=f"{shown_path(path)} line {line}", code="not-utf-8") from fault


def file_bytes(path: Path) -> bytes:
    """Return the bytes of a file. Raises FileError, in the maker's words, where it is missing, too large or shut."""
    try:
        with path.open("rb") as file:
            # What is no file, such as a pipe, tells no size beforehand, and may have no end.
            data = file.read(GREATEST_BYTES + 1)
    except FileNotFoundError as fault:
        raise FileError(f"no such file.{_near(path)}", where=shown_path(path), code="no-file") from fault
    except IsADirectoryError as fault:
        say = "this is a folder. Name the recipe in it."
        raise FileError(say, where=shown_path(path), code="cannot-read") from fault
    except (OSError, ValueError) as fault:
        raise read_fault(shown_path(path), fault) from fault
    if len(data) > GREATEST_BYTES:
        say = "larger than any file that is read here. Look at the name."
        raise FileError(say, where=shown_path(path), code="cannot-read")
    return data


def _near(path: Path) -> str:
    """Return the sentence that names the file most alike in the same folder."""
    try:
        names = [entry.name for entry in path.parent.iterdir() if entry.suffix.lower() in (".toml", ".svg", ".dxf")]
    except OSError:
        return " Look at the folder's name."
    near = difflib.get_close_matches(path.name, names, n=1)
    return f" The nearest in that folder is {near[0]}." if near else " Look at its name and folder."
