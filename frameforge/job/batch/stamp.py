"""A digest of the maker's own files that a recipe names: motifs, fonts, presets. Another drawing, another piece."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from frameforge.job.presets import PRESET_FILE, own_preset_file

__all__ = ["stamp_of"]

_ENDINGS = ("", ".svg")


def stamp_of(raw: Mapping[str, Any], beside: Path, motifs: Path | None) -> str:
    """Return the digest of every file that a text of the recipe names, and of the maker's own presets."""
    folders = [beside, *([motifs] if motifs else [])]
    paths = {folder / f"{word}{ending}" for word in _words(raw) for folder in folders for ending in _ENDINGS}
    own = own_preset_file()
    paths |= {beside / PRESET_FILE, *([own] if own else [])}
    found = hashlib.sha256()
    for path in sorted(paths):
        try:
            data = path.read_bytes() if path.is_file() else None
        except (OSError, ValueError):
            continue
        if data is not None:
            found.update(f"{path.name} {len(data)} ".encode("utf-8", "replace"))
            found.update(data)
    return found.hexdigest()


def _words(value: Any) -> Iterator[str]:
    """Yield every text of a recipe that could be the name of a file."""
    if isinstance(value, str):
        if value and len(value) < 200 and "\0" not in value and "\n" not in value:
            yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _words(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from _words(inner)
