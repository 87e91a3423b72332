"""A cut file to be laid on sheets: how many copies, and its pieces with every line that belongs to them."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import shapely

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, InputError
from frameforge.geometry.box import Box
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.geometry.region import Region
from frameforge.job.cut_file import CutFile, read_cut_file
from frameforge.job.make import built
from frameforge.job.make_sheets import part_of
from frameforge.job.motif_source import MotifSource
from frameforge.job.naming import file_word, free_name
from frameforge.job.part import Part
from frameforge.job.presets import DEFAULT_PRESET, find_preset
from frameforge.job.recipe_file import file_bytes, recipe_of, shown_path
from frameforge.write.marker import is_marked
from frameforge.write.page import CutPiece, Run

__all__ = ["MOST_COPIES", "NestFile", "OfAllFiles", "parts_of_file", "split_copies"]

MOST_COPIES: Final = 9999

_COPIES: Final = re.compile(r"(?P<path>.+):(?P<copies>\d+)", re.DOTALL)
_SAME_MM: Final = 0.05
"""A piece made again from the recipe in a file is that of the file when widths, heights and lengths agree to this (of
the length, for each line): curves of a DXF lie .01 mm off."""

_POINTS: Final = 8
"""Into so many parts a segment of an open line is divided to tell where it lies."""


@dataclass(frozen=True, slots=True)
class NestFile:
    """The pieces of one file, and what is to be told of it."""

    parts: tuple[Part, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OfAllFiles:
    """What is said of all files at once: their card, how fast the machine is, how wide a file without a size is."""

    card: str | None = None
    preset: Preset | None = None
    width_mm: float | None = None

    @property
    def said(self) -> dict[str, Any]:
        """What stands in place of what a file says of itself, by the fields of ``Part``."""
        return {key: value for key, value in (("card", self.card), ("preset", self.preset)) if value is not None}


def split_copies(word: str) -> tuple[Path, int]:
    """Return the file and the copies of "badge.svg:24"; only a colon before digits at the very end parts them.

    Raises InputError for no copy and for too many.
    """
    found = _COPIES.fullmatch(word)
    if found is None:
        return Path(word), 1
    copies = int(found["copies"])
    if not 1 <= copies <= MOST_COPIES:
        say = f"{copies} copies: it goes from 1 to {MOST_COPIES}. Write {found['path']}:24, for example."
        raise InputError(say, where=f"nest, {word}", code="range")
    return Path(found["path"]), copies


def parts_of_file(path: Path, copies: int, of_all: OfAllFiles, taken: Collection[str]) -> NestFile:
    """Return the pieces of a cut file as they are laid, none called as one that is ``taken``.

    A file of ours that nobody changed is made again from the recipe in it, so that creases, marks and what was allowed
    for the machine go along. Of another file every part that lies by itself is a piece; parts that lie in one
    another's openings stay together. Raises FileError and InputError, a line each.
    """
    where = shown_path(path)
    data = file_bytes(path)
    file = read_cut_file(data, path, where=where, width_mm=of_all.width_mm)
    ours = _made_again(path, data, file)
    if ours is None:
        parts, left = _read(file, file_word(path.stem), taken, of_all, where)
        notes = tuple(_notes(file, where, len(parts), left))
    else:
        parts, notes = [replace(ours, name=free_name(ours.name, taken), sheets=None)], ()
    return NestFile(tuple(replace(part, copies=copies, **of_all.said) for part in parts), notes)


def _made_again(path: Path, data: bytes, file: CutFile) -> Part | None:
    """Return the piece that the recipe in a file of ours makes, None where it is not that of the file."""
    if not is_marked(data):
        return None
    try:
        pieces = built(recipe_of(path, {}), MotifSource(path.parent, None, False), lambda done, total, name: None)
    except FrameforgeError:
        return None
    parts = [part_of(piece) for piece in pieces]
    return next((part for part in parts if _is_same(part, file)), None)


def _is_same(part: Part, file: CutFile) -> bool:
    """Whether a piece has the lines of a file: as many, as long, as wide and as high."""
    runs = part.cut.cuts()
    box, read = bounds(segment for run in runs for segment in run), file.box
    long = length_mm(segment for run in runs for segment in run)
    return (
        len(runs) == len(file.drawing.lines)
        and abs(box.width_mm - read.width_mm) <= _SAME_MM
        and abs(box.height_mm - read.height_mm) <= _SAME_MM
        and abs(long - file.cut_length_mm) <= _SAME_MM * len(runs) + 1e-3 * long
    )


def _read(file: CutFile, name: str, taken: Collection[str], of_all: OfAllFiles, where: str) -> tuple[list[Part], int]:
    """Return the pieces that the lines of a file enclose, and how many open lines belong to none of them.

    Raises InputError where they enclose nothing.
    """
    if not file.regions:
        say = "none of its lines is closed, so nothing tells where the piece ends. Draw its outline closed."
        raise InputError(say, where=where, code="open-line")
    preset = of_all.preset or find_preset(DEFAULT_PRESET).preset
    groups = _together(file.regions)
    loose = [line.segments for line in file.drawing.lines if not line.is_closed]
    used = set(taken)
    parts: list[Part] = []
    left = list(loose)
    for number, group in enumerate(groups, start=1):
        called = free_name(name if len(groups) == 1 else f"{name}-{number}", used)
        used.add(called)
        mine = [run for run in left if _lies_on(run, group[0])]
        left = [run for run in left if run not in mine]
        parts.append(_part(called, group, mine, preset))
    return parts, len(left)


def _part(name: str, group: Sequence[Region], loose: Sequence[Run], preset: Preset) -> Part:
    """Return one piece: the outermost region first, what lies in its openings, and open lines within it."""
    host = group[0]
    runs = (*(outline.segments for region in reversed(group) for outline in (*region.holes, region.outer)),)
    if len(group) == 1 and not loose:
        cut = CutPiece(name, host)
    else:
        free = tuple(hole for hole in host.holes if not any(_lies_in(bounds(r), bounds(hole)) for r in group[1:]))
        cut = CutPiece(name, Region(host.outer, free), machine_cuts=(*loose, *runs))
    lines = cut.cuts()
    return Part(
        name=name,
        cut=cut,
        copies=1,
        preset=preset,
        area_mm2=sum(map(area_mm2, group)),
        cut_length_mm=length_mm(segment for run in lines for segment in run),
        lifts=len(lines),
    )


def _together(regions: Sequence[Region]) -> list[list[Region]]:
    """Return the regions in groups that stay as they lie: one, and all that lie in its openings; outer ones first."""
    groups: list[list[Region]] = []
    for region in sorted(regions, key=lambda r: -_size(bounds(r))):
        box = bounds(region)
        host = next((g for g in groups if any(_lies_in(box, bounds(hole)) for r in g for hole in r.holes)), None)
        if host is None:
            groups.append([region])
        else:
            host.append(region)
    return groups


def _size(box: Box) -> float:
    return box.width_mm * box.height_mm


def _lies_in(inner: Box, outer: Box) -> bool:
    """Whether a box lies in another."""
    return outer.contains(complex(inner.left, inner.bottom)) and outer.contains(complex(inner.right, inner.top))


def _lies_on(run: Run, host: Region) -> bool:
    """Whether an open line lies within the outer outline of a region, by points along it."""
    points = [segment.point(k / _POINTS) for segment in run for k in range(_POINTS + 1)]
    inside = shapely.intersects_xy(to_polygon(Region(host.outer)), [p.real for p in points], [p.imag for p in points])
    return bool(inside.all())


def _notes(file: CutFile, where: str, parts: int, left: int) -> list[str]:
    """Return what is told of a file that was read line by line."""
    notes = [f"{where}: {note[0].lower()}{note[1:]}" for note in file.drawing.notes]
    if not file.drawing.has_size:
        notes.append(f"{where}: the file does not say how large it is; give it with --width 200mm.")
    if parts > 1:
        notes.append(f"{where}: {parts} parts that lie apart; each is laid by itself.")
    if left:
        lines = "1 open line" if left == 1 else f"{left} open lines"
        notes.append(f"{where}: {lines} left out: nothing is enclosed there.")
    if file.drawing.other_lines:
        many = file.drawing.other_lines
        lines = "1 line" if many == 1 else f"{many} lines"
        notes.append(f"{where}: {lines} to crease or mark left out.")
    return notes
