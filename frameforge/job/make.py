"""One run of ``make``: recipe or options to pieces, to checked files, to a report."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.finding import Finding
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.job.checked import findings_of, refuse_refused
from frameforge.job.edge_words import edge_words
from frameforge.job.findings import FindingsError
from frameforge.job.machine import allowances_of, machine_lines, machine_plan
from frameforge.job.made import Made, MadePiece
from frameforge.job.mending import Mending
from frameforge.job.motif_notes import motif_notes
from frameforge.job.motif_source import MotifSource
from frameforge.job.naming import default_name, free_name
from frameforge.job.neighbours import neighbour_gaps
from frameforge.job.output import Extra, kinds_of, piece_files, write_run
from frameforge.job.presets import preset_of
from frameforge.job.recipe_file import recipe_of
from frameforge.job.rests import settle_rests
from frameforge.job.seats import seats_of
from frameforge.job.stoppable import Stoppable, never_stopped
from frameforge.job.told import told_apart
from frameforge.job.touching import made_whole
from frameforge.job.trial import TRIAL_NAME, trial_lines, trial_made
from frameforge.motif.motif import Motif
from frameforge.recipe.keep import kept_text
from frameforge.recipe.recipe import Recipe
from frameforge.recipe.row_fields import Entry
from frameforge.recipe.sheets_asked import asks_for_sheets
from frameforge.recipe.slips import slip_lines
from frameforge.recipe.to_spec import entry_motif, row_at, to_spec

if TYPE_CHECKING:
    from frameforge.job.laid_sheet import SheetsMade
    from frameforge.write.out_folder import PieceFiles

__all__ = ["Extras", "MakeOrder", "Progress", "built", "kept_of", "make", "make_recipe", "no_extras"]

Progress = Callable[[int, int, str], None]
"""Called with (pieces done, pieces in all, name of the next one)."""

Extras = Callable[[Sequence[MadePiece]], Sequence[Extra]]
"""Gives the files that show all pieces of a run together."""


_FLIPPED = "Flipped: lay the card face down; the cut files are the mirror image of what the picture shows."


def no_extras(pieces: Sequence[MadePiece]) -> Sequence[Extra]:
    """Return no further files: those of the pieces are enough."""
    return ()


@dataclass(frozen=True, slots=True)
class MakeOrder:
    """What was asked for: a recipe file or None, options over it by key, and how the run treats files and warnings."""

    recipe: Path | None
    options: Mapping[str, Any]
    out: Path
    motifs: Path | None = None
    is_lenient: bool = False
    replaces_foreign: bool = False
    refuses_warnings: bool = False
    stoppable: Stoppable = never_stopped


def make(order: MakeOrder, progress: Progress) -> Made:
    """Return what was made; every file is written, or none is.

    Raises InputError, GeometryError, FileError with a line a fault; FindingsError when warnings are refused.
    """
    return make_recipe(recipe_of(order.recipe, order.options), order, progress)


def make_recipe(recipe: Recipe, order: MakeOrder, progress: Progress, extras: Extras = no_extras) -> Made:
    """Return what a checked recipe came to, as ``make`` does; ``extras`` adds files that show all pieces together.

    Raises as ``make`` does, FindingsError among them.
    """
    source = MotifSource(order.recipe.parent if order.recipe else Path(), order.motifs, order.is_lenient)
    slips = slip_lines(recipe)
    try:
        pieces = built(recipe, source, progress)
    except FrameforgeError as fault:
        fault.lines += slips
        raise
    if order.refuses_warnings:
        _refuse_warnings(pieces)
    kept = [kept_of(recipe, made, source) for made in pieces]
    sheets = _sheets(recipe, pieces, kept, source, order, progress) if asks_for_sheets(recipe) else None
    files = [piece_files(made, text, recipe.tables.files) for made, text in zip(pieces, kept, strict=True)]
    found = list(zip(pieces, files, strict=True))
    is_r12 = recipe.tables.files.dxf == "r12"
    others = (*extras(pieces), *_hand_outs(recipe, pieces))
    made = write_run(order.out, found, others, sheets, force=order.replaces_foreign, is_dxf_without_unit=is_r12)
    return replace(made, notes=slips)


def _hand_outs(recipe: Recipe, pieces: list[MadePiece]) -> tuple[Extra, ...]:
    """Return the file of the hand-outs where they are asked for."""
    if not recipe.tables.files.hand_out:
        return ()
    from frameforge.job.hand_out import HAND_OUT, hand_out_pdf  # here, since few runs print one

    return (Extra(HAND_OUT, hand_out_pdf(pieces)),)


def _sheets(
    recipe: Recipe, pieces: list[MadePiece], kept: list[str], source: MotifSource, order: MakeOrder, progress: Progress
) -> tuple[SheetsMade, tuple[PieceFiles, ...]]:
    """Return all pieces laid on sheets, and the files of the sheets, which keep the recipe of all that was made."""
    from frameforge.job.make_sheets import sheets_of  # here, since most runs lay nothing on sheets
    from frameforge.job.sheet_files import sheet_files
    from frameforge.recipe.keep_all import kept_whole

    made = sheets_of(recipe, pieces, source.beside, progress, order.stoppable)
    plan = free_name("sheet-plan", {piece.name for piece in pieces})
    return sheet_files(made, recipe.tables.files, plan, kept_whole(kept, recipe.raw.get("sheets")))


def built(recipe: Recipe, source: MotifSource, progress: Progress) -> list[MadePiece]:
    """Return every piece of a recipe. Raises what was refused, of all pieces at once."""
    pieces: list[MadePiece] = []
    faults: list[FrameforgeError] = []
    counts = (("piece", len(recipe.pieces)), ("rings", len(recipe.tables.rings)))
    asked = [(kind, k) for kind, count in counts for k in range(count)]
    for done, origin in enumerate(asked):
        progress(done, len(asked), recipe.asked(origin).name or "")
        try:
            pieces += _made(recipe, origin, source, {piece.name for piece in pieces})
        except (InputError, GeometryError) as fault:
            faults.append(_placed(fault, recipe.asked(origin).name or recipe.source.place(origin)))
    if faults:
        raise type(faults[0]).from_many(faults)
    progress(len(pieces), len(pieces), "")
    return pieces


def _placed(fault: FrameforgeError, where: str) -> FrameforgeError:
    """Return a fault said of the piece that it is about, where nobody said so yet."""
    kind = type(fault)
    if fault.where or len(fault.lines) > 1 or kind not in (InputError, GeometryError):
        return fault
    return kind(fault.say, where=where, code=fault.code, **fault.numbers)


def _made(recipe: Recipe, origin: tuple[str, int], source: MotifSource, taken: set[str]) -> list[MadePiece]:
    """Return what one table asks for, be it a piece or rings."""
    kind, index = origin
    if kind == "piece":
        pieces = _pieces(recipe, index, source, taken)
    else:
        from frameforge.job.make_rings import made_rings  # here, since few recipes have rings

        pieces = [made_rings(recipe, index, source, taken)]
    if recipe.asked(origin).flip:
        return [replace(made, is_flipped=True, machine=(*made.machine, _FLIPPED)) for made in pieces]
    return pieces


def _pieces(recipe: Recipe, index: int, source: MotifSource, taken: set[str]) -> list[MadePiece]:
    """Return all pieces of card that one table asks for, made and measured."""
    table = recipe.pieces[index]
    if table.layer and table.match:
        from frameforge.job.match_ways import matched  # here, since few pieces are stacked

        preset = preset_of(recipe, index, source.beside).preset
        order = partial(_order, recipe, index, source, preset)
        return matched(recipe, index, preset, lambda: order()[0], lambda: _with_set(recipe, index, source, taken))
    return _with_set(recipe, index, source, taken)


def _with_set(recipe: Recipe, index: int, source: MotifSource, taken: set[str]) -> list[MadePiece]:
    """Return a piece and what goes with it."""
    spec, made = _piece(recipe, index, source, taken)
    table = recipe.pieces[index]
    if table.fold or table.lid or table.stand:
        from frameforge.job.companions import with_companions  # here, since few pieces are folded

        return with_companions(recipe, index, spec, made)
    pieces = [made]
    if table.layer:
        from frameforge.job.make_layers import with_layers  # here, since few pieces are stacked

        pieces = with_layers(recipe, index, spec, made, source.beside)
    if table.inside is not None:
        from frameforge.job.make_inside import with_inside  # here, since few openings are used

        pieces = [*with_inside(recipe, index, pieces[0]), *pieces[1:]]
    if any(piece.from_opening for piece in recipe.pieces):
        from frameforge.job.openings import with_openings  # here, as above

        pieces[0] = with_openings(recipe, index, pieces[0])
    return pieces


def _order(recipe: Recipe, index: int, source: MotifSource, preset: Preset) -> tuple[PieceSpec, Sequence[Finding]]:
    """Return the order of one table with its rests settled, and notes on how they were."""
    table = recipe.pieces[index]
    loader = partial(source.load, least_neck_mm=preset.least_neck_mm)
    spec = to_spec(recipe, index, table.name or recipe.source.place(("piece", index)), loader)
    if table.text:
        from frameforge.job.lettering import texts_of  # here, since few pieces carry words

        spec = replace(spec, texts=texts_of(recipe, index, source.beside))
    return settle_rests(spec, preset, partial(_fillers, recipe, index, source, preset))


def _piece(recipe: Recipe, index: int, source: MotifSource, taken: set[str]) -> tuple[PieceSpec, MadePiece]:
    """Return the order of one table, settled, and its piece, made and measured."""
    table = recipe.pieces[index]
    found_preset = preset_of(recipe, index, source.beside)
    preset = found_preset.preset
    spec, notes = _order(recipe, index, source, preset)
    mending = Mending(preset, () if table.test_piece else table.mend)
    piece, marks = trial_made(spec, preset) if table.test_piece else (made_whole(mending, spec), ())
    spec, marks = spec.with_patterns(piece.patterns), (*marks, *(outline.segments for outline in piece.marks))
    given = TRIAL_NAME if table.test_piece else default_name(piece)
    name = table.name or free_name(given, taken | recipe.given_names)
    said = (*found_preset.notes, *motif_notes(spec, piece.rows), *notes, *findings_of(piece, preset))
    proper, told = told_apart(replace(finding, piece=name) for finding in said)
    _refuse(name, proper, spec, piece, mending)
    piece = replace(piece, name=name, findings=proper, notes=(*told, *piece.notes, *_hanging(piece)))
    allowances = allowances_of(recipe, index, preset)
    plan = machine_plan(piece.region, allowances, preset, name)
    return spec, MadePiece(
        piece=piece,
        card=table.card,
        copies=table.copies,
        preset=preset,
        files={kind: f"{name}.{kind}" for kind in kinds_of(recipe.tables.files, *(("mark",) if marks else ()))},
        box=bounds(piece.region),
        area_mm2=area_mm2(piece.region),
        cut_length_mm=length_mm((segment for run in plan.runs for segment in run) if plan else piece.region),
        edges=tuple(edge_words(spec, row, piece) for row in spec.rows),
        neighbours=neighbour_gaps(spec, piece, preset),
        plan=plan,
        marks=marks,
        words=_words_of(spec),
        how_to=trial_lines(preset) if table.test_piece else (),
        machine=machine_lines(allowances, plan),
        kerf_mm=allowances.kerf_mm,
        lead_in_mm=allowances.lead_in_mm,
        seats=seats_of(spec, piece, preset),
        mends=mending.codes,
        mended=mending.places(piece),
        unmended=mending.before,
        origin=("piece", index),
    )


def _words_of(spec: PieceSpec) -> tuple[str, ...]:
    """Return a line for each text of an order."""
    if not spec.texts:
        return ()
    from frameforge.job.lettering import text_lines  # here, as above

    return text_lines(spec.texts)


def _refuse(name: str, findings: Sequence[Finding], spec: PieceSpec, piece: Piece, mending: Mending) -> None:
    """Raise FindingsError, with what would do, when something was found that a piece cannot be made with."""
    if any(finding.severity == "refused" for finding in findings):
        from frameforge.job.touch_way import with_touch_ways  # here, as all that only a refusal needs

        refuse_refused(name, with_touch_ways(findings, spec, piece, mending.preset, mending.codes))


def _hanging(piece: Piece) -> tuple[str, ...]:
    """Return what is to be known of hanging a piece up by its hole, if it has one."""
    if not piece.holes:
        return ()
    from frameforge.job.hanging import hanging_words  # here, since few pieces are hung up

    return hanging_words(piece)


def _fillers(recipe: Recipe, index: int, source: MotifSource, preset: Preset, place: int) -> Iterator[Motif]:
    """Return the motifs that may fill the rest of a row (from 0)."""
    from frameforge.job.fillers import known_motifs  # here, since few rows leave a rest to fill

    row = recipe.pieces[index].row[place]
    return known_motifs(source.folder, lambda name: source.load(name, row, name, least_neck_mm=preset.least_neck_mm))


def _refuse_warnings(pieces: list[MadePiece]) -> None:
    """Raise FindingsError when a piece has a warning."""
    found = [finding for piece in pieces for finding in piece.findings]
    warnings = [finding for finding in found if finding.severity == "warning"]
    if warnings:
        named = ", ".join(dict.fromkeys(f"{finding.piece} {finding.code}" for finding in warnings))
        count = "1 warning" if len(warnings) == 1 else f"{len(warnings)} warnings"
        say = f"{count} ({named}), so nothing was made. Leave out --strict to make it all the same."
        raise FindingsError(say, found, where="make")


def kept_of(recipe: Recipe, made: MadePiece, source: MotifSource) -> str:
    """Return the recipe that the files of a piece keep of themselves: the table that it came from."""

    def own(place: int, motif: str) -> Motif | None:
        row = row_at(recipe, made.origin, place)
        if motif not in recipe.tables.motif and not source.is_own(motif):
            return None
        loader = partial(source.load, least_neck_mm=made.preset.least_neck_mm)
        entry = next((entry for entry in row.motif if entry.motif == motif), Entry(motif))
        return entry_motif(recipe, made.origin, place, entry, loader)

    fillers = {place: row.filler.motif_name for place, row in enumerate(made.piece.rows) if row.filler is not None}
    table, index = made.origin
    name = recipe.asked(made.origin).name or made.kept_as or made.name
    return kept_text(recipe, index, name, own, fillers, made.preset, table, _fonts(recipe, made.origin, source))


def _fonts(recipe: Recipe, origin: tuple[str, int], source: MotifSource) -> dict[int, str]:
    """Return the digests of the maker's own fonts on a piece, by the number of the text, from 0."""
    kind, index = origin
    if kind != "piece" or not any(text.font for text in recipe.pieces[index].text):
        return {}
    from frameforge.job.lettering import font_digests  # here, as above

    return font_digests(recipe, index, source.beside)
