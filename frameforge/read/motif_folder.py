"""Where the motifs that travel with frameforge are, and their bytes."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from frameforge.errors import FileError

__all__ = ["GREATEST_BYTES", "folder", "names_in", "read_motif_bytes"]

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


def names_in(place: Path) -> tuple[str, ...]:
    """Return the names of the motifs in a folder (files ending in .svg), sorted; none where it does not exist."""
    if not place.is_dir():
        return ()
    return tuple(sorted(path.stem for path in place.iterdir() if path.suffix.lower() == ".svg" and path.is_file()))


def read_motif_bytes(path: Path) -> bytes:
    """Return the content of a drawing file, one byte more than allowed of one that is too large.

    Raises FileError where it cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(GREATEST_BYTES + 1)
    except FileNotFoundError:
        raise FileError("no such file. Look at its name and folder.", where=str(path), code="no-file") from None
    except IsADirectoryError:
        raise FileError("this is a folder. Name the drawing in it.", where=str(path), code="no-file") from None
    except OSError as fault:
        said = fault.strerror or "unknown reason"
        raise FileError(f"the file cannot be read ({said}).", where=str(path), code="no-file") from None
