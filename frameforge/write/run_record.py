"""run.json: what a folder holds that frameforge made, with the digest of every file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from frameforge.write.marker import BLANK_MARKER, is_marked, marked_text

__all__ = ["RECORD_NAME", "MadePiece", "read_record", "record_text"]

RECORD_NAME: Final = "run.json"


@dataclass(frozen=True, slots=True)
class MadePiece:
    """A piece made: its name, and its files as (name, SHA-256) in the order in which they were written."""

    name: str
    files: tuple[tuple[str, str], ...]


def record_text(made: Iterable[MadePiece], versions: Mapping[str, str]) -> str:
    """Return the text of run.json. It holds no time and no path: same run, same text."""
    pieces = [{"piece": piece.name, "files": dict(piece.files)} for piece in made]
    content = {"made": pieces, "versions": dict(sorted(versions.items())), "marker": BLANK_MARKER}
    return marked_text(json.dumps(content, indent=1, ensure_ascii=False) + "\n")


def read_record(data: bytes) -> tuple[MadePiece, ...]:
    """Return what a run.json lists; nothing when it is not ours or was edited, since then it proves nothing."""
    if not is_marked(data):
        return ()
    try:
        content = json.loads(data)
        return tuple(
            MadePiece(str(piece["piece"]), tuple((str(name), str(digest)) for name, digest in piece["files"].items()))
            for piece in content["made"]
        )
    except (ValueError, KeyError, TypeError, AttributeError):
        return ()
