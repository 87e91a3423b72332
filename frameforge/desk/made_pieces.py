"""The pieces of a recipe as they were made last: what is asked of one and the same piece is not made anew each time."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from frameforge.desk.change import checked
from frameforge.desk.fonts import check_fonts, font_names
from frameforge.desk.question import Tell, untold
from frameforge.job.made import MadePiece
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.recipe.recipe import Recipe

__all__ = ["known_pieces", "made_pieces"]

_MOST: Final = 6
"""Recipes kept: the one that is looked at, mended and as it was, and a few steps back."""

_State = tuple[tuple[str, int, int], ...]
_Key = tuple[str, Path, Path | None, _State, _State]
_kept: OrderedDict[_Key, tuple[Recipe, tuple[MadePiece, ...]]] = OrderedDict()


def made_pieces(text: str, source: MotifSource, tell: Tell = untold) -> tuple[Recipe, tuple[MadePiece, ...]]:
    """Return the checked recipe of a text and its pieces. Raises what the command raises."""
    key = _key(text, source)
    if key in _kept:
        _kept.move_to_end(key)
        return _kept[key]
    recipe = checked(text)
    check_fonts(recipe, source.beside)
    found = recipe, tuple(built(recipe, source, tell))
    _kept[key] = found
    while len(_kept) > _MOST:
        _kept.popitem(last=False)
    return found


def known_pieces(text: str, source: MotifSource) -> tuple[MadePiece, ...] | None:
    """Return the pieces of a recipe if they were made not long ago, else None."""
    found = _kept.get(_key(text, source))
    return found[1] if found else None


def _key(text: str, source: MotifSource) -> _Key:
    fonts = _stated(source.beside / name for name in font_names(source.beside)) if "font" in text else ()
    return text, source.beside, source.folder, _state(source.folder), fonts


def _state(folder: Path | None) -> _State:
    """Return what changes when a drawing in the maker's own folder does."""
    if folder is None or not folder.is_dir():
        return ()
    return _stated(path for path in sorted(folder.iterdir()) if path.suffix.lower() == ".svg")


def _stated(files: Iterable[Path]) -> _State:
    """Return names, times and sizes of files."""
    stats = ((path.name, path.stat()) for path in files)
    return tuple((name, stat.st_mtime_ns, stat.st_size) for name, stat in stats)
