"""Where letters come from: the font that travels with us, or a file of the maker's own."""

from __future__ import annotations

from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Final

from frameforge.errors import FileError
from frameforge.read.font_file import Font, read_font
from frameforge.read.read_fault import read_fault

__all__ = ["GREATEST_BYTES", "font_at", "own_font"]

GREATEST_BYTES: Final = 64_000_000
"""Larger files are no fonts for a cutter: a slip of the name shall not fill the memory."""

_OWN: Final = {False: "Overpass-Regular.ttf", True: "Overpass-Bold.ttf"}


@lru_cache(maxsize=2)
def own_font(*, is_bold: bool) -> Font:
    """Return the font that travels with us, thin for lines or bold for what is cut."""
    name = _OWN[is_bold]
    return read_font(resources.files("frameforge.picture").joinpath("fonts", name).read_bytes(), name)


def font_at(path: Path, where: str) -> Font:
    """Return the font of a file.

    Raises FileError where it cannot be read, InputError where it is none; ``where`` is the place that names it.
    """
    try:
        with path.open("rb") as file:
            data = file.read(GREATEST_BYTES + 1)  # what is no file, such as a pipe, may have no end
    except (OSError, ValueError) as fault:
        raise read_fault(where, fault) from fault
    if len(data) > GREATEST_BYTES:
        raise FileError("larger than a font can be. Look at the name.", where=where, code="cannot-read")
    return _font(data, where)


@lru_cache(maxsize=8)
def _font(data: bytes, where: str) -> Font:
    return read_font(data, where)
