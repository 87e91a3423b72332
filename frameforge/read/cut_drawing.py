"""A cut file as it lies there: its lines, as a machine would follow them, in mm, y up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from frameforge.finding import Finding
from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Segment

__all__ = ["CutDrawing", "FileLine", "chained"]

MEET_MM = 0.005
"""Ends this close are one joint: files round their coordinates to two decimals at worst."""


@dataclass(frozen=True, slots=True)
class FileLine:
    """One line of a file; neighbours share their joint to the bit. ``label`` names it as the file does."""

    segments: tuple[Segment, ...]
    label: str = ""

    @property
    def is_closed(self) -> bool:
        """Whether it ends where it starts."""
        return self.segments[0].start == self.segments[-1].end


@dataclass(frozen=True, slots=True)
class CutDrawing:
    """The lines of a cut file. ``has_size`` is False where the file does not say what a unit is, and 96 px or one
    drawing unit were taken for an inch or a millimetre; ``other_lines`` counts lines to crease or mark, left out.
    ``findings`` is what the drawing itself shows."""

    lines: tuple[FileLine, ...]
    notes: tuple[str, ...] = ()
    has_size: bool = True
    other_lines: int = 0
    findings: tuple[Finding, ...] = ()

    def scaled(self, factor: float) -> CutDrawing:
        """Return the drawing made larger or smaller, its size then being stated."""
        grow = Affine.from_scale(factor)
        lines = (
            replace(line, segments=tuple(segment.transformed(grow) for segment in line.segments)) for line in self.lines
        )
        return replace(self, lines=tuple(lines), has_size=True)


def chained(lines: Sequence[FileLine]) -> tuple[FileLine, ...]:
    """Return the lines with open ones joined where exactly two ends meet within ``MEET_MM``.

    Many files hold an outline as loose lines and arcs; a machine lifts at each joint, and the outline is one all the
    same. Where three ends or more meet nothing is joined, since nobody knows which belong together.
    """
    closed = [line for line in lines if line.is_closed]
    rest = [line for line in lines if not line.is_closed]
    partners = _partners(rest)
    done: set[int] = set()
    for first in range(len(rest)):
        if first not in done:
            chain, members = _walk(first, rest, partners)
            done |= members
            closed.append(FileLine(_welded(chain), rest[first].label))
    return tuple(closed)


End = tuple[int, bool]
"""A line by its number, and whether its last end is meant."""


def _partners(lines: Sequence[FileLine]) -> dict[End, End]:
    """Return which end meets which: ends in one cell of a grid, or in neighbouring ones, that are close and alone."""
    cells: dict[tuple[int, int], list[tuple[complex, End]]] = {}
    for number, line in enumerate(lines):
        for point, is_last in ((line.segments[0].start, False), (line.segments[-1].end, True)):
            cells.setdefault(_cell(point), []).append((point, (number, is_last)))
    found: dict[End, End] = {}
    for entries in cells.values():
        for point, end in entries:
            close = [other for at, other in _around(cells, point) if other != end and abs(at - point) <= MEET_MM]
            if len(close) == 1:
                found[end] = close[0]
    return {end: other for end, other in found.items() if found.get(other) == end}


def _cell(point: complex) -> tuple[int, int]:
    return int(point.real // MEET_MM), int(point.imag // MEET_MM)


def _around(cells: dict[tuple[int, int], list[tuple[complex, End]]], point: complex) -> list[tuple[complex, End]]:
    """Return the ends in the cell of a point and in the eight about it."""
    x, y = _cell(point)
    return [entry for i in (-1, 0, 1) for j in (-1, 0, 1) for entry in cells.get((x + i, y + j), ())]


def _walk(first: int, lines: Sequence[FileLine], partners: dict[End, End]) -> tuple[list[Segment], set[int]]:
    """Return the chain that a line belongs to, begun at a free end where there is one, and its members."""
    begin: End = (first, False)
    seen = {first}
    while begin in partners and partners[begin][0] not in seen:
        number, is_last = partners[begin]
        seen.add(number)
        begin = (number, not is_last)
    chain: list[Segment] = []
    members: set[int] = set()
    at: End | None = begin
    while at is not None and at[0] not in members:
        number, from_last = at
        members.add(number)
        segments = lines[number].segments
        chain += [segment.reversed() for segment in reversed(segments)] if from_last else segments
        at = partners.get((number, not from_last))
    return chain, members


def _welded(chain: Sequence[Segment]) -> tuple[Segment, ...]:
    """Return the chain with its joints made equal to the bit, closed where its ends meet."""
    welded = [chain[0]]
    for segment in chain[1:]:
        welded.append(segment.with_ends(welded[-1].end, segment.end))
    if len(welded) > 1 and abs(welded[-1].end - welded[0].start) <= MEET_MM:
        welded[-1] = welded[-1].with_ends(welded[-1].start, welded[0].start)
    return tuple(welded)
