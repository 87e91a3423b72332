"""One run of ``nest``: cut files of any make laid on sheets, and the sheets written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from frameforge import __version__
from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.closing import caution_lines
from frameforge.job.laid_sheet import SheetsMade
from frameforge.job.laying import Telling, laid_out
from frameforge.job.make_sheets import search_of, sheet_namer
from frameforge.job.nest_file import OfAllFiles, parts_of_file, split_copies
from frameforge.job.part import Part
from frameforge.job.presets import find_preset
from frameforge.job.sheet_files import sheet_files
from frameforge.job.sheet_terms import SheetTerms, groups_of, terms_of
from frameforge.job.sheet_words import sheet_lines, sheet_tables
from frameforge.job.stoppable import Stoppable, never_stopped
from frameforge.job.used_sheet import read_used_sheet
from frameforge.recipe.model import CardTable, FilesTable, SheetsTable
from frameforge.recipe.option_table import checked_options
from frameforge.units import is_in_inches, parse_length_mm
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.report import Report, report_text

__all__ = ["NestOrder", "Nested", "nest"]

_NO_FILE: Final = "no file named. Name the cut files to lay, for example: frameforge nest badge.svg:24 --sheet A4"
_SHEET_KEYS: Final = ("sheet", "margin", "apart", "turn", "seed", "tries", "used", "price", "stack")
_FILE_KEYS: Final = ("formats", "dxf", "dxf_unit", "one_path")
_REPORT: Final = "report.md"


@dataclass(frozen=True, slots=True)
class NestOrder:
    """What was asked for: files with their copies as typed, options by key, and how the run treats other files."""

    files: Sequence[str]
    options: Mapping[str, Any]
    out: Path
    replaces_foreign: bool = False
    stoppable: Stoppable = never_stopped


@dataclass(frozen=True, slots=True)
class Nested:
    """A whole run: where it wrote, the sheets, and notes for the maker."""

    out: Path
    sheets: SheetsMade
    report: str
    notes: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        sheets = [sheet.as_json() for sheet in self.sheets.sheets]
        return {
            "out": str(self.out),
            "sheets": sheets,
            "left_over": [],
            "off_cuts": [cut for sheet in sheets for cut in sheet["off_cuts"]],
            "sheets_at_least": self.sheets.sheets_at_least,
            "card_used": self.sheets.card_used,
            "cut_s": self.sheets.cut_s,
            "cost": self.sheets.cost,
            "interrupted": self.sheets.is_interrupted,
            "files": list(self.sheets.others),
            "report": self.report,
            "notes": [*self.notes, *self.sheets.notes],
        }

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        presets = dict.fromkeys(part.preset for part in self.sheets.parts)
        names = ", ".join(dict.fromkeys(preset.name for preset in presets))
        files = ", ".join((*self.sheets.told_files, self.report))
        return [
            *(f"note: {note}" for note in self.notes),
            *sheet_lines(self.sheets),
            f"Speed of {names}. Files in {self.out}: {files}.",
            *caution_lines((part.preset, part.kerf_mm) for part in self.sheets.parts),
        ]


def nest(order: NestOrder, tell: Telling) -> Nested:
    """Return the files of an order laid on sheets; every file of a sheet is written, or none is.

    Raises InputError and FileError with a line for each file that cannot be read, LeftOverError for pieces that no
    sheet takes; then nothing is written.
    """
    if not order.files:
        raise InputError(_NO_FILE, where="nest", code="no-file")
    found = checked_options({"sheets": _SHEET_KEYS, "files": _FILE_KEYS}, order.options, "nest")
    if order.options.get("one_file"):
        found["split_kinds"] = False
    sheets = SheetsTable(**{key: value for key, value in found.items() if key in _SHEET_KEYS})
    files = FilesTable(**{key: value for key, value in found.items() if key not in _SHEET_KEYS})
    parts, notes = _parts(order)
    terms = _terms(sheets, order)
    groups = groups_of(parts, lambda card: terms, lambda card: "nest, --margin")
    laid = laid_out(groups, search_of(sheets), tell, order.stoppable, sheet_namer(()))
    return _written(laid, files, order, notes)


def _parts(order: NestOrder) -> tuple[list[Part], list[str]]:
    """Return the pieces of all files and what is to be told of them. Raises what was refused, of all files at once."""
    options = order.options
    preset = find_preset(options["preset"]).preset if options.get("preset") else None
    width_mm = None if options.get("width") is None else _width(options["width"])
    of_all = OfAllFiles(options.get("card"), preset, width_mm)
    parts: list[Part] = []
    notes: list[str] = []
    faults: list[FrameforgeError] = []
    for word in order.files:
        try:
            path, copies = split_copies(word)
            taken = {part.name for part in parts}
            file = parts_of_file(path, copies, of_all, taken)
        except FrameforgeError as fault:
            faults.append(fault)
            continue
        parts += file.parts
        notes += file.notes
    if faults:
        raise type(faults[0]).from_many(faults)
    return parts, list(dict.fromkeys(notes))


def _width(text: str) -> float:
    """Return the width said for files without a size."""
    try:
        return parse_length_mm(text)
    except InputError as fault:
        raise InputError(fault.say, where=f'nest, --width "{text}"', code=fault.code) from fault


def _terms(sheets: SheetsTable, order: NestOrder) -> SheetTerms:
    """Return what holds on every sheet."""
    used = tuple(read_used_sheet(Path(name), where="nest, --used") for name in sheets.used)
    return terms_of(sheets, CardTable(), _default_size(order.options), used)


def _default_size(options: Mapping[str, Any]) -> SheetSize:
    """Return the sheet taken where none is named: 12 x 12 in where lengths were typed in inches, else A4."""
    typed = [options.get(key) for key in ("width", "margin", "apart")]
    return parse_sheet("12x12in") if any(isinstance(t, str) and is_in_inches(t) for t in typed) else A4


def _written(laid: SheetsMade, files: FilesTable, order: NestOrder, notes: Sequence[str]) -> Nested:
    """Return the run after its files were put into the folder, run.json last."""
    made, batches = sheet_files(laid, files, "sheet-plan")
    report = Report((), None, tuple(notes), files.dxf == "r12", sheet_tables(made))
    told = OutFile(_REPORT, report_text(report).encode("utf-8"))
    batches = (*batches, PieceFiles(_REPORT, (told,)))
    folder = OutFolder.open(order.out, force=order.replaces_foreign)
    folder.claim(file.name for batch in batches for file in batch.files)
    folder.finish([folder.put(batch) for batch in batches], {"frameforge": __version__})
    return Nested(order.out.resolve(), made, _REPORT, tuple(notes))
