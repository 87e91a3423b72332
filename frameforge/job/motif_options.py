"""What the commands about motifs take in common: the maker's own folder, and how near-white shapes are read."""

from __future__ import annotations

import os
from pathlib import Path

from frameforge.errors import FileError, InputError
from frameforge.motif.catalogue import White
from frameforge.read.motif_folder import own_folder

__all__ = ["motifs_folder", "white_of"]


def motifs_folder(given: str | None) -> Path | None:
    """Return the folder that names are looked up in first: the one given, else the maker's own where there is one.

    Raises FileError where the given one is no folder.
    """
    if given is not None:
        folder = Path(given)
        if not os.path.isdir(folder):
            say = "no such folder. Look at its name, or make it with: frameforge motif add DRAWING.svg --motifs "
            raise FileError(say + given, where=f"--motifs {given}", code="no-file")
        return folder
    usual = own_folder()
    # Path.is_dir raises where a folder above may not be looked into; nothing of hers can be read there.
    return usual if usual is not None and os.path.isdir(usual) else None


def white_of(given: str | None, command: str) -> White:
    """Return how near-white shapes are taken. Raises InputError for another word."""
    if given is None or given == "keep":
        return "keep"
    if given == "cuts":
        return "cuts"
    raise InputError('no such choice. Write "keep" or "cuts".', where=f'{command}, --white "{given}"', code="choice")
