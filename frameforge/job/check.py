"""One run of ``check`` or ``mend``: cut files of any make, what is found in them, what was mended."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from frameforge import __version__
from frameforge.card.preset import Preset
from frameforge.check.too_big import Allowed
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.check_rooms import envelope_room, sheet_room
from frameforge.job.checked_file import Checked, CheckedFile
from frameforge.job.cut_file import CutFile, findings_in, read_cut_file
from frameforge.job.findings import FindingsError
from frameforge.job.findings_picture import findings_pictures
from frameforge.job.make import Progress, built
from frameforge.job.mended_file import mended_file, written_file
from frameforge.job.motif_source import MotifSource
from frameforge.job.naming import file_stem, free_name
from frameforge.job.presets import DEFAULT_PRESET, find_preset
from frameforge.job.recipe_file import file_bytes, recipe_of, shown_path
from frameforge.job.shared_lines import shares_lines
from frameforge.read.cut_drawing import CutDrawing, FileLine
from frameforge.recipe.mend_fields import as_mend
from frameforge.units import parse_length_mm
from frameforge.write.out_folder import OutFolder, PieceFiles

__all__ = ["CheckOrder", "check"]

_NO_FILE: Final = "no file named. Name the cut files to look at, for example: frameforge check flower.svg"


@dataclass(frozen=True, slots=True)
class CheckOrder:
    """What was asked for: files, where pictures and mended files go, limits, what each must go into, and what to mend
    (None: only look)."""

    files: Sequence[Path]
    out: Path
    preset: str | None = None
    width: str | None = None
    goes_in: str | None = None
    sheet: str | None = None
    margin: str | None = None
    mends: str | None = None
    motifs: Path | None = None
    replaces_foreign: bool = False
    refuses_warnings: bool = False

    @property
    def command(self) -> str:
        """The command, as messages name it."""
        return "check" if self.mends is None else "mend"


def check(order: CheckOrder, progress: Progress) -> Checked:
    """Return what was found, and mended, in the files of an order; pictures and mended files are written.

    Raises InputError and FileError with a line a file that cannot be read, and then wrote nothing; FindingsError,
    after all was written, where warnings are refused.
    """
    if not order.files:
        raise InputError(_NO_FILE, where=order.command, code="no-file")
    preset, allowed = _preset(order), _allowed(order)
    codes = () if order.mends is None else _codes(order.mends)
    width_mm = None if order.width is None else _width(order)
    looked, faults = [], list[FrameforgeError]()
    for number, path in enumerate(order.files):
        progress(number, len(order.files), path.name)
        try:
            looked += _looked_at(path, preset, width_mm, codes, allowed, order)
        except FrameforgeError as fault:
            faults.append(fault)
    if faults:
        raise type(faults[0]).from_many(faults)
    done = _written(looked, order)
    progress(len(order.files), len(order.files), "")
    if order.refuses_warnings:
        _refuse_warnings(done, order)
    return Checked(tuple(done), order.out.resolve(), order.command)


def _preset(order: CheckOrder) -> Preset:
    try:
        return find_preset(order.preset or DEFAULT_PRESET).preset
    except InputError as fault:
        if fault.code != "no-preset":
            raise
        raise InputError(fault.say, where=f"{order.command}, --preset {order.preset}", code=fault.code) from fault


def _allowed(order: CheckOrder) -> tuple[Allowed, ...]:
    """Return the rooms that were named, less what stays free in them."""
    rooms = [] if order.goes_in is None else [envelope_room(order.goes_in, order.command)]
    if order.sheet is not None or order.margin is not None:
        rooms.append(sheet_room(order.sheet, order.margin, order.command))
    return tuple(rooms)


def _codes(words: str) -> tuple[str, ...]:
    try:
        return as_mend(words)
    except InputError as fault:
        raise InputError(fault.say, where=f'mend, --mend "{words}"', code=fault.code) from fault


def _width(order: CheckOrder) -> float:
    where = f'{order.command}, --width "{order.width}"'
    try:
        mm = parse_length_mm(order.width)
    except InputError as fault:
        raise InputError(fault.say, where=where, code=fault.code) from fault
    if mm <= 0:
        raise InputError("a width must be above 0. Write for example 200mm.", where=where, code="range")
    return mm


def _looked_at(
    path: Path,
    preset: Preset,
    width_mm: float | None,
    codes: Collection[str],
    allowed: Sequence[Allowed],
    order: CheckOrder,
) -> list[CheckedFile]:
    """Return one file looked at, or every piece of a recipe."""
    shown = shown_path(path)
    if path.suffix.lower() == ".toml":
        if order.mends is not None:
            say = f"a recipe is mended when it is made. Type: frameforge make {shown} --mend all"
            raise InputError(say, where=f"mend, {shown}", code="recipe")
        if order.goes_in is not None:
            say = f'a recipe says itself what its pieces go in. Write goes_in = "{order.goes_in}" in it.'
            raise InputError(say, where=f"check, {shown}", code="recipe")
        if order.sheet is not None:
            sheet = f'"{order.sheet}"' if " " in order.sheet else order.sheet
            say = f"a recipe is laid on sheets when it is made. Type: frameforge make {shown} --sheet {sheet}"
            raise InputError(say, where=f"check, {shown}", code="recipe")
        return _of_recipe(path, shown, order.motifs)
    data = file_bytes(path)
    if shares_lines(data):
        if order.mends is not None:
            say = "its cards share lines, and what is mended on one would change the next. Change its recipe instead."
            raise InputError(say, where=f"mend, {shown}", code="shared-lines")
        if not allowed and order.preset is None:
            return _of_recipe(path, shown, order.motifs)
    file = read_cut_file(data, path, where=shown, width_mm=width_mm)
    if order.mends is not None:
        return [mended_file(shown, path, file, preset, codes)]
    return [CheckedFile(shown, file_stem(path.stem), file, preset, findings_in(file, preset, allowed))]


def _of_recipe(path: Path, shown: str, motifs: Path | None) -> list[CheckedFile]:
    """Return the pieces of a recipe as they would be made, with what was found in them."""
    source = MotifSource(path.parent, motifs, False)
    pieces = built(recipe_of(path, {}), source, lambda done, of, name: None)
    looked = []
    for made in pieces:
        outlines = made.bond.lines if made.bond else made.piece.region.outlines
        lines = tuple(FileLine(outline.segments, made.name) for outline in outlines)
        file = CutFile(CutDrawing(lines), made.regions)
        looked.append(
            CheckedFile(f"{shown}, {made.name}", made.name, file, made.preset, made.findings, is_of_recipe=True)
        )
    return looked


def _written(looked: Sequence[CheckedFile], order: CheckOrder) -> list[CheckedFile]:
    """Return the files with what was written of them: the pictures of their findings, and the mended ones."""
    batches, done, taken = [], [], set[str]()
    for file in looked:
        name = free_name(file.name, taken)
        taken.add(name)
        mended = [written_file(file, name)] if file.mended is not None and file.mended.regions else []
        pictures = list(findings_pictures(file, name))
        batches.append(PieceFiles(name, tuple(mended + pictures)))
        done.append(file.with_files(tuple(entry.name for entry in pictures), mended[0].name if mended else None))
    folder = OutFolder.open(order.out, force=order.replaces_foreign)
    folder.claim(entry.name for batch in batches for entry in batch.files)
    folder.finish([folder.put(batch) for batch in batches if batch.files], {"frameforge": __version__})
    return done


def _refuse_warnings(files: Sequence[CheckedFile], order: CheckOrder) -> None:
    """Raise FindingsError when a file has a warning."""
    found = [finding for file in files for finding in file.findings if finding.severity != "note"]
    if found:
        named = ", ".join(dict.fromkeys(finding.code for finding in found))
        many = "1 warning" if len(found) == 1 else f"{len(found)} warnings"
        say = f"{many} ({named}). Mend the files, or leave out --strict."
        raise FindingsError(say, found, where=order.command)
