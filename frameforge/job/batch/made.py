"""What a run of many came to: rows made, rows that could not be, sheets, and what is said of it all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from frameforge.job.batch.record import PieceRecord, RowRecord
from frameforge.job.batch.rows import Task
from frameforge.job.closing import caution_lines
from frameforge.job.part import Part
from frameforge.units import format_seconds
from frameforge.write.report import measure_line
from frameforge.write.run_record import MadePiece

if TYPE_CHECKING:
    from frameforge.job.laid_sheet import SheetsMade

__all__ = ["BatchMade", "FailedRow", "MadeRow"]


@dataclass(frozen=True, slots=True)
class MadeRow:
    """A row made: what it was asked to be, what is known of it, and whether an earlier run had made it already."""

    task: Task
    record: RowRecord
    is_from_before: bool = False

    def parts(self) -> list[Part]:
        """Return its pieces as they are laid on sheets."""
        from frameforge.recipe.checks import CHECKS  # here, since few rows name a sheet

        found = []
        for piece in self.record.pieces:
            # Of a stack each card is of a kind of its own: badge, and badge-layer-2-cream.
            rest = piece.name.removeprefix(self.task.name) if piece.name.startswith(self.task.name) else ""
            part = replace(piece.part(), kind=self.task.kind + rest if self.task.kind else "")
            asked = next((table.get("sheet") for table in self.task.raw.get("piece", ())), None)
            if asked is not None:
                sheets: Any = CHECKS["piece"]["sheet"](asked, self.task.raw.get("units", "mm"))
                part = replace(part, sheets=sheets)
            found.append(part)
        return found

    def listed(self) -> list[MadePiece]:
        """Return its pieces as run.json lists them."""
        return [MadePiece(piece.report.name, tuple(piece.files.items())) for piece in self.record.pieces]


@dataclass(frozen=True, slots=True)
class FailedRow:
    """A row that could not be made, why, and the exit code that goes with it."""

    task: Task
    lines: tuple[str, ...]
    exit_code: int


@dataclass(frozen=True, slots=True)
class BatchMade:
    """A whole run of many."""

    out: Path
    rows: tuple[MadeRow, ...]
    failed: tuple[FailedRow, ...]
    notes: tuple[str, ...]
    sheets: SheetsMade | None
    others: tuple[str, ...]

    @property
    def exit_code(self) -> int:
        """0 when every row was made, 3 when some could not be."""
        return 3 if self.failed else 0

    @property
    def pieces(self) -> list[PieceRecord]:
        """All pieces, row by row."""
        return [piece for row in self.rows for piece in row.record.pieces]

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        return {
            "out": str(self.out),
            "pieces": [dict(piece.said) for piece in self.pieces],
            "sheets": [sheet.as_json() for sheet in self.sheets.sheets] if self.sheets else None,
            "report": self.others[-1],
            "findings": [],
            "not_made": [{"where": row.task.where, "say": list(row.lines)} for row in self.failed],
        }

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        lines = [*self.notes]
        before = sum(row.is_from_before for row in self.rows)
        if before:
            lines.append(f"{before} of {len(self.rows)} were there already, from a run that was stopped.")
        lines += [*self._size_lines(), *self._finding_lines(), self._counted()]
        if self.sheets is not None:
            lines += self.sheets_lines()
        presets = ", ".join(dict.fromkeys(piece.preset.name for piece in self.pieces))
        lines.append(f"Limits of {presets}. Files in {self.out}: {', '.join(self.others)} and those of each piece.")
        lines += caution_lines((piece.preset, piece.report.kerf_mm) for piece in self.pieces)
        return lines

    @property
    def not_made(self) -> tuple[str, ...]:
        """A line for each row that could not be made."""
        return tuple(line for row in self.failed for line in row.lines)

    def sheets_lines(self) -> list[str]:
        """Return what the sheets came to."""
        from frameforge.job.sheet_words import sheet_lines  # here, since not every run has sheets

        return sheet_lines(self.sheets) if self.sheets else []

    def _size_lines(self) -> list[str]:
        """Return one line for each size of piece: what it must measure once cut, and how long cutting takes."""
        sizes: dict[str, list[PieceRecord]] = {}
        for piece in self.pieces:
            sizes.setdefault(measure_line(piece.report.width_mm, piece.report.height_mm), []).append(piece)
        return [
            f"  {said[0].upper()}{said[1:]}{_which(alike, len(sizes))}; about "
            f"{format_seconds(_mean([piece.report.cut_s or 0.0 for piece in alike]))} to cut."
            for said, alike in sizes.items()
        ]

    def _finding_lines(self) -> list[str]:
        """Return one line for each code and severity, with how many pieces have it."""
        found: Counter[tuple[str, str]] = Counter()
        for piece in self.pieces:
            found.update({(finding.severity, finding.code) for finding in piece.report.findings})
        total = len(self.pieces)
        return [
            f"  {severity}, {code}: in {count} of {total} pieces; see the report."
            for (severity, code), count in sorted(found.items())
            if severity != "note"
        ]

    def _counted(self) -> str:
        """Return how many pieces there are of which card."""
        cards: Counter[str] = Counter()
        for piece in self.pieces:
            cards[piece.report.card or "no card named"] += piece.report.copies
        told = ", ".join(f"{card} {count}" for card, count in cards.items())
        total = sum(cards.values())
        return f"{total} piece{'s' if total != 1 else ''}: {told}." + (
            f" {len(self.failed)} row{'s' if len(self.failed) > 1 else ''} could not be made." if self.failed else ""
        )


def _which(alike: Sequence[PieceRecord], sizes: int) -> str:
    """Return which pieces a size is of, where there are several sizes."""
    if sizes == 1:
        return ""
    first = alike[0].report.name
    return f" ({first})" if len(alike) == 1 else f" ({first} and {len(alike) - 1} more)"


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values)
