"""What a run puts into its report, out of what was made."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from frameforge.frame.piece import RowResult
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.job.made import MadePiece
from frameforge.job.mending import mended_rows
from frameforge.write.report import Report, ReportPiece, ReportRow, ReportTable

if TYPE_CHECKING:
    from frameforge.job.laid_sheet import SheetsMade

__all__ = ["report_of"]


def report_of(pieces: Sequence[MadePiece], sheets: SheetsMade | None = None, *, is_dxf_without_unit: bool) -> Report:
    """Return the report of a run with the closing line of every row among its notes, and the sheets it was laid on."""
    presets = ", ".join(dict.fromkeys(piece.preset.name for piece in pieces))
    notes = tuple(f"{piece.name}: {line}" for piece in pieces for line in (*piece.row_lines(), *piece.piece.notes))
    return Report(tuple(_piece(piece) for piece in pieces), presets, notes, is_dxf_without_unit, _sheets(sheets))


def _sheets(sheets: SheetsMade | None) -> tuple[ReportTable, ...]:
    """Return the tables of the sheets, where there are any."""
    if sheets is None:
        return ()
    from frameforge.job.sheet_words import sheet_tables  # here, since most runs lay nothing on sheets

    return sheet_tables(sheets)


def _piece(made: MadePiece) -> ReportPiece:
    """Return the part of one piece."""
    region = made.piece.region
    return ReportPiece(
        name=made.name,
        width_mm=made.box.width_mm,
        height_mm=made.box.height_mm,
        files=tuple(made.files.values()),
        cut_length_mm=made.cut_length_mm,
        lifts=made.lifts,
        cut_s=made.cut_s,
        waste_mm2=tuple(area_mm2(Region(hole.reversed())) for hole in region.holes),
        copies=made.copies,
        kerf_mm=made.kerf_mm,
        machine=made.machine,
        card=made.card,
        rows=tuple(_row(row) for row in made.piece.told_rows),
        words=made.words,
        mark_length_mm=made.mark_length_mm,
        findings=made.findings,
        tables=tuple(_tables(made)),
    )


def _tables(made: MadePiece) -> Iterator[ReportTable]:
    """Yield the tables of a piece."""
    for one in made.sets:
        yield one.table()
    for told in made.seats:
        yield ReportTable(told.title, tuple(told.rows()), told.notes)
    if made.mended:
        yield ReportTable("Mended", mended_rows(made.mended))


def _row(row: RowResult) -> ReportRow:
    """Return the line of one row."""
    return ReportRow(
        motif=row.motif_name,
        count=row.count,
        gap_mm=row.gap_mm,
        foot_gap_mm=row.foot_gap_mm,
        gap_max_mm=row.gap_max_mm,
        scale=row.scale,
        place=row.place,
        seat=row.seat,
        spread=row.spread,
        is_of_teeth=row.is_of_teeth,
    )
