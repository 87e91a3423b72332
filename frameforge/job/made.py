"""What one run of ``make`` came to: pieces with their files, as values and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.frame.piece import Piece, RowResult
from frameforge.geometry.box import Box
from frameforge.geometry.measure import length_mm
from frameforge.geometry.region import Region
from frameforge.job.closing import caution_lines, finding_lines, row_line
from frameforge.job.findings import finding_json
from frameforge.job.hanging import holes_json
from frameforge.job.mending import MendedPlace, can_be_mended, mended_json, mended_lines
from frameforge.job.seats import SeatsTold
from frameforge.job.set_told import SetTold
from frameforge.machine.estimate import cut_seconds
from frameforge.units import format_mm, format_seconds, format_size
from frameforge.write.report import measure_line

if TYPE_CHECKING:
    from frameforge.job.folded import FoldTold
    from frameforge.job.laid_sheet import SheetsMade
    from frameforge.job.lid_words import LidTold
    from frameforge.machine.cut_line import Run
    from frameforge.machine.plan import Plan
    from frameforge.sets.bond import Bond

__all__ = ["Made", "MadePiece", "row_json"]


@dataclass(frozen=True, slots=True)
class MadePiece:
    """One piece as it was made. Lengths in mm; ``files`` are paths relative to the folder of the run, by kind.

    For each row, ``edges`` names the edge it runs along, and ``neighbours`` holds the gaps that one repeat less and
    one more would leave, where that is known. ``plan`` holds the lines that cut it where they are not its bare
    outlines, and ``machine`` what is said of them; sizes stay those of the piece wanted. ``marks`` are lines to be
    marked and not cut, ``words`` a line for each text on it, and ``how_to`` says what to do with the piece. ``seats``
    are its bent rows beside the same ones as drawn. ``mends`` are the findings that were to be mended, ``mended`` what
    was changed for it, ``unmended`` the card as it was before.
    ``creases`` are lines to be creased, ``fold`` tells of a tent card, ``lid`` of a box lid. ``kept_as`` is the piece
    that this one goes with, and is made again with.
    ``origin`` is the table of the recipe that asked for it, and its number from 0; one table may ask for several.
    ``bond`` holds the cards of a set that is cut out of one bit of card, with every line once; ``piece.region`` is then
    that bit before the cards are parted. ``sets`` tell of the cards that belong together, of which this is one or all.
    ``stack`` are the cards of a stack with their colours, the lowest first. ``is_flipped``: it is cut from its back,
    and its cut files hold its mirror image; all else here is as its face shows it.
    """

    piece: Piece
    card: str | None
    copies: int
    preset: Preset
    files: Mapping[str, str]
    box: Box
    area_mm2: float
    cut_length_mm: float
    edges: tuple[str, ...]
    neighbours: tuple[Mapping[int, float], ...]
    plan: Plan | None = None
    marks: tuple[Run, ...] = ()
    words: tuple[str, ...] = ()
    how_to: tuple[str, ...] = ()
    machine: tuple[str, ...] = ()
    kerf_mm: float = 0.0
    seats: tuple[SeatsTold, ...] = ()
    mends: tuple[str, ...] = ()
    mended: tuple[MendedPlace, ...] = ()
    origin: tuple[str, int] = ("piece", 0)
    lead_in_mm: float = 0.0
    creases: tuple[Run, ...] = ()
    fold: FoldTold | None = None
    lid: LidTold | None = None
    kept_as: str | None = None
    bond: Bond | None = None
    sets: tuple[SetTold, ...] = ()
    stack: tuple[tuple[Region, str | None], ...] = ()
    is_flipped: bool = False
    unmended: tuple[Region, ...] = ()

    @property
    def name(self) -> str:
        """Name of the piece and of its files."""
        return self.piece.name

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found in the piece."""
        return self.piece.findings

    @property
    def regions(self) -> tuple[Region, ...]:
        """The cards that come of it: one, or all of a set."""
        return self.bond.parts if self.bond else (self.piece.region,)

    @property
    def lines_cut(self) -> tuple[Run, ...]:
        """The lines that cut it, each once, in cutting order."""
        if self.plan is not None:
            return self.plan.runs
        region = self.piece.region
        outlines = self.bond.lines if self.bond else (*region.holes, region.outer)
        return tuple(outline.segments for outline in outlines)

    @property
    def lifts(self) -> int:
        """How often the blade or the beam is lifted: once for each line cut in one go."""
        return len(self.lines_cut)

    @property
    def cut_s(self) -> float:
        """How long cutting takes, in seconds."""
        return cut_seconds(self.cut_length_mm, self.lifts, self.preset)

    def lines(self) -> list[str]:
        """Return what is said of the piece: size, files, gaps, findings."""
        across = format_size(self.box.width_mm, self.box.height_mm)
        copies = f" Cut it {self.copies} times." if self.copies > 1 else ""
        card = f", {self.card}" if self.card else ""
        lines = [f"{self.name}{card}: {across} across.{copies}", *(f"  {line}" for line in self.row_lines())]
        lines += [f"  {line}" for told in self.sets for line in told.lines()]
        lines.append(f"  Cut, {measure_line(self.box.width_mm, self.box.height_mm)}.")
        lines.append(f"  {self._work()}.")
        if self.marks:
            lines.append(f"  {self._marking()}")
        lines += [f"  {note[0].upper()}{note[1:]}" for note in self.piece.notes]
        lines += [f"  {line}" for line in (*self.machine, *mended_lines(self.mended))]
        if self.mends and not self.mended:
            lines.append("  nothing had to be mended.")
        return [*lines, *finding_lines(self.findings)]

    @property
    def can_be_mended(self) -> bool:
        """Whether something was found that could be mended and was not asked to be."""
        return self.bond is None and self.kept_as is None and can_be_mended(self.findings, self.mends)

    def _work(self) -> str:
        """Return what there is to do: "26 bits to pick out, 352.7 mm to cut in 27 lifts, about 31 s"."""
        bits, lifts = len(self.piece.region.holes), self.lifts
        picked = "Nothing to pick out" if not bits else f"{bits} bit{'s' if bits > 1 else ''} to pick out"
        goes = f"{lifts} lift{'s' if lifts > 1 else ''}"
        return f"{picked}, {format_mm(self.cut_length_mm)} to cut in {goes}, about {format_seconds(self.cut_s)}"

    @property
    def mark_length_mm(self) -> float:
        """How long the lines to be marked are in all."""
        return length_mm(segment for run in self.marks for segment in run)

    def _marking(self) -> str:
        """Return what there is to mark: "62.1 mm to mark in 19 lines, about 13 s more. ..."."""
        count = len(self.marks)
        seconds = cut_seconds(self.mark_length_mm, count, replace(self.preset, passes=1))
        said = f"{format_mm(self.mark_length_mm)} to mark in {count} line{'s' if count > 1 else ''}, about "
        said += f"{format_seconds(seconds)} more: with a pen, or at low force or low power, before you cut."
        if "mark.svg" in self.files:
            said += (
                f" A program that cuts all it sees takes {self.files['mark.svg']} and {self.files['cut.svg']} in turn."
            )
        return said

    @property
    def segments(self) -> int:
        """How many lines, arcs and cubics its outlines have, shared ones counted once."""
        if self.bond is None:
            return self.piece.region.segment_count
        return sum(len(outline.segments) for outline in self.bond.lines)

    def row_lines(self) -> list[str]:
        """Return the sentence of every row, with what the counts next to its own would leave."""
        told = zip(self.piece.rows, self.edges, self.neighbours, strict=True)
        return [row_line(row, edge, near) for row, edge, near in told]

    def as_json(self) -> dict[str, Any]:
        """Return the piece as a table of plain values; None for what is not worked out yet."""
        return {
            "name": self.name,
            "card": self.card,
            "copies": self.copies,
            "files": dict(self.files),
            "width_mm": self.box.width_mm,
            "height_mm": self.box.height_mm,
            "area_mm2": self.area_mm2,
            "cut_length_mm": self.cut_length_mm,
            "kerf_mm": self.kerf_mm,
            "lifts": self.lifts,
            "cut_s": self.cut_s,
            "waste_bits": len(self.piece.region.holes),
            "parts": len(self.regions),
            "inside_cuts": len(self.bond.lines) - 1 if self.bond else len(self.piece.region.holes),
            "segments": self.segments,
            "rows": [row_json(row) for row in self.piece.told_rows],
            "findings": [finding_json(finding) for finding in self.findings],
            "mended": [mended_json(place) for place in self.mended],
            "holes": holes_json(self.piece),
            "creases": len(self.creases),
            "crease_length_mm": length_mm(segment for run in self.creases for segment in run),
            "words": list(self.words),
            "marks": len(self.marks),
            "mark_length_mm": self.mark_length_mm,
            "fold": self.fold.as_json() if self.fold else None,
            "lid": self.lid.as_json() if self.lid else None,
            **{told.key: list(told.values) for told in self.sets},
        }


