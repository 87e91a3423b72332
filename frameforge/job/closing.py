"""The closing lines of a run: what was made, how large it is, what the gaps came to, what to mind."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from frameforge.finding import Finding
from frameforge.frame.piece import RowResult
from frameforge.frame.wording import plural
from frameforge.units import format_floor

__all__ = ["CAUTION", "finding_lines", "row_line"]

CAUTION: Final = "Sharp blade: fingers clear, machine off when you change it. Your machine's manual comes first."


def row_line(row: RowResult, edge: str, neighbours: Mapping[int, float]) -> str:
    """Return the sentence of a row: "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm."."""
    motif = row.motif_name if "+" not in row.motif_name else "motif"
    line = f"{row.count} {plural(motif, row.count)} {edge}{_gap(row)}."
    leaves = [f"{count} would leave {format_floor(gap)}" for count, gap in sorted(neighbours.items()) if gap > 0]
    return f"{line} {', '.join(leaves)}." if leaves else line


def _gap(row: RowResult) -> str:
    """Return what stands between the repeats of a row."""
    if row.gap_mm is None:
        return ""
    least = format_floor(max(row.gap_mm, 0.0))
    most = least if row.gap_max_mm is None else format_floor(max(row.gap_max_mm, 0.0))
    if most != least:
        return f", gaps {least.removesuffix(' mm')} to {most}"
    return f", gap {least} each" if least != "0 mm" else ", touching"


def finding_lines(findings: Iterable[Finding]) -> list[str]:
    """Return a line a finding, those that say the same told once with how often."""
    counted: dict[str, int] = {}
    for finding in findings:
        line = f"  {finding.severity}, {finding.code}: {finding.say}"
        counted[line] = counted.get(line, 0) + 1
    return [f"{line} (x{times})" if times > 1 else line for line, times in counted.items()]
