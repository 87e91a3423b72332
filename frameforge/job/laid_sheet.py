"""Sheets as they were laid: what lies on each, how much card that uses, what cutting takes and costs."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from frameforge.card.sheet_size import SheetSize
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.job.part import Part
from frameforge.sheet.design import Sheet
from frameforge.sheet.off_cuts import OffCut
from frameforge.write.page import CutPage, CutPiece

__all__ = ["LaidPiece", "SheetMade", "SheetsMade", "off_cut_json", "sheet_piece_json"]

_MOST_NAMED = 2
"""So many files of a kind are named one by one."""


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """One copy of a part (counted from 1): the centre of its outline's box from the sheet's lower left, its turn
    counter-clockwise, the number in the sheet's list of the piece whose opening holds it, its lines where they lie."""

    part: Part
    copy: int
    x_mm: float
    y_mm: float
    turn_deg: float
    inside_of: int | None
    cut: CutPiece


@dataclass(frozen=True, slots=True)
class SheetMade:
    """One sheet with its pieces in cutting order. ``stack`` sheets lie on one another while it is cut.

    ``used`` is what was cut from it before; a sheet begun before costs nothing. ``files`` are paths relative to the
    folder of the run, by kind.
    """

    name: str
    card: str | None
    size: SheetSize
    sheet: Sheet
    used: tuple[Region, ...]
    pieces: tuple[LaidPiece, ...]
    price: float | None = None
    stack: int = 1
    off_cuts: tuple[OffCut, ...] = ()
    files: Mapping[str, str] = field(default_factory=dict)

    @property
    def page(self) -> CutPage:
        """The page that is written: the sheet with every line on it, in cutting order."""
        cuts = tuple(piece.cut for piece in self.pieces)
        return CutPage(self.name, cuts, self.sheet.width_mm, self.sheet.height_mm)

    @property
    def pieces_mm2(self) -> float:
        """Card of all pieces on it."""
        return sum(piece.part.area_mm2 for piece in self.pieces)

    @property
    def card_mm2(self) -> float:
        """Card that there was before anything was laid on it."""
        return self.sheet.width_mm * self.sheet.height_mm - sum(map(area_mm2, self.used))

    @property
    def card_used(self) -> float:
        """Share of the card that goes into pieces, 0 to 1."""
        return self.pieces_mm2 / self.card_mm2

    @property
    def cut_length_mm(self) -> float:
        """Length of all lines on it."""
        return sum(piece.part.cut_length_mm for piece in self.pieces)

    @property
    def lifts(self) -> int:
        """How often the blade or the beam is lifted."""
        return sum(piece.part.lifts for piece in self.pieces)

    @property
    def cut_s(self) -> float:
        """How long cutting takes, in seconds; a stack is cut in one go."""
        return sum(piece.part.cut_s for piece in self.pieces)

    @property
    def cost(self) -> float | None:
        """What the sheets cost that are cut at once; None where no price was said, 0 for one begun before."""
        return None if self.price is None else 0.0 if self.used else self.price * self.stack

    def counts(self) -> dict[str, int]:
        """Return how many copies of what lie on it, by kind or name, in the order of cutting."""
        return dict(Counter(piece.part.kind or piece.part.name for piece in self.pieces))

    def as_json(self) -> dict[str, Any]:
        """Return the sheet as a table of plain values."""
        return {
            "name": self.name,
            "card": self.card,
            "size": self.size.name,
            "width_mm": self.sheet.width_mm,
            "height_mm": self.sheet.height_mm,
            "files": dict(self.files),
            "pieces": [sheet_piece_json(piece) for piece in self.pieces],
            "card_used": self.card_used,
            "cut_length_mm": self.cut_length_mm,
            "cut_s": self.cut_s,
            "lifts": self.lifts,
            "cost": self.cost,
            "stack": self.stack,
            "off_cuts": [off_cut_json(self.name, cut) for cut in self.off_cuts],
        }


