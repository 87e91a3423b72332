"""The words of a piece with their fonts."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from frameforge.errors import InputError
from frameforge.frame.text_spec import USUAL_CAP_MM, TextSpec
from frameforge.read.font_file import Font
from frameforge.read.font_folder import font_at, own_font
from frameforge.recipe.model import TextTable
from frameforge.recipe.recipe import Recipe

__all__ = ["font_digests", "text_lines", "texts_of"]

_DONE: Final = {"mark": "to be marked", "window": "cut through", "join": "joined on"}


def texts_of(recipe: Recipe, index: int, beside: Path) -> tuple[TextSpec, ...]:
    """Return the words of the piece at ``index`` (from 0); fonts are looked for ``beside`` the recipe.

    Raises InputError for words that come from a list where none is given, FileError for a font that cannot be read.
    """
    return tuple(
        _text(recipe, ("piece", index, "text", place), table, beside)
        for place, table in enumerate(recipe.pieces[index].text)
    )


def text_lines(texts: Iterable[TextSpec]) -> tuple[str, ...]:
    """Return a line for each text: what it says, how it is made, where it runs, in which font."""
    return tuple(
        f'"{" / ".join(text.words.split(chr(10)))}", {_DONE[text.style]}, '
        f"{'along the rim' if text.along == 'rim' else 'in the middle'}, {text.font.name}"
        for text in texts
    )


def _text(recipe: Recipe, path: tuple[str | int, ...], table: TextTable, beside: Path) -> TextSpec:
    """Return one text."""
    where = recipe.source.place(path)
    if table.words is None:
        say = f'"{table.column}" comes from a list of names, and none is given. Add --names names.csv, or write words.'
        raise InputError(say, where=where, code="no-names")
    return TextSpec(
        words=table.words,
        font=_font(recipe, path, table, beside),
        style=table.style,
        along=table.along,
        reads=table.reads,
        cap_mm=USUAL_CAP_MM if table.size is None else table.size,
        at_deg=(180.0 if table.reads == "inside" else 0.0) if table.at is None else table.at,
        limit_deg=table.limit,
        inset_mm=table.inset,
    )


def _font(recipe: Recipe, path: tuple[str | int, ...], table: TextTable, beside: Path) -> Font:
    """Return the font named, or our own: thin for lines, bold for what is cut."""
    if table.font is None:
        return own_font(is_bold=table.style != "mark")
    font = font_at(beside / table.font, recipe.source.label((*path, "font"), table.font))
    if table.digest is not None and font.digest != table.digest:
        say = (
            f"{font.name} in this file is not the font that the words were set in. Put that one back, or take this one "
            f"with --font {table.font}."
        )
        raise InputError(say, where=recipe.source.label((*path, "font"), table.font), code="other-font")
    return font


def font_digests(recipe: Recipe, index: int, beside: Path) -> dict[int, str]:
    """Return the digests of the maker's own fonts of the piece at ``index``, by the number of the text, from 0."""
    return {
        place: font_at(beside / table.font, table.font).digest
        for place, table in enumerate(recipe.pieces[index].text)
        if table.font is not None
    }
