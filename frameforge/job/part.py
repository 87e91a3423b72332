"""What is moved as one on a sheet: a piece, or a set that shares cut lines, with every line of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from frameforge.card.preset import Preset
from frameforge.card.sheet_size import SheetSize
from frameforge.machine.estimate import cut_seconds
from frameforge.write.page import CutPiece

__all__ = ["Part"]


@dataclass(frozen=True, slots=True)
class Part:
    """One piece to be laid ``copies`` times on sheets of its ``card``; lengths in mm, areas in mm2.

    ``cut`` holds its lines at a place of their own; its region is that after kerf, and so are distances on the sheet.
    ``area_mm2`` is the card of one copy, ``cut_length_mm`` the length of its lines and ``lifts`` how many there are.
    ``sheets`` are the only sizes it may lie on, where that was said. ``lead_in_mm`` is how far its cuts begin in the
    waste, ``kerf_mm`` the width of the beam that its lines allow for. ``kind`` is what many of different names are
    together, such as "badge".
    """

    name: str
    cut: CutPiece
    copies: int
    preset: Preset
    area_mm2: float
    cut_length_mm: float
    lifts: int
    card: str | None = None
    sheets: tuple[SheetSize, ...] | None = None
    lead_in_mm: float = 0.0
    kerf_mm: float = 0.0
    kind: str = ""

    @property
    def cut_s(self) -> float:
        """How long cutting one copy takes, in seconds."""
        return cut_seconds(self.cut_length_mm, self.lifts, self.preset)

    @staticmethod
    def names(parts: Sequence[Part]) -> str:
        """Return the names of parts, each once."""
        return ", ".join(dict.fromkeys(part.name for part in parts))
