"""The motifs as the page shows them: each with its picture, its name and its foot."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Any, Final

from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.errors import FileError, InputError
from frameforge.frame.ornament import ready
from frameforge.frame.spec import Ornament
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.motif import Motif
from frameforge.picture.elements import mm_to_px
from frameforge.picture.path_text import region_text
from frameforge.recipe.kept_motif import read_motif
from frameforge.units import format_mm

__all__ = ["gallery", "shown_motif"]

_WIDE_PX: Final = 96.0
_HIGH_PX: Final = 72.0
_GREATEST_SCALE: Final = 4.0
_DIGITS: Final = 2


def gallery(folder: Path | None, recipe: str = "") -> list[dict[str, Any]]:
    """Return every motif that can be named, drawn: ours, the maker's own in ``folder``, those that a recipe keeps.

    Faulty ones are left out.
    """
    kept = _kept(recipe)
    found = [shown_motif(motif) for motif in kept]
    for name in names(folder):
        if any(motif.name == name for motif in kept):
            continue
        try:
            found.append(shown_motif(load_motif(name, folder=folder)))
        except (InputError, FileError):
            continue
    return found


def _kept(recipe: str) -> list[Motif]:
    """Return the drawings that a recipe keeps; none of one that cannot be read."""
    try:
        tables = checked(recipe).tables.motif if recipe else {}
    except InputError:
        return []
    found = []
    for name, table in tables.items():
        with contextlib.suppress(InputError):
            found.append(read_motif(name, table, RECIPE_NAME))
    return found


def shown_motif(motif: Motif) -> dict[str, Any]:
    """Return one motif for the page: its paths in px, y down, on a field of 96 by 72."""
    half = complex(motif.foot_mm / 2, 0)
    box = bounds(motif.regions).union(Box.from_points((-half, half)))
    scale = min((_WIDE_PX - 8) / box.width_mm, (_HIGH_PX - 8) / box.height_mm, _GREATEST_SCALE)
    to_px = mm_to_px(scale, complex(_WIDE_PX, _HIGH_PX) / 2, box.center)

    def path(regions: tuple[Region, ...]) -> str:
        return region_text((region.transformed(to_px) for region in regions), _DIGITS)

    return {
        "name": motif.name,
        "words": motif.name.replace("-", " "),
        "foot": f"foot {format_mm(motif.foot_mm)}",
        "is_corner": ready(Ornament(motif), 1.0, is_flipped=False).is_corner,
        "width": _WIDE_PX,
        "height": _HIGH_PX,
        "join": path(motif.join),
        "cut_away": path(motif.cut_away),
        "window": path(motif.window),
    }
