"""The catalogue looked at: all motifs, or one of them, with a picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from frameforge import __version__
from frameforge.errors import FileError, InputError
from frameforge.finding import Finding
from frameforge.job.closing import finding_lines
from frameforge.job.findings import finding_json
from frameforge.job.motif_options import motifs_folder, white_of
from frameforge.job.motif_widths import MotifWidths, widths_of
from frameforge.job.naming import file_word
from frameforge.job.pictures import png_picture
from frameforge.motif.catalogue import is_ours, load_motif, names
from frameforge.motif.describe import MotifFacts, describe
from frameforge.motif.motif import Motif
from frameforge.picture.motif_sheet import motif_picture, motif_sheet
from frameforge.units import format_both, format_floor, format_mm
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles

__all__ = ["MotifList", "ShownMotif", "list_motifs", "show_motif"]

_SHEET: Final = "motifs.png"


@dataclass(frozen=True, slots=True)
class MotifList:
    """All motifs that can be named, and the picture of them where one was asked for.

    ``folder`` holds the maker's own; ``faults`` tell which of its drawings cannot be used.
    """

    facts: tuple[MotifFacts, ...]
    widths: tuple[MotifWidths, ...]
    picture: Path | None
    folder: Path | None = None
    faults: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the list as a table of plain values."""
        told = zip(self.facts, self.widths, strict=True)
        shown = [{key: value for key, value in _facts_json(*both).items() if key != "notes"} for both in told]
        own = [motif["name"] for motif in shown if not is_ours(motif["name"], self.folder)]
        picture = None if self.picture is None else str(self.picture)
        return {"motifs": shown, "own": own, "left_out": list(self.faults), "picture": picture}

    def lines(self) -> list[str]:
        """Return a line a motif, in columns."""
        rows = [("motif", "foot", "wide", "high", "thinnest", "slit")]
        rows += [
            (facts.name, format_mm(facts.foot_mm), format_mm(facts.box.width_mm), format_mm(facts.box.height_mm),
             _width(widths.thinnest_mm), _width(widths.slit_mm))
            for facts, widths in zip(self.facts, self.widths, strict=True)
        ]  # fmt: skip
        wide = max(len(row[0]) for row in rows)
        lines = [f"{name:{wide}}" + "".join(f"{word:>10}" for word in words) for name, *words in rows]
        return [*lines, *self._own_lines(), *([f"Picture: {self.picture}"] if self.picture else [])]

    def _own_lines(self) -> list[str]:
        """Return which motifs are the maker's own, which of them stand in for ours, and which cannot be used."""
        own = [facts.name for facts in self.facts if not is_ours(facts.name, self.folder)]
        lines = [f"Yours, in {self.folder}: {', '.join(own)}"] if own else []
        hidden = [name for name in own if is_ours(name)]
        if hidden:
            lines.append(f"Taken instead of ours of the same name: {', '.join(hidden)}")
        return [*lines, *(f"left out, {fault}" for fault in self.faults)]