@dataclass(frozen=True, slots=True)
class SheetsMade:
    """All sheets of a run, the parts that lie on them, and how they were found.

    ``is_interrupted`` tells that the maker ended the search early; what is here is the best there was until then.
    ``others`` are files that show all sheets together.
    """

    sheets: tuple[SheetMade, ...]
    parts: tuple[Part, ...]
    sheets_at_least: int
    methods: tuple[str, ...] = ()
    tries: int = 0
    is_interrupted: bool = False
    notes: tuple[str, ...] = ()
    others: tuple[str, ...] = ()

    @property
    def card_used(self) -> float:
        """Share of the card of all sheets that goes into pieces, 0 to 1."""
        return sum(sheet.pieces_mm2 * sheet.stack for sheet in self.sheets) / sum(
            sheet.card_mm2 * sheet.stack for sheet in self.sheets
        )

    @property
    def count(self) -> int:
        """How many sheets of card are cut."""
        return sum(sheet.stack for sheet in self.sheets)

    @property
    def copies(self) -> int:
        """How many pieces were asked for."""
        return sum(part.copies for part in self.parts)

    @property
    def cut_s(self) -> float:
        """How long cutting takes, in seconds."""
        return sum(sheet.cut_s for sheet in self.sheets)

    @property
    def cost(self) -> float | None:
        """What all sheets with a price cost; None where none has one."""
        costs = [sheet.cost for sheet in self.sheets if sheet.cost is not None]
        return math.fsum(costs) if costs else None

    def of_card(self) -> dict[str | None, int]:
        """Return how many sheets there are of each card, in the order of the sheets."""
        found: Counter[str | None] = Counter()
        for sheet in self.sheets:
            found[sheet.card] += sheet.stack
        return dict(found)

    @property
    def told_files(self) -> tuple[str, ...]:
        """The names of all files as they are told: of many sheets of a card the first and the last of each kind."""
        told: list[str] = []
        for _, of_card in itertools.groupby(self.sheets, lambda sheet: sheet.card):
            alike = list(of_card)
            for kind in dict.fromkeys(kind for sheet in alike for kind in sheet.files):
                told += _first_and_last(tuple(sheet.files[kind] for sheet in alike if kind in sheet.files))
        return (*told, *self.others)

    def with_files(self, files: Mapping[str, Mapping[str, str]], others: tuple[str, ...]) -> SheetsMade:
        """Return the same with the names of what was written of each sheet, by its name."""
        sheets = tuple(replace(sheet, files=files[sheet.name]) for sheet in self.sheets)
        return replace(self, sheets=sheets, others=others)


def _first_and_last(names: tuple[str, ...]) -> tuple[str, ...]:
    """Return names that differ by their number, three or more by the first and the last."""
    return (f"{names[0]} to {names[-1]}",) if len(names) > _MOST_NAMED else names


def sheet_piece_json(piece: LaidPiece) -> dict[str, Any]:
    """Return where a piece lies as a table of plain values; turns count clockwise, as everywhere outside."""
    clockwise = -piece.turn_deg % 360
    return {
        "name": piece.part.name,
        "copy": piece.copy,
        "x_mm": piece.x_mm,
        "y_mm": piece.y_mm,
        "turn_deg": 0.0 if clockwise == 360 else clockwise,
        "inside_of": piece.inside_of,
    }


def off_cut_json(sheet: str, cut: OffCut) -> dict[str, Any]:
    """Return a rest as a table of plain values: the largest disc and the largest rectangle in it."""
    return {
        "sheet": sheet,
        "opening_of": cut.opening_of,
        "disc_mm": cut.disc_mm,
        "disc_x_mm": cut.disc_at.real,
        "disc_y_mm": cut.disc_at.imag,
        "rectangle_width_mm": cut.rectangle.width_mm,
        "rectangle_height_mm": cut.rectangle.height_mm,
        "rectangle_x_mm": cut.rectangle.center.real,
        "rectangle_y_mm": cut.rectangle.center.imag,
    }
