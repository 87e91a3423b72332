"""report.md: what one run made, in words and numbers to lay beside the machine."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from frameforge.finding import Finding, grouped
from frameforge.units import format_both, format_floor, format_mm, format_seconds
from frameforge.write.marker import BLANK_MARKER, marked_text

__all__ = ["CAUTIONS", "Report", "ReportPiece", "ReportRow", "ReportTable", "measure_line", "report_text"]

CAUTIONS: Final = (
    "Your machine's manual and the rules of the place come first.",
    "Sharp blade: fingers clear, machine off when you change it, old blades into a tin.",
    "Laser: lead the fumes outside, stay beside it, keep water at hand. Never PVC or vinyl, never card with an "
    "unknown coat of plastic or foil.",
    "Cut one test piece and measure it before you cut the rest.",
)
"""What stands at the end of every report (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ReportRow:
    """One row of a piece: motif, count, gaps in mm (None where they make no sense), scale, where and how it stands.

    ``is_of_teeth``: its gaps are the widths of the teeth of card between cut-aways.
    """

    motif: str
    count: int
    gap_mm: float | None = None
    foot_gap_mm: float | None = None
    gap_max_mm: float | None = None
    scale: float = 1.0
    place: str = "out"
    seat: str = "as-drawn"
    spread: str | None = None
    is_of_teeth: bool = False


@dataclass(frozen=True, slots=True)
class ReportTable:
    """A table of words: its title, the headings in the first row, and lines below it."""

    title: str
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReportPiece:
    """What the report says of one piece; lengths in mm, areas in mm2, ``cut_s`` in seconds.

    Width and height are those of the outline, before kerf. ``waste_mm2`` are the areas of the bits to pick out.
    None stands for what was not worked out. ``words`` has a line for each text on it, with how it is made.
    """

    name: str
    width_mm: float
    height_mm: float
    files: tuple[str, ...]
    cut_length_mm: float
    waste_mm2: tuple[float, ...] = ()
    copies: int = 1
    card: str | None = None
    kerf_mm: float = 0.0
    machine: tuple[str, ...] = ()
    lifts: int | None = None
    cut_s: float | None = None
    rows: tuple[ReportRow, ...] = ()
    words: tuple[str, ...] = ()
    mark_length_mm: float = 0.0
    findings: tuple[Finding, ...] = ()
    tables: tuple[ReportTable, ...] = ()


@dataclass(frozen=True, slots=True)
class Report:
    """One run: its pieces, the preset of card and machine, lines to add, whether the DXF carries no unit, and tables
    of the whole run, such as its sheets."""

    pieces: tuple[ReportPiece, ...]
    preset: str | None = None
    notes: tuple[str, ...] = ()
    is_dxf_without_unit: bool = False
    tables: tuple[ReportTable, ...] = ()


def report_text(report: Report) -> str:
    """Return the report as Markdown, our marker on its last line. It holds no time: same run, same text."""
    lines = ["# Report", ""]
    if report.preset:
        lines += [f"Limits of card and machine: {_plain(report.preset)}.", ""]
    for piece in report.pieces:
        lines += [*_piece_lines(piece), ""]
    for table in report.tables:
        head, *rest = _table_lines(table)
        lines += [f"## {head.removesuffix(':')}", *rest]
    if report.is_dxf_without_unit:
        lines += ["The DXF is R12 and carries no unit: where your program asks, say millimetres.", ""]
    lines += [f"{_plain(note)}\n" for note in report.notes]
    lines += ["## Before you cut", "", *(f"- {caution}" for caution in CAUTIONS), "", f"<!-- {BLANK_MARKER} -->", ""]
    return marked_text("\n".join(lines))


def measure_line(width_mm: float, height_mm: float) -> str:
    """Return the sentence by which a cut piece is checked: "this piece must measure 107.87 mm across"."""
    width, height = _hundredths(width_mm), _hundredths(height_mm)
    return f"this piece must measure {width} mm across" + ("" if width == height else f" and {height} mm high")


def _piece_lines(piece: ReportPiece) -> Iterator[str]:
    """Yield the lines of one piece."""
    yield f"## {_plain(piece.name)}"
    yield ""
    said = measure_line(piece.width_mm, piece.height_mm)
    yield f"{said[0].upper()}{said[1:]}."
    yield ""
    yield f"- Size: {_size(piece)}"
    if piece.card:
        yield f"- Card: {_plain(piece.card)}, {piece.copies} to cut"
    for row in piece.rows:
        yield f"- {_row(row)}"
    for text in piece.words:
        yield f"- Words: {_plain(text)}"
    yield f"- Cut length: {format_mm(piece.cut_length_mm)}{_work(piece)}"
    if piece.mark_length_mm:
        yield f"- To mark: {format_mm(piece.mark_length_mm)}"
    yield f"- Bits to pick out: {_bits(piece.waste_mm2)}"
    if piece.machine:
        yield f"- {' '.join(_plain(line) for line in piece.machine)}"
    yield f"- Files: {', '.join(_plain(name) for name in piece.files)}"
    yield ""
    for table in piece.tables:
        yield from _table_lines(table)
    if not piece.findings:
        yield "No findings."
        return
    yield "| no. | finding | where | what it is |"
    yield "|---|---|---|---|"
    for group in grouped(piece.findings):
        first = group.first
        yield f"| {group.label} | {first.code} ({first.severity}) | {_plain(group.where)} | {_plain(first.say)} |"


def _table_lines(table: ReportTable) -> Iterator[str]:
    """Yield the lines of a table."""
    yield f"{_plain(table.title)}:"
    yield ""
    head, *body = table.rows
    yield f"| {' | '.join(map(_plain, head))} |"
    yield f"|{'|'.join('---' for _ in head)}|"
    for row in body:
        yield f"| {' | '.join(map(_plain, row))} |"
    yield ""
    for note in table.notes:
        yield f"{_plain(note)}\n"


def _size(piece: ReportPiece) -> str:
    """Return the outer size in mm and inches."""
    if _hundredths(piece.width_mm) == _hundredths(piece.height_mm):
        return f"{format_both(piece.width_mm)} across"
    return f"{format_both(piece.width_mm)} across, {format_both(piece.height_mm)} high"


def _row(row: ReportRow) -> str:
    """Return the line of one row."""
    words = [f"{row.count} x {_plain(row.motif)}, {row.place}, {row.seat}"]
    if row.scale != 1:
        words.append(f"scale {row.scale:.4g}")
    if row.gap_mm is not None:
        most = row.gap_max_mm
        is_even = most is None or format_floor(most) == format_floor(row.gap_mm)
        what = "teeth" if row.is_of_teeth else "gap"
        up_to = "" if is_even or most is None else f" to {format_floor(most)}"
        words.append(f"{what} {format_floor(row.gap_mm)}{up_to}")
    if row.foot_gap_mm is not None:
        words.append(f"gap between feet {format_floor(row.foot_gap_mm)}")
    if row.spread:
        words.append(f"spread {row.spread}")
    return ", ".join(words)


def _work(piece: ReportPiece) -> str:
    """Return lifts and time, where they are known."""
    words = f", {piece.lifts} lift{'s' if piece.lifts != 1 else ''}" if piece.lifts is not None else ""
    if piece.cut_s is not None:
        words += f", about {format_seconds(piece.cut_s)}"
    return words


def _bits(waste_mm2: tuple[float, ...]) -> str:
    """Return how many bits of waste lie inside the piece, and the smallest."""
    if not waste_mm2:
        return "none"
    return f"{len(waste_mm2)}, the smallest {min(waste_mm2):.1f} mm2"


def _hundredths(mm: float) -> str:
    """Return a length to a hundredth of a millimetre, without trailing zeros."""
    return f"{mm:.2f}".rstrip("0").rstrip(".")


def _plain(text: str) -> str:
    """Return the text on one line, with the signs that mean something in Markdown taken literally."""
    return re.sub(r"([\\`*_<>\[\]|#~])", r"\\\1", " ".join(text.split()))
