"""The motifs by name: the maker's own first, then those that travel with frameforge; and any drawing by its path.

A name in the maker's own folder wins over ours, so that she may draw her own bean leaf.

How a motif is drawn: an ordinary SVG in millimetres, one closed path an outline, in groups with the ids ``join`` (card
joined on), ``cut-away`` (card taken away first) and ``window`` (holes, cut last). What is in no group is joined on and
its counters are windows. A ``<g id="guides" fill="none" stroke="none">`` holds ``<line id="foot">``, from the left to
the right foot end, and ``<line id="axis">``, from the middle of the foot outward. Ours have the foot line on y = 0.
A corner motif has its tip at 0, 0 and its card inside the right angle below; its cut-away starts .3 mm above the edge,
its foot is as wide as the mouth of the cut-away, and its card reaches below the floor of the cut-away.
"""

from __future__ import annotations

import difflib
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from frameforge.card.preset import load_preset
from frameforge.errors import FileError, InputError
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.motif_folder import folder as shipped_folder
from frameforge.read.motif_folder import names_in, read_motif_bytes
from frameforge.read.svg import read_drawing

__all__ = ["USUAL_PRESET", "White", "load_motif", "names"]

USUAL_PRESET: Final = "card-240-knife"
"""The card whose least neck a found foot must have, where no other is named."""

White = Literal["keep", "cuts"]


def names(folder: Path | None = None) -> tuple[str, ...]:
    """Return the names of all motifs, sorted: those in the maker's own ``folder`` and ours, each name once."""
    own = names_in(folder) if folder is not None else ()
    return tuple(sorted({*own, *names_in(shipped_folder())}))


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
    said = name_or_path if _is_path(name_or_path) else path.name
    try:
        data = read_motif_bytes(path)
    except FileError as fault:
        raise FileError(fault.say, where=said, code=fault.code) from None
    return _read(data, path.stem, said, white, lenient, neck)


@lru_cache(maxsize=256)
def _read(data: bytes, name: str, said: str, white: White, lenient: bool, least_neck_mm: float) -> Motif:
    drawing = read_drawing(data, where=said, white=white, lenient=lenient)
    return to_motif(drawing, name, least_neck_mm=least_neck_mm, where=said)


def _is_path(name_or_path: str) -> bool:
    return name_or_path.lower().endswith(".svg") or any(mark in name_or_path for mark in "/\\")


def _path(name_or_path: str, beside: Path | None, folder: Path | None, where: str) -> Path:
    """Return the file that holds a motif."""
    if _is_path(name_or_path):
        return (beside or Path()) / name_or_path
    wanted = _plain(name_or_path)
    for place in (shipped_folder(),) if folder is None else (folder, shipped_folder()):
        for name in names_in(place):
            if _plain(name) == wanted:
                return place / f"{name}.svg"
    near = difflib.get_close_matches(wanted, [_plain(name) for name in names(folder)], n=1, cutoff=0.4)
    nearest = f"; the nearest is {near[0]}" if near else ""
    raise InputError(f"no such motif{nearest}. See all with: frameforge motif list", where=where, code="no-motif")


def _plain(name: str) -> str:
    return name.strip().lower().replace(" ", "-").replace("_", "-")
