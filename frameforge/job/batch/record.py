"""What is known of a row once it is made, as plain values that go to a file and come back bit by bit."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.geometry.region import Region
from frameforge.job.closing import finding_lines
from frameforge.job.made import MadePiece
from frameforge.job.output import cut_piece
from frameforge.job.part import Part
from frameforge.job.report import report_of
from frameforge.recipe.exact_curves import read_regions, read_run, region_words, run_words
from frameforge.write.page import CutPiece
from frameforge.write.report import ReportPiece, ReportRow, ReportTable

__all__ = ["PieceRecord", "RowRecord", "piece_record", "record_from", "record_line", "sharing"]


@dataclass(frozen=True, slots=True)
class PieceRecord:
    """One piece of card of a row. ``said`` is its JSON, ``cut`` its lines, ``report`` its part of the report.

    ``files`` are names with the SHA-256 of their content.
    """

    said: Mapping[str, Any]
    cut: CutPiece
    report: ReportPiece
    notes: tuple[str, ...]
    area_mm2: float
    lead_in_mm: float
    preset: Preset
    files: Mapping[str, str]
    outline: Region
    can_be_mended: bool = False

    @property
    def name(self) -> str:
        """Name of the piece and of its files."""
        return self.report.name

    def part(self) -> Part:
        """Return the piece as it is laid on sheets."""
        report = self.report
        return Part(
            name=report.name,
            cut=self.cut,
            copies=report.copies,
            preset=self.preset,
            area_mm2=self.area_mm2,
            cut_length_mm=report.cut_length_mm,
            lifts=report.lifts or 0,
            card=report.card,
            lead_in_mm=self.lead_in_mm,
        )

    def finding_lines(self) -> list[str]:
        """Return a line for each kind of finding."""
        return finding_lines(self.report.findings)


@dataclass(frozen=True, slots=True)
class RowRecord:
    """One row made: the key of all that went into it, and its pieces."""

    key: str
    pieces: tuple[PieceRecord, ...] = field(default=())


def sharing(record: RowRecord, known: dict[Region, Region]) -> RowRecord:
    """Return a record whose cards are those of ``known`` where they are equal, and there from now on: most rows of a
    class differ in their words alone, and the cards of hundreds would be kept hundreds of times."""
    pieces = []
    for piece in record.pieces:
        outline = known.setdefault(piece.outline, piece.outline)
        region = known.setdefault(piece.cut.region, piece.cut.region)
        pieces.append(dataclasses.replace(piece, outline=outline, cut=dataclasses.replace(piece.cut, region=region)))
    return RowRecord(record.key, tuple(pieces))


def piece_record(made: MadePiece, digests: Mapping[str, str]) -> PieceRecord:
    """Return what is kept of a piece; ``digests`` are those of its files by name."""
    report = report_of([made], is_dxf_without_unit=False)
    return PieceRecord(
        said=made.as_json(),
        cut=cut_piece(made),
        report=report.pieces[0],
        notes=report.notes,
        area_mm2=made.area_mm2,
        lead_in_mm=made.lead_in_mm,
        preset=made.preset,
        files=dict(digests),
        outline=made.piece.region,
        can_be_mended=made.can_be_mended,
    )


def record_line(record: RowRecord) -> str:
    """Return a record as one line of JSON."""
    table = {"key": record.key, "pieces": [_piece_json(piece) for piece in record.pieces]}
    return json.dumps(table, ensure_ascii=False, separators=(",", ":"))


def record_from(table: Mapping[str, Any]) -> RowRecord:
    """Return the record of such a table. Raises ValueError, KeyError, TypeError or IndexError when it is none."""
    return RowRecord(str(table["key"]), tuple(_piece_from(piece) for piece in table["pieces"]))


def _piece_json(piece: PieceRecord) -> dict[str, Any]:
    cut = piece.cut
    return {
        "said": piece.said,
        "cut": {
            "name": cut.name,
            "region": region_words(cut.region),
            "creases": [run_words(run) for run in cut.creases],
            "marks": [run_words(run) for run in cut.marks],
            "machine": None if cut.machine_cuts is None else [run_words(run) for run in cut.machine_cuts],
        },
        "report": dataclasses.asdict(piece.report),
        "notes": list(piece.notes),
        "area_mm2": piece.area_mm2,
        "lead_in_mm": piece.lead_in_mm,
        "preset": dataclasses.asdict(piece.preset),
        "files": dict(piece.files),
        "outline": None if piece.outline is cut.region else region_words(piece.outline),
        "can_be_mended": piece.can_be_mended,
    }


def _piece_from(table: Mapping[str, Any]) -> PieceRecord:
    kept = table["cut"]
    (region,) = read_regions([kept["region"]])
    cut = CutPiece(
        kept["name"],
        region,
        tuple(read_run(text) for text in kept["creases"]),
        tuple(read_run(text) for text in kept["marks"]),
        None if kept["machine"] is None else tuple(read_run(text) for text in kept["machine"]),
    )
    return PieceRecord(
        said=table["said"],
        cut=cut,
        report=_report_from(table["report"]),
        notes=tuple(table["notes"]),
        area_mm2=table["area_mm2"],
        lead_in_mm=table["lead_in_mm"],
        preset=Preset(**table["preset"]),
        files=table["files"],
        outline=region if table["outline"] is None else read_regions([table["outline"]])[0],
        can_be_mended=table["can_be_mended"],
    )


def _report_from(table: Mapping[str, Any]) -> ReportPiece:
    """Return the part of a report from plain values, lists made tuples again."""
    values: dict[str, Any] = {
        key: tuple(value) if isinstance(value, (list, tuple)) else value for key, value in table.items()
    }
    values["rows"] = tuple(ReportRow(**row) for row in table["rows"])
    values["findings"] = tuple(Finding(**finding) for finding in table["findings"])
    values["tables"] = tuple(
        ReportTable(one["title"], tuple(tuple(row) for row in one["rows"]), tuple(one["notes"]))
        for one in table["tables"]
    )
    return ReportPiece(**values)
