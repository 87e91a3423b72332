"""The closing lines of a run: what was made, how large it is, what the gaps came to, what to mind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Final

from frameforge.card.preset import Preset
from frameforge.finding import Finding, grouped, more_kinds
from frameforge.frame.piece import RowResult
from frameforge.frame.wording import clock_words, plural
from frameforge.units import format_floor

__all__ = ["MOST_TOLD", "caution_lines", "finding_lines", "row_line"]

_KNIFE: Final = "Sharp blade: fingers clear, machine off when you change it. Your machine's manual comes first."
_LASER: Final = (
    "Laser: fumes led outside, never left alone while it runs, something at hand to put a fire out.",
    "Never PVC, vinyl, or card with an unknown coat. The machine's manual and the rules of the place come first.",
)

MOST_TOLD: Final = 4
"""Kinds of place told for one code; on an oval every gap is of another width."""


def caution_lines(limits: Iterable[tuple[Preset, float]]) -> list[str]:
    """Return what to mind with the machines of a run, by the preset of each piece and the kerf it was given (mm).

    A beam takes card away and a blade does not: a kerf means a laser, as does a preset that is called so.
    """
    lasers = {kerf_mm > 0 or preset.kerf_mm > 0 or "laser" in preset.name.casefold() for preset, kerf_mm in limits}
    return [*([_KNIFE] if False in lasers or not lasers else []), *(_LASER if True in lasers else ())]


def row_line(row: RowResult, edge: str, neighbours: Mapping[int, float]) -> str:
    """Return the sentence of a row: "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm."."""
    motif = row.motif_name if "+" not in row.motif_name else "motif"
    line = f"{row.count} {plural(motif, row.count)} {edge}{_gap(row)}.{_filler(row)}"
    leaves = [f"{count} would leave {format_floor(gap)}" for count, gap in sorted(neighbours.items()) if gap > 0]
    return f"{line} {', '.join(leaves)}." if leaves else line


def _filler(row: RowResult) -> str:
    """Return what stands at the seam of a row, where something does."""
    if row.filler is None or row.seam_gap_mm is None:
        return ""
    filler = row.filler
    left = f"{format_floor(row.seam_gap_mm)} left {clock_words(filler.start_deg)}"
    return f" 1 {plural(filler.motif_name, 1)} at scale {filler.scale:.2f} fills the {left}."


def _gap(row: RowResult) -> str:
    """Return what stands between the repeats of a row."""
    if row.gap_mm is None:
        return ""
    least = format_floor(max(row.gap_mm, 0.0))
    most = least if row.gap_max_mm is None else format_floor(max(row.gap_max_mm, 0.0))
    if row.is_of_teeth:
        told = least if most == least else f"{least.removesuffix(' mm')} to {most}"
        return f", teeth of card between them {told} wide"
    if most != least:
        return f", gaps {least.removesuffix(' mm')} to {most}"
    return f", gap {least} each" if least != "0 mm" else ", touching"


def finding_lines(findings: Iterable[Finding], *, rest: str = "in the report") -> list[str]:
    """Return a line for each kind of finding, equal ones once, under the number they carry on the picture.

    Of one code only the least few are told; ``rest`` says where all of them stand.
    """
    lines: list[str] = []
    told: Counter[tuple[str, str]] = Counter()
    groups = grouped(findings)
    of_code = Counter((group.first.severity, group.first.code) for group in groups)
    for group in groups:
        kind = (group.first.severity, group.first.code)
        told[kind] += 1
        if told[kind] <= MOST_TOLD:
            lines.append(f"  {', '.join(word for word in (group.label, *kind) if word)}: {group.sentence}")
        elif told[kind] == of_code[kind]:
            more = more_kinds(of_code[kind] - MOST_TOLD)
            lines.append(f"  {', '.join(kind)}: {more}, {rest}.")
    return lines