@dataclass(frozen=True, slots=True)
class ShownMotif:
    """One motif looked at: its numbers, where it came from, its picture."""

    facts: MotifFacts
    widths: MotifWidths
    source: str
    picture: Path
    findings: tuple[Finding, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Return the motif as a table of plain values."""
        found = [finding_json(finding) for finding in self.findings]
        shown = _facts_json(self.facts, self.widths)
        return {**shown, "file": self.source, "picture": str(self.picture), "findings": found}

    def lines(self) -> list[str]:
        """Return what is said of the motif."""
        facts = self.facts
        foot = "stated in the drawing" if facts.is_foot_stated else "found: where the drawing stands on its lowest line"
        lines = [
            f"{facts.name}: {format_both(facts.box.width_mm)} wide, {format_both(facts.box.height_mm)} high",
            f"foot {format_both(facts.foot_mm)}, {foot}",
            *self._width_lines(),
            f"outlines: {facts.join} joined on, {facts.cut_away} cut away, {facts.window} cut out as windows",
        ]
        found = [line.strip() for line in finding_lines(self.findings)]
        return [*lines, *found, *(f"note: {note}" for note in facts.notes), f"Picture: {self.picture}"]

    def _width_lines(self) -> list[str]:
        """Return what is said of the narrowest card and the narrowest slit."""
        thinnest, slit = self.widths.thinnest_mm, self.widths.slit_mm
        card = [] if thinnest is None else [f"thinnest card {format_floor(thinnest)}"]
        return [", ".join([*card, "no slit" if slit is None else f"narrowest slit {format_floor(slit)}"])]


def list_motifs(motifs: str | None, out: Path | None, *, replaces_foreign: bool = False) -> MotifList:
    """Return all motifs, the maker's own included; with ``out``, a picture of them is put there.

    ``motifs`` is the folder of her own as typed, by default that of the user. Raises FileError where files refuse.
    """
    folder = motifs_folder(motifs)
    found: list[Motif] = []
    faults: list[str] = []
    for name in names(folder):
        try:
            found.append(load_motif(name, folder=folder))
        except (InputError, FileError) as fault:
            faults += fault.lines
    picture = None
    if out is not None:
        told = [(f"foot {format_mm(motif.foot_mm)}",) for motif in found]
        sheet = motif_sheet("Motifs", found, lines=told)
        picture = _put(out, _SHEET, png_picture(sheet), force=replaces_foreign)
    facts, widths = tuple(map(describe, found)), tuple(map(widths_of, found))
    return MotifList(facts, widths, picture, folder, tuple(faults))


def show_motif(name: str, out: Path, options: Mapping[str, Any]) -> ShownMotif:
    """Return one motif by name or drawing, its picture with foot and axis put into ``out``.

    ``options`` holds what was typed: motifs (folder), white, lenient, force. Raises InputError and FileError.
    """
    motif = load_motif(
        name,
        folder=motifs_folder(options.get("motifs")),
        white=white_of(options.get("white"), "motif show"),
        lenient=bool(options.get("lenient")),
        where=f"motif show {name}",
    )
    facts = describe(motif)
    picture = motif_picture(motif, lines=_picture_lines(motif, facts))
    path = _put(out, f"motif-{file_word(motif.name)}.png", png_picture(picture), force=bool(options.get("force")))
    return ShownMotif(facts, widths_of(motif), name, path, motif.findings)


def _picture_lines(motif: Motif, facts: MotifFacts) -> Sequence[str]:
    size = f"{format_both(facts.box.width_mm)} wide, {format_both(facts.box.height_mm)} high"
    return (size, f"sunk by {format_mm(motif.sink_mm)}") if motif.sink_mm else (size,)


def _put(out: Path, name: str, data: bytes, *, force: bool) -> Path:
    """Put one picture into a folder of results and return its path."""
    target = OutFolder.open(out, force=force)
    target.finish([target.put(PieceFiles(name, (OutFile(name, data),)))], {"frameforge": __version__})
    return out / name


def _width(mm: float | None) -> str:
    """Return a width in a column of them."""
    return "-" if mm is None else format_floor(mm)


def _facts_json(facts: MotifFacts, widths: MotifWidths) -> dict[str, Any]:
    box = facts.box
    return {
        "name": facts.name,
        "file": None,
        "width_mm": box.width_mm,
        "height_mm": box.height_mm,
        "bounds_mm": [box.left, box.bottom, box.right, box.top],
        "area_mm2": facts.area_mm2,
        "foot_mm": facts.foot_mm,
        "thinnest_mm": widths.thinnest_mm,
        "narrowest_slit_mm": widths.slit_mm,
        "join": facts.join,
        "cut_away": facts.cut_away,
        "window": facts.window,
        "segments": facts.segments,
        "notes": list(facts.notes),
    }
