"""What a run of many has made so far, one line a row, so that a run that was stopped goes on where it was.

A line is written before the files of its row are put in place. A row counts as made when its line is whole, of the same
key, and every file it names is there with that very content. The journal goes when the run has ended well.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from frameforge.errors import FileError
from frameforge.job.batch.record import RowRecord, record_from
from frameforge.write.file_fault import file_fault
from frameforge.write.marker import digest
from frameforge.write.run_record import MadePiece

__all__ = ["JOURNAL", "Journal"]

JOURNAL: Final = "run-so-far.jsonl"

_HEAD: Final = {"frameforge": "what this run has made so far; it goes when the run has ended"}
_HEAD_LINE: Final = f"{json.dumps(_HEAD)}\n"
"""A disk that was full may have taken a part of it."""


class Journal:
    """The journal of a folder. Lines of earlier runs that were cut short are read; anything else in it is not ours."""

    def __init__(self, folder: Path) -> None:
        """Read what is there. Raises FileError where a file of that name is not ours or cannot be read."""
        self._path = folder / JOURNAL
        self._lines: dict[str, Mapping[str, Any]] = {}
        try:
            text = self._path.read_text(encoding="utf-8") if self._path.is_file() else ""
        except (OSError, UnicodeDecodeError) as fault:
            raise self._not_ours() from fault
        first, *lines = text.split("\n")
        if not _HEAD_LINE.startswith(text) and not _is_head(first):
            raise self._not_ours()
        for line in lines:
            self._take(line)

    def _take(self, line: str) -> None:
        """Take one line in; one that was cut short says nothing."""
        try:
            table = json.loads(line)
            self._lines[str(table["key"])] = table
        except (ValueError, KeyError, TypeError):
            return

    def _not_ours(self) -> FileError:
        say = "frameforge did not write this file and leaves it alone. Choose another folder with --out."
        return FileError(say, where=self._path.as_posix(), code="not-ours")

    def listed(self) -> tuple[MadePiece, ...]:
        """Return what the lines list as made or about to be: files of theirs may be replaced."""
        return tuple(
            MadePiece(str(piece["cut"]["name"]), tuple((str(a), str(b)) for a, b in piece["files"].items()))
            for table in self._lines.values()
            for piece in table.get("pieces", ())
            if isinstance(piece, dict) and "cut" in piece and "files" in piece
        )

    def made(self, key: str) -> RowRecord | None:
        """Return the row of a key when all its files are there as they were written."""
        table = self._lines.get(key)
        if table is None:
            return None
        try:
            record = record_from(table)
        except (ValueError, KeyError, TypeError, IndexError):
            return None
        names = [(name, of) for piece in record.pieces for name, of in piece.files.items()]
        return record if names and all(self._is_there(name, of) for name, of in names) else None

    def _is_there(self, name: str, of: str) -> bool:
        try:
            return digest((self._path.parent / name).read_bytes()) == of
        except (OSError, ValueError):
            return False

    def add(self, line: str) -> None:
        """Write the line of a row, and make sure it is on the disk. Raises FileError where the disk refuses."""
        try:
            is_new = not self._path.exists() or self._path.stat().st_size < len(_HEAD_LINE)
            with self._path.open("w" if is_new else "a", encoding="utf-8", newline="\n") as file:
                # A line that was cut short is ended, so that this one stands alone.
                file.write(f"{_HEAD_LINE}{line}\n" if is_new else f"\n{line}\n")
                file.flush()
                os.fsync(file.fileno())
        except OSError as fault:
            raise file_fault(self._path, fault) from fault

    def end(self) -> None:
        """Take the journal away: the run has ended. Raises FileError where the disk refuses."""
        try:
            self._path.unlink(missing_ok=True)
        except OSError as fault:
            raise file_fault(self._path, fault) from fault


def _is_head(line: str) -> bool:
    try:
        return bool(json.loads(line) == _HEAD)
    except ValueError:
        return False