@dataclass(frozen=True, slots=True)
class Made:
    """A whole run: where it wrote, what, and notes for the maker that belong to no piece."""

    out: Path
    pieces: tuple[MadePiece, ...]
    report: str | None
    others: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    sheets: SheetsMade | None = None

    @property
    def not_made(self) -> tuple[str, ...]:
        """A line for everything that could not be made while the rest was: nothing, all is made or none."""
        return ()

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        return {
            "out": str(self.out),
            "pieces": [piece.as_json() for piece in self.pieces],
            "sheets": [sheet.as_json() for sheet in self.sheets.sheets] if self.sheets else None,
            "report": self.report,
            "findings": [],
        }

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        lines = [*self.notes]
        for piece in self.pieces:
            lines += [*piece.lines(), *piece.how_to]
        lines += _sheet_lines(self.sheets)
        presets = ", ".join(dict.fromkeys(piece.preset.name for piece in self.pieces))
        files = [name for piece in self.pieces for name in piece.files.values()]
        lines += [f"Limits of {presets}. Files in {self.out}:", *_wrapped([*files, *self.others])]
        return [*lines, *caution_lines((piece.preset, piece.kerf_mm) for piece in self.pieces)]


def _sheet_lines(sheets: SheetsMade | None) -> list[str]:
    """Return what is said of the sheets, where there are any."""
    if sheets is None:
        return []
    from frameforge.job.sheet_words import sheet_lines  # here, since most runs lay nothing on sheets

    return sheet_lines(sheets)


def _wrapped(names: Sequence[str]) -> list[str]:
    """Return names in lines of at most 80 signs."""
    return textwrap.wrap(", ".join(names), 78, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False)


def row_json(row: RowResult) -> dict[str, Any]:
    """Return a row as a table of plain values."""
    return {
        "motif": row.motif_name,
        "count": row.count,
        "gap_mm": row.gap_mm,
        "foot_gap_mm": row.foot_gap_mm,
        "gap_max_mm": row.gap_max_mm,
        "pitch_deg": row.pitch_deg,
        "start_deg": row.start_deg,
        "seam_gap_mm": row.seam_gap_mm,
        "scale": row.scale,
        "seat": row.seat,
        "place": row.place,
        "spread": row.spread,
    }
