"""One run of many: rows made by workers, written as they come, failures told at the end, sheets by colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from frameforge.errors import FrameforgeError, InputError
from frameforge.geometry.region import Region
from frameforge.job.batch.contact import CONTACT_SHEET, contact_pdf
from frameforge.job.batch.journal import Journal
from frameforge.job.batch.made import BatchMade, FailedRow, MadeRow
from frameforge.job.batch.record import RowRecord, sharing
from frameforge.job.batch.rows import Batch, batch_of
from frameforge.job.batch.stamp import stamp_of
from frameforge.job.batch.work import Failed, Work, WorkDone, made_row
from frameforge.job.batch.workers import executor_of, in_order
from frameforge.job.laid_sheet import SheetsMade
from frameforge.job.make import MakeOrder, Progress
from frameforge.job.naming import free_name
from frameforge.job.output import versions
from frameforge.job.recipe_file import file_bytes, shown_path
from frameforge.read.names_list import read_names
from frameforge.recipe.recipe import Recipe, check_recipe
from frameforge.recipe.sheets_asked import asks_for_sheets
from frameforge.recipe.slips import slip_lines
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.report import Report, report_text

__all__ = ["BatchOrder", "make_batch"]

_REPORT = "report.md"


@dataclass(frozen=True, slots=True)
class BatchOrder:
    """What was asked for beside the recipe: the list of names, and who does the work."""

    make: MakeOrder
    names: Path
    workers: int = 1
    scheduler: str | None = None


def make_batch(recipe: Recipe, order: BatchOrder, progress: Progress) -> BatchMade:
    """Return what was made: a piece a row and everything else the recipe asks for. A failing row loses no other.

    Raises InputError for a list that cannot be understood, FileError where the folder refuses. What was made before a
    stop stays, and the next run goes on from there.
    """
    listed = shown_path(order.names)
    batch = batch_of(recipe, read_names(file_bytes(order.names), listed), listed)
    out = order.make.out
    folder = OutFolder.open(out, force=order.make.replaces_foreign)
    journal = Journal(out)
    folder = replace(folder, earlier=(*folder.earlier, *journal.listed()))
    folder.claim([_REPORT, CONTACT_SHEET])
    rows, failed = _rows(batch, recipe, order, folder, journal, progress)
    if not rows:
        raise _none(failed)
    sheets = _sheets(recipe, order, rows, progress) if _asks_for_sheets(recipe, rows) else None
    laid, of_sheets = sheets or (None, ())
    made = [folder.put(files) for files in of_sheets]
    contact = OutFile(CONTACT_SHEET, contact_pdf(rows, laid))
    notes = (*slip_lines(recipe), *batch.notes)
    report = OutFile(_REPORT, _report(recipe, rows, failed, notes, laid).encode("utf-8"))
    made += [folder.put(PieceFiles(file.name, (file,))) for file in (contact, report)]
    of_rows = [piece for row in rows for piece in row.listed()]
    folder.finish([*of_rows, *made], versions())
    journal.end()
    return BatchMade(out.resolve(), tuple(rows), tuple(failed), notes, laid, (CONTACT_SHEET, _REPORT))


def _rows(
    batch: Batch, recipe: Recipe, order: BatchOrder, folder: OutFolder, journal: Journal, progress: Progress
) -> tuple[list[MadeRow], list[FailedRow]]:
    """Return all rows made and all that could not be, written as they come; those made before are taken as they are."""
    beside = order.make.recipe.parent if order.make.recipe else Path()
    stamp = stamp_of(recipe.raw, beside, order.make.motifs)
    works = [
        Work(
            task.where, recipe.source.name or "make", task.raw, beside, order.make.motifs, order.make.is_lenient, stamp
        )
        for task in batch.tasks
    ]
    known = [journal.made(work.key) for work in works]
    cards: dict[Region, Region] = {}
    rows: dict[int, MadeRow] = {
        place: MadeRow(batch.tasks[place], sharing(record, cards), is_from_before=True)
        for place, record in enumerate(known)
        if record is not None
    }
    failed: list[FailedRow] = []
    open_places = [place for place, record in enumerate(known) if record is None]
    progress(len(rows), len(works), "")
    with executor_of(order.workers, order.scheduler) as executor:
        waiting = [works[place] for place in open_places]
        for at, done in in_order(executor, made_row, waiting, order.workers):
            place = open_places[at]
            task = batch.tasks[place]
            if isinstance(done, Failed):
                failed.append(FailedRow(task, done.lines, done.exit_code))
            else:
                rows[place] = MadeRow(task, sharing(_put(done, folder, journal), cards))
            progress(len(rows) + len(failed), len(works), task.words or task.name)
    return [rows[place] for place in sorted(rows)], failed


def _put(done: WorkDone, folder: OutFolder, journal: Journal) -> RowRecord:
    """Write one row: its line in the journal first, then its files."""
    folder.claim(file.name for piece in done.files for file in piece.files)
    journal.add(done.line)
    for piece in done.files:
        folder.put(piece)
    return done.record


def _none(failed: Sequence[FailedRow]) -> FrameforgeError:
    """Return the refusal of a run in which nothing could be made."""
    whole = InputError("nothing could be made.", where="make", code="none")
    whole.lines = tuple(line for row in failed for line in row.lines)
    return whole


def _asks_for_sheets(recipe: Recipe, rows: Sequence[MadeRow]) -> bool:
    """Return whether sheets are spoken of, by the recipe or by the cards that rows name."""
    of_card = {row.record.pieces[0].report.card: row.task.raw for row in rows}
    return asks_for_sheets(recipe) or any(asks_for_sheets(check_recipe(raw, recipe.source)) for raw in of_card.values())


def _sheets(
    recipe: Recipe, order: BatchOrder, rows: Sequence[MadeRow], progress: Progress
) -> tuple[SheetsMade, tuple[PieceFiles, ...]]:
    """Return all pieces laid on sheets, and the files of the sheets."""
    from frameforge.job.make_sheets import sheets_of_parts  # here, since not every run lays something on sheets
    from frameforge.job.sheet_files import sheet_files

    beside = order.make.recipe.parent if order.make.recipe else Path()
    parts = [part for row in rows for part in row.parts()]
    made = sheets_of_parts(recipe, parts, beside, progress, order.make.stoppable)
    return sheet_files(made, recipe.tables.files, free_name("sheet-plan", {part.name for part in parts}))


def _report(
    recipe: Recipe, rows: Sequence[MadeRow], failed: Sequence[FailedRow], notes: Sequence[str], laid: SheetsMade | None
) -> str:
    """Return the text of report.md."""
    from frameforge.job.sheet_words import sheet_tables  # here, as above

    pieces = [piece for row in rows for piece in row.record.pieces]
    presets = ", ".join(dict.fromkeys(piece.preset.name for piece in pieces))
    lines = [note for piece in pieces for note in piece.notes]
    lines += [*notes, *(f"Not made: {line}" for row in failed for line in row.lines)]
    return report_text(
        Report(
            tuple(piece.report for piece in pieces),
            presets,
            tuple(lines),
            recipe.tables.files.dxf == "r12",
            sheet_tables(laid) if laid else (),
        )
    )
