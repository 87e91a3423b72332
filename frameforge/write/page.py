"""What is written: pieces of card with their lines, on one page."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final, Literal

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.tolerances import SVG_DECIMALS
from frameforge.write.numbers import steps

__all__ = ["LINE_KINDS", "PAGE_EDGE_MM", "CutPage", "CutPiece", "LineKind", "Run"]

LineKind = Literal["cut", "crease", "mark"]
"""What a machine does along a line."""

LINE_KINDS: Final[tuple[LineKind, ...]] = ("cut", "crease", "mark")
"""All kinds, in the order in which files hold them."""

PAGE_EDGE_MM: Final = 0.5
"""Room between the lines and the edge of a page that is made to measure, so that no hairline is clipped."""

Run = tuple[Segment, ...]
"""An open line: neighbours share their joint to the bit."""


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece of card as cut: its region, and the lines that are creased or only marked. mm, y up.

    ``machine_cuts`` are the lines that cut it where they are not its bare outlines, in cutting order: begun elsewhere,
    led in, run on, or open at bridges.
    """

    name: str
    region: Region
    creases: tuple[Run, ...] = ()
    marks: tuple[Run, ...] = ()
    machine_cuts: tuple[Run, ...] | None = None

    def __post_init__(self) -> None:
        """Refuse runs that are empty or have a gap."""
        for run in (*self.creases, *self.marks, *(self.machine_cuts or ())):
            if not run or any(a.end != b.start for a, b in itertools.pairwise(run)):
                raise ValueError(f"{self.name}: a line is empty or has a gap")

    def transformed(self, affine: Affine) -> CutPiece:
        """Return the piece with all its lines moved and turned together; a mirror has no place here.

        Raises ValueError for a map that mirrors or flattens.
        """
        if affine.determinant <= 0:
            raise ValueError(f"{self.name}: a piece is moved and turned, never turned over or made flat")

        def moved(runs: tuple[Run, ...]) -> tuple[Run, ...]:
            return tuple(tuple(segment.transformed(affine) for segment in run) for run in runs)

        machine_cuts = None if self.machine_cuts is None else moved(self.machine_cuts)
        region = self.region.transformed(affine)
        return CutPiece(self.name, region, moved(self.creases), moved(self.marks), machine_cuts)

    def turned_over(self) -> CutPiece:
        """Return the piece as its back shows it, all its lines mirrored left to right: for card that lies face down."""
        mirror = Affine(0, -1)

        def mirrored(runs: tuple[Run, ...]) -> tuple[Run, ...]:
            return tuple(tuple(segment.transformed(mirror) for segment in run) for run in runs)

        machine_cuts = None if self.machine_cuts is None else mirrored(self.machine_cuts)
        region = self.region.transformed(mirror)
        return CutPiece(self.name, region, mirrored(self.creases), mirrored(self.marks), machine_cuts)

    def cuts(self) -> tuple[Run, ...]:
        """Return the cut lines in cutting order: holes, then the outside."""
        if self.machine_cuts is not None:
            return self.machine_cuts
        return tuple(outline.segments for outline in (*self.region.holes, self.region.outer))

    def runs(self, kind: LineKind) -> tuple[Run, ...]:
        """Return the lines of one kind; those of ``cut`` are closed unless the piece has machine cuts."""
        return self.cuts() if kind == "cut" else self.creases if kind == "crease" else self.marks


@dataclass(frozen=True, slots=True)
class CutPage:
    """Pieces that stand in one file, in the order of cutting.

    With ``width_mm`` and ``height_mm`` (a sheet) the pieces lie on it, its lower left corner at 0; without, the page
    is the box of all lines and ``PAGE_EDGE_MM`` on every side.
    """

    title: str
    pieces: tuple[CutPiece, ...]
    width_mm: float | None = None
    height_mm: float | None = None
    box: Box = field(init=False, repr=False, compare=False)
    """The page in the pieces' own millimetres, its sides a whole number of the steps SVG is written in.

    SVG x is X - left and SVG y is top - Y; DXF y is Y - bottom, which is the page's height less SVG y.
    """

    def __post_init__(self) -> None:
        """Refuse a page without pieces or with half a size; measure the page once for all writers."""
        if not self.pieces:
            raise ValueError(f"page {self.title} holds no piece")
        if (self.width_mm is None) != (self.height_mm is None):
            raise ValueError(f"page {self.title} has half a size")
        object.__setattr__(self, "box", self._measured())

    def _measured(self) -> Box:
        """Return the sheet, or the box of all lines with its edge."""
        if self.width_mm is not None and self.height_mm is not None:
            return Box(0.0, 0.0, _whole(self.width_mm), _whole(self.height_mm))
        lines = bounds(segment for run in self._all_runs() for segment in run).grown(PAGE_EDGE_MM)
        return Box(lines.left, lines.top - _whole(lines.height_mm), lines.left + _whole(lines.width_mm), lines.top)

    def kinds(self) -> tuple[LineKind, ...]:
        """Return the kinds of line that occur, in their fixed order."""
        return tuple(kind for kind in LINE_KINDS if any(piece.runs(kind) for piece in self.pieces))

    @property
    def has_machine_cuts(self) -> bool:
        """Whether cut lines of this page may be open: what is promised of cut files has this one exception."""
        return any(piece.machine_cuts is not None for piece in self.pieces)

    def _all_runs(self) -> Iterator[Run]:
        """Yield every line of every kind."""
        for piece in self.pieces:
            for kind in LINE_KINDS:
                yield from piece.runs(kind)


def _whole(mm: float) -> float:
    """Return a length rounded to the steps SVG is written in."""
    return steps(mm, SVG_DECIMALS) / 10**SVG_DECIMALS
