"""The report of a run, report.md: what was made, its measures in mm and inches, what was found, what to mind."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from frameforge.job.closing import CAUTION, finding_lines, row_line
from frameforge.job.made import MadePiece
from frameforge.units import format_both, format_size

__all__ = ["report_text"]

_LASER: Final = "A laser sets card alight: never leave it alone, and have the extraction on."


def report_text(title: str, pieces: Sequence[MadePiece], notes: Sequence[str] = ()) -> str:
    """Return the report as Markdown text; same pieces, same text."""
    lines = [f"# {title}", ""]
    lines += [f"- {note}" for note in notes] + ([""] if notes else [])
    for piece in pieces:
        lines += _piece(piece)
    lines += ["## Before you cut", "", f"- {CAUTION}", f"- {_LASER}"]
    lines.append("- Cut one piece first and measure it.")
    return "\n".join([*lines, ""])


def _piece(made: MadePiece) -> list[str]:
    """Return the section of one piece."""
    size = format_size(made.piece.size.width_mm, made.piece.size.height_mm)
    lines = [f"## {made.name}", ""]
    lines.append(f"- This piece must measure {_exact(made.box.width_mm)} across and {_exact(made.box.height_mm)} high.")
    lines.append(f"- Outside: {format_size(made.box.width_mm, made.box.height_mm)}. Base: {size}.")
    if made.card:
        lines.append(f"- Card: {made.card}.")
    if made.copies > 1:
        lines.append(f"- Copies: {made.copies}.")
    known = made.neighbours or ({},) * len(made.piece.rows)
    lines += [f"- {row_line(row, size, near)}" for row, near in zip(made.piece.rows, known, strict=True)]
    lines.append(
        f"- Length of all cuts: {format_both(made.cut_length_mm)}. Inside cuts: {len(made.piece.region.holes)}."
    )
    lines.append(f"- Area of card: {made.area_mm2:.0f} mm2.")
    lines.append(f"- Limits of {made.preset.name}: {_limits(made)}.")
    lines.append(f"- Files: {', '.join(made.files.values())}")
    lines += ["", *(["What was found:", ""] if made.findings else [])]
    lines += [f"- {line.strip()}" for line in finding_lines(made.findings)]
    return [*lines, ""] if made.findings else lines


def _exact(mm: float) -> str:
    """Return a length to a hundredth, for a calliper."""
    return f"{mm:.2f} mm"


def _limits(made: MadePiece) -> str:
    """Return what the preset asks of card, the values that findings are measured against."""
    preset = made.preset
    neck, slot, hole = preset.least_neck_mm, preset.least_slot_mm, preset.least_hole_mm
    return f"neck {neck:g} mm, slot {slot:g} mm, hole {hole:g} mm"
