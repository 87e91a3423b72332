"""A cut file of any make: its lines, what they enclose, and everything found in them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from frameforge.card.preset import Preset
from frameforge.check.crossing import find_crossings
from frameforge.check.cut_lines import Line, to_cut_lines
from frameforge.check.double_line import find_double_lines
from frameforge.check.many_points import find_many_points
from frameforge.check.open_line import find_open_lines
from frameforge.check.rough_outline import find_rough_outlines
from frameforge.check.same_line import once_each
from frameforge.check.too_big import Allowed
from frameforge.check.whole import check_piece
from frameforge.errors import InputError
from frameforge.finding import SEVERITIES, Finding
from frameforge.geometry.box import Box
from frameforge.geometry.combine import Combined, Loops, evaluate
from frameforge.geometry.measure import bounds, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.read.cut_drawing import CutDrawing
from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.cut_svg import read_cut_svg
from frameforge.tolerances import SAME_PLACE_MM
from frameforge.units import format_both

__all__ = ["CutFile", "enclosed", "findings_in", "read_cut_file"]

_READERS: Final = {".svg": read_cut_svg, ".svgz": read_cut_svg, ".dxf": read_cut_dxf}
_LARGEST_MM: Final = 20_000.0
_LEAST_MM: Final = 0.01


@dataclass(frozen=True, slots=True)
class CutFile:
    """The lines of a file (mm, y up), and the card that its closed lines leave, several parts where they lie apart.

    ``rough`` are places where the edge of that card could not be made exact.
    """

    drawing: CutDrawing
    regions: tuple[Region, ...]
    rough: tuple[complex, ...] = ()

    @property
    def box(self) -> Box:
        """The box of all lines."""
        return bounds(segment for line in self.drawing.lines for segment in line.segments)

    @property
    def open_lines(self) -> int:
        """How many lines do not come back to their start."""
        return sum(not line.is_closed for line in self.drawing.lines)

    @property
    def segments(self) -> int:
        """Lines, arcs and curves in all."""
        return sum(len(line.segments) for line in self.drawing.lines)

    @property
    def cut_length_mm(self) -> float:
        """The length of all lines."""
        return length_mm(segment for line in self.drawing.lines for segment in line.segments)


def read_cut_file(data: bytes, path: Path, *, where: str, width_mm: float | None = None) -> CutFile:
    """Return a cut file by its ending: .svg, .svgz or .dxf.

    ``width_mm`` is how wide all its lines together are to be, for a file that does not say it.
    Raises InputError for another ending, for what cannot be read, and for a width of a file that states its size.
    """
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        say = f'"{path.suffix or path.name}" is no kind of cut file. Name an .svg or a .dxf.'
        raise InputError(say, where=where, code="no-cut-file")
    drawing = reader(data, where=where)
    if width_mm is not None:
        drawing = _of_width(drawing, width_mm, where)
    box = bounds(segment for line in drawing.lines for segment in line.segments)
    if max(box.width_mm, box.height_mm) < _LEAST_MM:
        raise InputError("its lines have no length, so there is nothing to cut.", where=where, code="nothing-to-cut")
    if max(box.width_mm, box.height_mm) > _LARGEST_MM:
        say = f"{format_both(box.width_mm)} across is larger than any card. Give its true size with --width."
        raise InputError(say, where=where, code="too-large")
    united = _united(line.segments for line in drawing.lines)
    return CutFile(drawing, tuple(united.regions), united.report.inexact) if united else CutFile(drawing, ())


def findings_in(file: CutFile, preset: Preset, allowed: Sequence[Allowed] = ()) -> tuple[Finding, ...]:
    """Return everything found in a file, worst first: in its lines as they lie there, and in the card they leave.

    Parts that lie apart are a warning here, since several pieces may lie in one file. ``allowed`` is what all of it
    must go into.
    """
    lines = [line.segments for line in file.drawing.lines]
    flat = to_cut_lines(lines)
    crossings = find_crossings(flat)
    card = check_piece(file.regions, preset, falls_apart="warning", allowed=allowed) if file.regions else ()
    found = (
        *find_open_lines(lines),
        *find_double_lines(flat),
        *crossings,
        *(finding for finding in card if not _is_told(finding, crossings)),
        *find_rough_outlines(file.rough),
        *find_many_points(lines),
        *file.drawing.findings,
    )
    return tuple(sorted(found, key=lambda finding: SEVERITIES.index(finding.severity)))


def _is_told(finding: Finding, crossings: Sequence[Finding]) -> bool:
    """Whether a touch in one point is no more than the corner that two crossing lines leave there."""
    if finding.code != "point-touch" or finding.place is None:
        return False
    return any(other.place and abs(other.place - finding.place) <= SAME_PLACE_MM for other in crossings)


def _of_width(drawing: CutDrawing, width_mm: float, where: str) -> CutDrawing:
    """Return a drawing made as wide as was said, where it states no size, or one that no card has."""
    box = bounds(segment for line in drawing.lines for segment in line.segments)
    if drawing.has_size and max(box.width_mm, box.height_mm) <= _LARGEST_MM:
        say = f"the file says how large it is, {format_both(box.width_mm)} across. Leave --width out."
        raise InputError(say, where=where, code="has-size")
    if box.width_mm <= 0:
        raise InputError("its lines have no width. Leave --width out.", where=where, code="range")
    return drawing.scaled(width_mm / box.width_mm)


def enclosed(lines: Iterable[Line]) -> tuple[Region, ...]:
    """Return what the closed ones of some lines enclose, every line changing from card to waste; one that lies there
    twice counts once."""
    united = _united(lines)
    return tuple(united.regions) if united else ()


def _united(lines: Iterable[Line]) -> Combined | None:
    """Return what the closed lines enclose with how it came about, None where they enclose nothing."""
    outlines = once_each([Outline(tuple(line)) for line in lines if line[0].start == line[-1].end])
    return evaluate(Loops(outlines, "evenodd")) if outlines else None
