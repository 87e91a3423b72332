"""A drawing added to the maker's own motifs: a copy in which foot, axis and parts are stated."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from frameforge.errors import FileError, FrameforgeError, InputError
from frameforge.finding import Finding
from frameforge.job.closing import finding_lines
from frameforge.job.findings import finding_json
from frameforge.job.motif_options import white_of
from frameforge.motif.catalogue import is_ours, is_path, load_motif, plain_name
from frameforge.motif.describe import MotifFacts, describe
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.motif_folder import files_in, own_folder
from frameforge.read.svg import read_drawing
from frameforge.recipe.fields import as_name
from frameforge.units import format_both
from frameforge.write.marker import is_marked
from frameforge.write.motif_file import motif_text
from frameforge.write.one_file import write_file

__all__ = ["AddedMotif", "add_motif"]

_COMMAND: Final = "motif add"
_SAME_MM: Final = 1e-4
"""By so much size and foot of the copy may differ from the drawing; its numbers are rounded to a hundredth of it."""
_SAME_PART: Final = 1e-5
"""By this part the area of the copy may differ."""


@dataclass(frozen=True, slots=True)
class AddedMotif:
    """A motif that was added: its name, its numbers, where its copy stands, and what should be known of it."""

    name: str
    facts: MotifFacts
    path: Path
    is_replaced: bool
    hides_ours: bool
    findings: tuple[Finding, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the motif as a table of plain values."""
        return {
            "name": self.name,
            "file": str(self.path),
            "width_mm": self.facts.box.width_mm,
            "height_mm": self.facts.box.height_mm,
            "foot_mm": self.facts.foot_mm,
            "join": self.facts.join,
            "cut_away": self.facts.cut_away,
            "window": self.facts.window,
            "segments": self.facts.segments,
            "notes": list(self.notes),
            "findings": [finding_json(finding) for finding in self.findings],
        }

    @property
    def notes(self) -> tuple[str, ...]:
        """What was said of the drawing, and which motif is taken now where two have the name."""
        if not self.hides_ours:
            return self.facts.notes
        taken = f"{self.name} is also the name of one that comes with frameforge; yours is taken from now on."
        return (*self.facts.notes, taken)

    def lines(self) -> list[str]:
        """Return what is said at the end."""
        box = self.facts.box
        return [
            f"{self.name}: {'replaced' if self.is_replaced else 'added'}, foot {format_both(self.facts.foot_mm)}, "
            f"{format_both(box.width_mm)} wide, {format_both(box.height_mm)} high",
            *(line.strip() for line in finding_lines(self.findings)),
            *(f"note: {note}" for note in self.notes),
            f"Its copy, with foot and parts stated: {self.path}",
            f"Use it: frameforge make --motif {self.name} --size 100mm",
        ]


def add_motif(drawing: str, options: Mapping[str, Any]) -> AddedMotif:
    """Return the motif after a copy of it was put into the maker's own folder.

    ``options`` holds what was typed: motifs (folder), name, white, lenient, force. Raises InputError for a drawing that
    cannot be understood and a name that cannot be one; FileError where a file is not ours to replace or refuses.
    """
    if not is_path(drawing):
        say = "name a drawing by its file, for example daisy.svg"
        raise InputError(say, where=f"{_COMMAND} {drawing}", code="no-drawing")
    folder = _folder(options.get("motifs"))
    name = _name(options.get("name"), drawing)
    white = white_of(options.get("white"), _COMMAND)
    motif = load_motif(drawing, white=white, lenient=bool(options.get("lenient")), where=f"{_COMMAND} {drawing}")
    path = _place(folder, name)
    is_there = os.path.lexists(path)
    if is_there and not options.get("force"):
        _refuse_foreign(path)
    words = name.replace("-", " ")
    text = motif_text(motif, words[:1].upper() + words[1:], "A motif of your own.")
    _check(text, motif, path.name)
    write_file(path, text.encode("utf-8"), option="--motifs")
    return AddedMotif(path.stem, describe(motif), path, is_there, is_ours(path.stem), motif.findings)


def _folder(given: str | None) -> Path:
    """Return the folder of the maker's own motifs, there or not."""
    folder = Path(given) if given else own_folder()
    if folder is None:
        raise FileError("your home folder is not known. Name a folder with --motifs.", where=_COMMAND, code="no-file")
    return folder


def _name(given: str | None, drawing: str) -> str:
    """Return the name a motif is added under, written as names are compared."""
    stem = drawing.replace("\\", "/").rpartition("/")[2].rpartition(".")[0]
    word = plain_name(stem if given is None else given)
    try:
        return as_name(word)
    except InputError as fault:
        if given is None:
            say = f'"{stem}" cannot be the name of a motif: {fault.say} Choose one with --name.'
            raise InputError(say, where=f"{_COMMAND} {drawing}", code=fault.code) from None
        say = f"{fault.say} Write a name such as daisy."
        raise InputError(say, where=f'{_COMMAND}, --name "{given}"', code=fault.code) from None


def _place(folder: Path, name: str) -> Path:
    """Return where the copy goes: over a motif that is called so already, however its file is spelt."""
    same = (path for other, path in files_in(folder).items() if plain_name(other) == name)
    return next(same, folder / f"{name}.svg")


def _refuse_foreign(path: Path) -> None:
    """Refuse to replace a drawing that we did not write, or that was changed since."""
    try:
        data = path.read_bytes() if path.is_file() else b""
    except OSError:
        data = b""
    if not is_marked(data):
        say = "frameforge did not write this file and leaves it alone. Choose another --name, or replace it with "
        raise FileError(f"{say}--force.", where=path.as_posix(), code="not-ours")


def _check(text: str, motif: Motif, where: str) -> None:
    """Raise FrameforgeError, our own fault, when the text does not give the motif back."""
    back = to_motif(read_drawing(text.encode("utf-8"), where=where), motif.name, least_neck_mm=0.0, where=where)
    old, new = describe(motif), describe(back)
    sides = zip(
        (old.foot_mm, old.box.left, old.box.bottom, old.box.right, old.box.top),
        (new.foot_mm, new.box.left, new.box.bottom, new.box.right, new.box.top),
        strict=True,
    )
    is_same = (old.join, old.cut_away, old.window) == (new.join, new.cut_away, new.window)
    is_same = is_same and all(abs(a - b) <= _SAME_MM for a, b in sides)
    if not (is_same and abs(old.area_mm2 - new.area_mm2) <= _SAME_PART * old.area_mm2 + _SAME_MM):
        raise FrameforgeError("the copy does not hold the same motif; report it as DEVELOPERS.md says.", where=where)
