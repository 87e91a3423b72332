"""The closing lines of a run: what was made, how large it is, what the gaps came to, what to mind."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Final

from frameforge.finding import Finding
from frameforge.frame.piece import RowResult
from frameforge.frame.wording import plural
from frameforge.units import format_floor, format_size

if TYPE_CHECKING:
    from frameforge.job.made import Made, MadePiece

__all__ = ["CAUTION", "finding_line", "piece_lines", "row_line", "run_lines"]

CAUTION: Final = "Sharp blade: fingers clear, machine off when you change it. Your machine's manual comes first."


def piece_lines(made: MadePiece) -> list[str]:
    """Return what is said about one piece."""
    across = format_size(made.box.width_mm, made.box.height_mm)
    files = ", ".join(made.files.values())
    copies = f" Cut it {made.copies} times." if made.copies > 1 else ""
    lines = [f"{made.name}: {across} across.{copies} Files: {files}"]
    for row, known in zip(made.piece.rows, made.neighbours or ({},) * len(made.piece.rows), strict=True):
        lines.append(row_line(row, format_size(made.piece.size.width_mm, made.piece.size.height_mm), known))
    return lines + finding_lines(made.findings)


def row_line(row: RowResult, size: str, neighbours: Mapping[int, float]) -> str:
    """Return the sentence of a row: "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm."."""
    line = f"{row.count} {plural(row.motif_name, row.count)} round {size}"
    if row.gap_mm is None:
        return f"{line}."
    if row.gap_max_mm is not None and row.gap_max_mm - row.gap_mm > 0.01:
        line += f", gaps {format_floor(row.gap_mm)} to {format_floor(row.gap_max_mm)}."
    else:
        line += f", gap {format_floor(row.gap_mm)} each."
    leaves = [f"{count} would leave {format_floor(gap)}" for count, gap in sorted(neighbours.items()) if gap > 0]
    return f"{line} {', '.join(leaves)}." if leaves else line


def finding_lines(findings: Iterable[Finding]) -> list[str]:
    """Return a line a finding, those that say the same told once with how often."""
    counted: dict[str, int] = {}
    for finding in findings:
        line = finding_line(finding)
        counted[line] = counted.get(line, 0) + 1
    return [f"{line} (x{times})" if times > 1 else line for line, times in counted.items()]


def finding_line(finding: Finding) -> str:
    """Return a finding in one line: "  warning, narrow-slot: ..."."""
    return f"  {finding.severity}, {finding.code}: {finding.say}"


def run_lines(run: Made) -> list[str]:
    """Return what is said about the whole run."""
    presets = dict.fromkeys(piece.preset.name for piece in run.pieces)
    lines = [f"Limits of {', '.join(presets)}."]
    if run.pictures:
        lines.append(f"Pictures: {', '.join(run.pictures)}")
    return [f"In {run.out}", *lines, CAUTION]
