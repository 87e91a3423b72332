"""The work of one row: from its recipe to the bytes of its files. It may run in another process, or on another machine.

It touches no file of the run: what it made comes back as values, and the one who runs all writes it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from frameforge import __version__
from frameforge.errors import FrameforgeError
from frameforge.job.batch.record import RowRecord, piece_record, record_line
from frameforge.job.make import built, kept_of
from frameforge.job.motif_source import MotifSource
from frameforge.job.output import piece_files
from frameforge.recipe.recipe import check_recipe
from frameforge.recipe.source import Source
from frameforge.write.marker import digest
from frameforge.write.out_folder import PieceFiles

__all__ = ["Failed", "Work", "WorkDone", "made_row"]


@dataclass(frozen=True, slots=True)
class Work:
    """What a worker is given: a recipe's raw tables and where its motifs, fonts and presets may lie.

    ``where`` is how its faults are told: a line of the list, or empty for a table of the recipe itself. ``stamp`` is a
    digest of the maker's own files that the recipe names.
    """

    where: str
    source_name: str
    raw: Mapping[str, Any]
    beside: Path
    motifs: Path | None
    is_lenient: bool
    stamp: str = ""

    @property
    def key(self) -> str:
        """A digest of everything that goes into the row: same key, same piece."""
        told = [__version__, self.raw, str(self.motifs), self.is_lenient, self.stamp]
        return hashlib.sha256(json.dumps(told, sort_keys=True, default=str).encode("utf-8")).hexdigest()


@dataclass(frozen=True, slots=True)
class Failed:
    """Why a row could not be made: lines for the maker, and the exit code that goes with them."""

    lines: tuple[str, ...]
    exit_code: int


@dataclass(frozen=True, slots=True)
class WorkDone:
    """A row made: what is known of it, as values and as its line in the journal, and its files."""

    record: RowRecord
    line: str
    files: tuple[PieceFiles, ...]


def made_row(work: Work) -> WorkDone | Failed:
    """Return one row made, or why it could not be."""
    try:
        recipe = check_recipe(work.raw, Source(work.where or work.source_name))
        source = MotifSource(work.beside, work.motifs, work.is_lenient)
        pieces = built(recipe, source, lambda done, total, name: None)
        files = tuple(piece_files(made, kept_of(recipe, made, source), recipe.tables.files) for made in pieces)
    except FrameforgeError as fault:
        return Failed(tuple(_told(line, work.where) for line in fault.lines), fault.exit_code)
    records = tuple(
        piece_record(made, {file.name: digest(file.data) for file in of_piece.files})
        for made, of_piece in zip(pieces, files, strict=True)
    )
    record = RowRecord(work.key, records)
    return WorkDone(record, record_line(record), files)


def _told(line: str, where: str) -> str:
    """Return a line that begins with the row it is about."""
    return line if not where or line.startswith(where) else f"{where}, {line}"
