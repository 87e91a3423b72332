"""The motifs by name: the maker's own first, then those that travel with frameforge; and any drawing by its path.

A name in the maker's own folder wins over ours, so that she may draw her own bean leaf; a note then says so.

How a motif is drawn: an ordinary SVG in millimetres, one closed path an outline, in groups with the ids ``join`` (card
joined on), ``cut-away`` (card taken away first) and ``window`` (holes, cut last). What is in no group is joined on and
its counters are windows. A ``<g id="guides" fill="none" stroke="none">`` holds ``<line id="foot">``, from the left to
the right foot end, and ``<line id="axis">``, from the middle of the foot outward. Ours have the foot line on y = 0.
A corner motif has its tip at 0, 0 and its card inside the right angle below; its cut-away starts .3 mm above the edge,
its foot is as wide as the mouth of the cut-away, and its card reaches below the floor of the cut-away.
"""

from __future__ import annotations

import difflib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from frameforge.card.preset import load_preset
from frameforge.errors import FileError, InputError
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.motif_folder import files_in, names_in, read_motif_bytes
from frameforge.read.motif_folder import folder as shipped_folder
from frameforge.read.svg import read_drawing
from frameforge.read.svg_notes import one_line

__all__ = ["USUAL_PRESET", "White", "is_ours", "is_path", "load_motif", "names", "plain_name"]

USUAL_PRESET: Final = "card-240-knife"
"""The card whose least neck a found foot must have, where no other is named."""

White = Literal["keep", "cuts"]

_LONGEST_NAME: Final = 200


def names(folder: Path | None = None) -> tuple[str, ...]:
    """Return the names of all motifs, sorted: those in the maker's own ``folder`` and ours, each name once."""
    own = names_in(folder) if folder is not None else ()
    taken = {plain_name(name) for name in own}
    return tuple(sorted((*own, *(name for name in names_in(shipped_folder()) if name not in taken))))


def load_motif(
    name_or_path: str,
    *,
    beside: Path | None = None,
    folder: Path | None = None,
    white: White = "keep",
    lenient: bool = False,
    least_neck_mm: float | None = None,
    where: str = "",
) -> Motif:
    """Return a motif of the catalogue by its name, or a drawing by its path.

    What ends in .svg or holds a slash is a path, relative to ``beside`` (the folder of the recipe); anything else is
    a name, looked up in the maker's own ``folder`` first, then among ours; capitals, spaces and underscores do not
    matter. ``least_neck_mm`` is the narrowest foot that holds (by default that of the usual card). ``where`` opens
    the message about an unknown name. A drawing with the same content is read once.
    Raises InputError for an unknown name, with the nearest one, and for a drawing that cannot be understood; FileError
    for a file that cannot be read.
    """
    path = _path(name_or_path, beside, folder, where or f"motif {name_or_path}")
    neck = load_preset(USUAL_PRESET).least_neck_mm if least_neck_mm is None else least_neck_mm
    said = name_or_path if is_path(name_or_path) else path.name
    try:
        data = read_motif_bytes(path)
    except FileError as fault:
        raise FileError(fault.say, where=said, code=fault.code) from None
    motif = _read(data, one_line(path.stem, _LONGEST_NAME), said, white, lenient, neck)
    if is_path(name_or_path) or is_ours(name_or_path, folder) or not is_ours(name_or_path):
        return motif
    return replace(motif, notes=(f"took your own {path.stem}, not the one that comes with frameforge.", *motif.notes))


def is_ours(name_or_path: str, folder: Path | None = None) -> bool:
    """Return whether a name stands for a motif that travels with frameforge, and for none in ``folder``."""
    if is_path(name_or_path):
        return False
    wanted = plain_name(name_or_path)
    if folder is not None and wanted in map(plain_name, names_in(folder)):
        return False
    return wanted in map(plain_name, names_in(shipped_folder()))


def is_path(name_or_path: str) -> bool:
    """Return whether a motif is called by its file and not by a name."""
    return name_or_path.lower().endswith((".svg", ".svgz")) or any(mark in name_or_path for mark in "/\\")


@lru_cache(maxsize=256)
def _read(data: bytes, name: str, said: str, white: White, lenient: bool, least_neck_mm: float) -> Motif:
    drawing = read_drawing(data, where=said, white=white, lenient=lenient)
    return to_motif(drawing, name, least_neck_mm=least_neck_mm, where=said)


def _path(name_or_path: str, beside: Path | None, folder: Path | None, where: str) -> Path:
    """Return the file that holds a motif."""
    if is_path(name_or_path):
        return (beside or Path()) / name_or_path
    wanted = plain_name(name_or_path)
    for place in (shipped_folder(),) if folder is None else (folder, shipped_folder()):
        for name, path in files_in(place).items():
            if plain_name(name) == wanted:
                return path
    for name, path in files_in(beside or Path()).items():
        if plain_name(name) == wanted:
            say = f"no such motif. For the drawing of that name write {path.name}"
            raise InputError(say, where=where, code="no-motif")
    near = difflib.get_close_matches(wanted, [plain_name(name) for name in names(folder)], n=1, cutoff=0.4)
    nearest = f"; the nearest is {near[0]}" if near else ""
    raise InputError(f"no such motif{nearest}. See all with: frameforge motif list", where=where, code="no-motif")


def plain_name(name: str) -> str:
    """Return a name as names are compared: without capitals, blanks and underscores."""
    return name.strip().lower().replace(" ", "-").replace("_", "-")
