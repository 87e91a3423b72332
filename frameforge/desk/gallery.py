"""The motifs as the page shows them: each with its picture, its name and its foot."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from frameforge.errors import FileError, InputError
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.motif.catalogue import load_motif, names
from frameforge.motif.motif import Motif
from frameforge.picture.elements import mm_to_px
from frameforge.picture.path_text import region_text
from frameforge.units import format_mm

__all__ = ["gallery", "shown_motif"]

_WIDE_PX: Final = 96.0
_HIGH_PX: Final = 72.0
_GREATEST_SCALE: Final = 4.0
_DIGITS: Final = 2


def gallery(folder: Path | None) -> list[dict[str, Any]]:
    """Return every motif that can be named, drawn, the maker's own in ``folder`` too; faulty ones are left out."""
    found = []
    for name in names(folder):
        try:
            found.append(shown_motif(load_motif(name, folder=folder)))
        except (InputError, FileError):
            continue
    return found


def shown_motif(motif: Motif) -> dict[str, Any]:
    """Return one motif for the page: its paths in px, y down, on a field of 96 by 72."""
    half = complex(motif.foot_mm / 2, 0)
    parts: tuple[Region, ...] = (*motif.join, *motif.cut_away, *motif.window)
    box = bounds(parts).union(Box.from_points((-half, half)))
    scale = min((_WIDE_PX - 8) / box.width_mm, (_HIGH_PX - 8) / box.height_mm, _GREATEST_SCALE)
    to_px = mm_to_px(scale, complex(_WIDE_PX, _HIGH_PX) / 2, box.center)

    def path(regions: tuple[Region, ...]) -> str:
        return region_text((region.transformed(to_px) for region in regions), _DIGITS)

    return {
        "name": motif.name,
        "words": motif.name.replace("-", " "),
        "foot": f"foot {format_mm(motif.foot_mm)}",
        "width": _WIDE_PX,
        "height": _HIGH_PX,
        "join": path(motif.join),
        "cut_away": path(motif.cut_away),
        "window": path(motif.window),
    }
