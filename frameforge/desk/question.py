"""What goes between the page and the processes that answer it: plain values, or bytes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

__all__ = ["Answer", "Answering", "Folders", "Tell", "untold"]

Tell = Callable[[int, int, str], None]
"""Called with how much is done, of how much, and words for what comes next (may be empty)."""


@dataclass(frozen=True, slots=True)
class Folders:
    """The folders that the desk may touch: ``out`` for files asked for, ``motifs`` of the maker's own to read."""

    out: Path
    motifs: Path | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: a status of HTTP, and plain values, or a file with its name."""

    status: int
    values: dict[str, Any]
    file: bytes | None = None


Answering = Callable[[str, dict[str, Any], Folders, Tell], Answer]
"""Answers a question: its kind, its values, the folders, and what is told of the work on it."""


def untold(done: int, of: int, words: str) -> None:
    """Tell nobody."""
