"""Fonts of the maker's own: those in the chosen folder, each shown as curves, and one more that was dropped in.

A recipe names a font by its bare name, and it lies in the chosen folder: there the command finds it too, beside the
recipe. What was dropped in is read as the command reads it before anything is kept, and never given back as it came.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Iterable
from pathlib import Path, PurePosixPath
from typing import Any, Final

from frameforge.errors import FileError, InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.picture.elements import mm_to_px
from frameforge.picture.path_text import region_text
from frameforge.read.font_file import Font, read_font
from frameforge.read.font_folder import font_at, own_font
from frameforge.recipe.recipe import Recipe
from frameforge.write.file_fault import file_fault
from frameforge.write.turn import turn

__all__ = ["check_fonts", "font_gallery", "font_names", "is_font_name", "named_fonts", "with_font"]

_NAME: Final = re.compile(r"[^\W_][\w .()+-]*\.(?:ttf|otf)", re.IGNORECASE)
_LONGEST: Final = 40
_USUAL_WORDS: Final = "Seed swap 12"
_SHOWN_SIGNS: Final = 14
_CAPITALS_PX: Final = 20.0
_WIDE_PX: Final = 190.0
_HIGH_PX: Final = 44.0
_DIGITS: Final = 2


def is_font_name(name: object) -> bool:
    """Whether a name is that of a font in a folder, and leads nowhere else."""
    return isinstance(name, str) and _NAME.fullmatch(name) is not None


def font_names(folder: Path) -> list[str]:
    """Return the names of the fonts that lie in a folder themselves; a name that leads elsewhere is none of them."""
    try:
        entries = sorted(folder.iterdir())
    except OSError:
        return []
    return [entry.name for entry in entries if is_font_name(entry.name) and _is_there(entry)]


def named_fonts(recipe: Recipe) -> list[str]:
    """Return the names of the maker's own fonts in a recipe, each once."""
    return list(dict.fromkeys(text.font for piece in recipe.pieces for text in piece.text if text.font is not None))


def check_fonts(recipe: Recipe, folder: Path) -> None:
    """Raise InputError, a line each, for every font of a recipe that does not lie in the chosen folder."""
    faults = [
        InputError(
            f"{name} is not among the fonts here. Drop it onto the page, or choose another font.",
            where="recipe, font",
            code="no-font",
        )
        for name in named_fonts(recipe)
        if not (is_font_name(name) and _is_there(folder / name))
    ]
    if faults:
        raise InputError.from_many(list(faults))


def font_gallery(folder: Path, words: str) -> list[dict[str, Any]]:
    """Return every font there is to choose, ours first, with a few of the ``words`` set in it as a path in px, y down.

    What is no font, though it is called one, is left out.
    """
    said = " ".join(words.split())[:_SHOWN_SIGNS].strip() or _USUAL_WORDS
    found = [{**_shown(own_font(is_bold=False), said), "name": None, "words": "our own"}]
    for name in font_names(folder):
        try:
            font = font_at(folder / name, name)
            found.append({**_shown(font, said), "name": name, "words": font.name})
        except (FileError, InputError):
            continue
    return found


def with_font(name: str, data: bytes, folder: Path) -> dict[str, Any]:
    """Keep a font in the chosen folder, and return its name there and what it is called.

    ``name`` is the file's, of which only letters, figures and dashes are kept. Nothing that is there is written over.
    Raises InputError for what is no font with outlines, FileError where the folder takes no file.
    """
    ending = PurePosixPath(name.replace("\\", "/")).suffix.lower()
    stem = re.sub(r"[^a-z0-9]+", "-", PurePosixPath(name.replace("\\", "/")).stem.lower()).strip("-")[:_LONGEST]
    ending = ending if ending in (".ttf", ".otf") else ".ttf"
    said = f"{stem or 'font'}{ending}"
    font = read_font(data, said)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with turn(folder):
            kept = _kept(folder, said, data)
    except OSError as fault:
        raise file_fault(folder, fault) from fault
    return {"font": kept, "words": font.name}


def _kept(folder: Path, name: str, data: bytes) -> str:
    """Write a font into a folder under the first of its names that is free, or is its own already; return that name."""
    free, place, number = name, folder / name, 1
    while os.path.lexists(place):
        if _is_there(place) and place.stat().st_size == len(data) and place.read_bytes() == data:
            return free
        number += 1
        free = f"{Path(name).stem}-{number}{Path(name).suffix}"
        place = folder / free
    part = folder / f".frameforge-{os.getpid()}-{secrets.token_hex(4)}"
    try:
        part.write_bytes(data)
        os.replace(part, place)
    finally:
        part.unlink(missing_ok=True)
    return free


def _is_there(place: Path) -> bool:
    """Whether a file lies at a place itself, and not somewhere else under that name."""
    return place.is_file() and not place.is_symlink()


def _shown(font: Font, words: str) -> dict[str, Any]:
    """Return words set in a font on a field of 190 by 44 px, and which of their letters it does not have."""
    regions = _set(font, words)
    if not regions:
        return {"path": "", "width": _WIDE_PX, "height": _HIGH_PX, "missing": "".join(font.missing(words))}
    box = bounds(regions)
    scale = min(_CAPITALS_PX / font.cap_height, _WIDE_PX / box.width_mm, _HIGH_PX / box.height_mm)
    to_px = mm_to_px(scale, complex(_WIDE_PX, _HIGH_PX) / 2, box.center)
    path = region_text((region.transformed(to_px) for region in regions), _DIGITS)
    return {"path": path, "width": _WIDE_PX, "height": _HIGH_PX, "missing": "".join(font.missing(words))}


def _set(font: Font, words: str) -> list[Region]:
    """Return the letters of a line in the units of the font; none for those that it does not have."""
    missing = set(font.missing(words))
    known: Iterable[str] = (sign for sign in words if sign not in missing)
    return [
        region.transformed(Affine.from_move(glyph.at))
        for glyph in font.set_line("".join(known))
        for region in font.glyph_regions(glyph.glyph)
    ]
