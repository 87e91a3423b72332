"""The repeats of a piece as they can be pointed at: each with its name, its outlines where they stand, its place."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.frame.piece import Piece, PlacedMotif, RowResult
from frameforge.frame.wording import plural
from frameforge.geometry.outline import Outline
from frameforge.job.places import is_ambiguous

__all__ = ["Repeat", "repeats_of"]


@dataclass(frozen=True, slots=True)
class Repeat:
    """One repeat: its row (from 0), the row itself, the motif where it stands, and its name: "bean leaf 3"."""

    row: int
    result: RowResult
    placed: PlacedMotif
    words: str

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The outlines that its gaps are measured from, as drawn about its foot."""
        return tuple(region.outer for region in self.placed.motif.counted)


def repeats_of(piece: Piece) -> tuple[Repeat, ...]:
    """Return all repeats, row by row, clockwise from the top. A row's filler is one of its repeats.

    Where two rows hold motifs of one name, the row is part of the name: "row 2, arch 3".
    """
    found: list[Repeat] = []
    for number, row in enumerate(piece.rows):
        prefix = f"row {number + 1}, " if is_ambiguous(piece.rows, row) else ""
        own = sorted(row.repeats, key=lambda placed: placed.position)
        found += [Repeat(number, row, placed, f"{prefix}{_name(placed)} {placed.position}") for placed in own]
        if row.filler is not None:
            fillers = row.filler.repeats
            found += [Repeat(number, row.filler, one, f"{prefix}{_name(one)} at the seam") for one in fillers]
    return tuple(found)


def _name(placed: PlacedMotif) -> str:
    return plural(placed.motif.name, 1)
