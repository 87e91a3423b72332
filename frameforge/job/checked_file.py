"""What ``check`` and ``mend`` tell of one file, as lines for people and as JSON."""

from __future__ import annotations

import cmath
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.frame.wording import clock_words
from frameforge.geometry.measure import area_mm2
from frameforge.job.closing import caution_lines, finding_lines
from frameforge.job.cut_file import CutFile
from frameforge.job.findings import finding_json
from frameforge.job.mending import can_be_mended, mended_lines
from frameforge.mend.patch import Change, Mended
from frameforge.units import format_mm, format_size, to_clock_deg

__all__ = ["Checked", "CheckedFile"]


@dataclass(frozen=True, slots=True)
class CheckedFile:
    """One file looked at: its lines, the findings by the limits of ``preset``, what was mended, what was written.

    ``shown`` is the file as it was typed and ``name`` what its own files are called. After mending, ``file`` is still
    what was read, and ``findings`` are those of the mended card; ``left_out`` open lines are in it no more.
    ``pictures`` and ``written`` are names in the folder of the run.
    """

    shown: str
    name: str
    file: CutFile
    preset: Preset
    findings: tuple[Finding, ...]
    mended: Mended | None = None
    pictures: tuple[str, ...] = ()
    written: str | None = None
    is_of_recipe: bool = False
    left_out: int = 0

    def with_files(self, pictures: tuple[str, ...], written: str | None) -> CheckedFile:
        """Return the same with the names of what was written of it."""
        return replace(self, pictures=pictures, written=written)

    def lines(self) -> list[str]:
        """Return what is said of the file."""
        box = self.file.box
        lines = [f"{self.shown}: {format_size(box.width_mm, box.height_mm)} across."]
        lines.append(f"  {', '.join(self._counts())}.")
        lines += [f"  note: {note}" for note in self._notes()]
        lines += [f"  {line}" for line in mended_lines(self._changes())]
        if self.left_out:
            by = "it" if self.left_out == 1 else "them"
            lines.append(f"  {_many(self.left_out, 'open line')} left out: nothing is enclosed by {by}.")
        return [*lines, *(finding_lines(self.findings, rest="told with --json") or ["  Nothing found."])]

    def as_json(self) -> dict[str, Any]:
        """Return the file as a table of plain values."""
        box, regions = self.file.box, self.file.regions
        return {
            "file": self.shown,
            "width_mm": box.width_mm,
            "height_mm": box.height_mm,
            "area_mm2": sum(map(area_mm2, regions)),
            "cut_length_mm": self.file.cut_length_mm,
            "parts": len(regions),
            "inside_cuts": sum(len(region.holes) for region in regions),
            "open_lines": self.file.open_lines,
            "segments": self.file.segments,
            "picture": next((name for name in self.pictures if name.endswith(".png")), None),
            "findings": [finding_json(finding) for finding in self.findings],
            "mended": [_change_json(change, self._where(change)) for change in self._changes()],
            "written": self.written,
        }

    def _counts(self) -> list[str]:
        """Return how much of everything there is."""
        inside = sum(len(region.holes) for region in self.file.regions)
        return [
            _many(len(self.file.regions), "part"),
            _many(inside, "inside cut"),
            *([_many(self.file.open_lines, "open line")] if self.file.open_lines else []),
            f"{self.file.segments} lines and curves",
            f"{format_mm(self.file.cut_length_mm)} to cut",
        ]

    def _notes(self) -> list[str]:
        """Return what the reader had to tell, and that the size is not known."""
        drawing = self.file.drawing
        notes = [f"{note[0].lower()}{note[1:]}" for note in drawing.notes]
        if not drawing.has_size:
            width = format_mm(self.file.box.width_mm)
            notes.append(
                f"the file does not say how large it is; {width} across was taken. Give it with --width 200mm."
            )
        if drawing.other_lines:
            notes.append(f"{_many(drawing.other_lines, 'line')} to crease or mark left aside.")
        return notes

    def _changes(self) -> tuple[Change, ...]:
        return self.mended.changes if self.mended else ()

    def _where(self, change: Change) -> str:
        """Return where a change was made, as seen from the middle of the file."""
        away = change.at - self.file.box.center
        if abs(away) < 1:
            return "in the middle"
        return clock_words(to_clock_deg(cmath.phase(away)))


@dataclass(frozen=True, slots=True)
class Checked:
    """A whole run: the files in the order named, where their pictures lie, the command that ran."""

    files: tuple[CheckedFile, ...]
    out: Path
    command: str

    @property
    def mendable(self) -> tuple[str, ...]:
        """The cut files in which something can be mended, as they were typed."""
        looked = (file for file in self.files if file.mended is None and not file.is_of_recipe)
        return tuple(file.shown for file in looked if can_be_mended(file.findings, ()))

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        return {"files": [file.as_json() for file in self.files]}

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        lines = [line for file in self.files for line in file.lines()]
        presets = ", ".join(dict.fromkeys(file.preset.name for file in self.files))
        names = [name for file in self.files for name in (*([file.written] if file.written else []), *file.pictures)]
        where = f" Files in {self.out}: {', '.join(names)}." if names else ""
        lines.append(f"Limits of {presets}.{where}")
        return [*lines, *caution_lines((file.preset, 0.0) for file in self.files)]


def _many(count: int, word: str) -> str:
    return f"1 {word}" if count == 1 else f"{count} {word}s"


def _change_json(change: Change, where: str) -> dict[str, Any]:
    return {"code": change.code, "where": where, "added_mm2": change.added_mm2, "removed_mm2": change.removed_mm2}
