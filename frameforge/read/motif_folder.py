"""Where motifs are, those that travel with frameforge and the maker's own, and their bytes."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from frameforge.errors import FileError
from frameforge.read.read_fault import read_fault

__all__ = ["GREATEST_BYTES", "files_in", "folder", "names_in", "own_folder", "read_motif_bytes"]

GREATEST_BYTES: Final = 16_000_000
"""Size of a drawing, unpacked and with its entities unfolded; a tree of this size takes a second and 200 MB."""

_PACKAGE: Final = Path(__file__).resolve().parent.parent


def folder() -> Path:
    """Return the folder of our own motifs: inside the package (a wheel) or beside it (a checkout, also editable).

    Raises FileError where neither is there.
    """
    for place in (_PACKAGE / "motifs", _PACKAGE.parent / "motifs"):
        if any(place.glob("*.svg")):
            return place
    raise FileError("the motifs that belong to frameforge are missing. Install it again.", code="no-motifs")


def own_folder() -> Path | None:
    """Return the folder of the maker's own motifs, which may not exist yet; None where nobody is at home.

    On Windows below %APPDATA%, elsewhere below $XDG_DATA_HOME, which counts only when absolute, or ~/.local/share
    (XDG Base Directory Specification 0.8).
    """
    is_windows = os.name == "nt"
    stated = os.environ.get("APPDATA" if is_windows else "XDG_DATA_HOME", "")
    if not os.path.isabs(stated):
        home = os.path.expanduser("~")
        if not os.path.isabs(home):
            return None
        stated = os.path.join(home, *(("AppData", "Roaming") if is_windows else (".local", "share")))
    return Path(stated) / "frameforge" / "motifs"


def files_in(place: Path) -> dict[str, Path]:
    """Return the motifs in a folder (files ending in .svg) by name, sorted; none where it does not exist."""
    try:
        found = [path for path in place.iterdir() if path.suffix.lower() == ".svg" and path.is_file()]
    except OSError:
        return {}
    return {path.stem: path for path in sorted(found, key=lambda path: path.name)}


def names_in(place: Path) -> tuple[str, ...]:
    """Return the names of the motifs in a folder, sorted."""
    return tuple(files_in(place))


def read_motif_bytes(path: Path) -> bytes:
    """Return the content of a drawing file, one byte more than allowed of one that is too large.

    Raises FileError where it cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(GREATEST_BYTES + 1)
    except IsADirectoryError as fault:
        raise FileError("this is a folder. Name the drawing in it.", where=str(path), code="no-file") from fault
    except (OSError, ValueError) as fault:
        raise read_fault(str(path), fault) from fault
