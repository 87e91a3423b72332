"""The sheets there are to cut from, and which designs none of them takes. Lengths in mm, y up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from frameforge.geometry.region import Region
from frameforge.sheet.design import Design, Sheet
from frameforge.sheet.turns import all_turns, free_turns

__all__ = ["FIT_SLACK_MM", "LeftOver", "Stock", "StockSheet", "left_over", "preferences", "too_big", "turns_on"]

Why = Literal["too big", "no sheet left"]

FIT_SLACK_MM = 1e-9
"""A piece as wide as the room but for rounding fits."""


@dataclass(frozen=True, slots=True)
class StockSheet:
    """One kind of sheet: its size, how many there are (None: as many as it takes), and what is cut from each already.

    ``used`` are areas in sheet coordinates (from the lower left corner) where nothing may lie, nor nearer than the
    distance between pieces. A sheet that was cut from before is a kind of its own, mostly with ``how_many=1``.
    """

    sheet: Sheet
    how_many: int | None = None
    used: tuple[Region, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a kind of which there is none."""
        if self.how_many is not None and self.how_many < 1:
            raise ValueError(f"{self.how_many} sheets of {self.sheet.width_mm} x {self.sheet.height_mm} mm")

    @property
    def area_mm2(self) -> float:
        """Card that one sheet costs: nothing when it was begun before."""
        return 0.0 if self.used else self.sheet.width_mm * self.sheet.height_mm


@dataclass(frozen=True, slots=True)
class Stock:
    """All kinds of sheets, the one to be preferred first; the distance between pieces is the same on all of them."""

    kinds: tuple[StockSheet, ...]

    def __post_init__(self) -> None:
        """Refuse an empty stock and two distances."""
        if not self.kinds or len({kind.sheet.apart_mm for kind in self.kinds}) > 1:
            raise ValueError("a stock needs a kind of sheet, and one distance between pieces for all")

    @property
    def apart_mm(self) -> float:
        """The least distance between pieces."""
        return self.kinds[0].sheet.apart_mm


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Copies of one design that lie on no sheet, and why.

    ``width_mm`` and ``height_mm`` are the design's box at the turn that comes nearest to fitting the sheet of kind
    ``kind`` (its place in the stock), which is the kind it comes nearest to; ``usable_mm`` is that sheet's room.
    """

    design: int
    copies: int
    why: Why
    width_mm: float
    height_mm: float
    kind: int
    usable_mm: tuple[float, float]


def too_big(designs: Sequence[Design], stock: Stock) -> tuple[LeftOver, ...]:
    """Return the designs that fit no empty sheet of the stock at any turn tried, with all their copies."""
    nearest = [(i, design, _nearest_fit(design, stock)) for i, design in enumerate(designs)]
    return tuple(left_over(i, design, stock) for i, design, (over, *_) in nearest if over > FIT_SLACK_MM)


def left_over(
    index: int,
    design: Design,
    stock: Stock,
    copies: int | None = None,
    why: Literal["too big", "no sheet left"] = "too big",
) -> LeftOver:
    """Return the copies of a design (all of them unless told) as left over."""
    _, width, height, kind = _nearest_fit(design, stock)
    return LeftOver(
        index, design.copies if copies is None else copies, why, width, height, kind, stock.kinds[kind].sheet.usable_mm
    )


def turns_on(design: Design, stock: Stock) -> tuple[float, ...]:
    """Return the turns at which a design is laid; of a near-round one the first at which some sheet takes it."""
    turns = free_turns(design)
    if len(turns) > 1:
        return turns
    fitting = (turn for turn in all_turns(design) if _over(design, turn, stock)[0] <= FIT_SLACK_MM)
    return (next(fitting, turns[0]),)


def _nearest_fit(design: Design, stock: Stock) -> tuple[float, float, float, int]:
    """Return by how much a design is too big (mm, below 0 when it fits), its width and height then, and the kind."""
    return min(_over(design, turn, stock) for turn in all_turns(design))


def _over(design: Design, turn: float, stock: Stock) -> tuple[float, float, float, int]:
    """Return the same at one turn."""
    box, best = design.box(turn), (math.inf, 0.0, 0.0, 0)
    for k, kind in enumerate(stock.kinds):
        width, height = kind.sheet.usable_mm
        best = min(best, (max(box.width_mm - width, box.height_mm - height), box.width_mm, box.height_mm, k))
    return best


def preferences(stock: Stock) -> list[tuple[StockSheet, ...]]:
    """Return the orders in which kinds are opened: begun sheets first, then each new kind once before the others."""
    begun = [kind for kind in stock.kinds if kind.used]
    new = sorted((kind for kind in stock.kinds if not kind.used), key=lambda kind: kind.area_mm2)
    return [(*begun, kind, *(k for k in new if k is not kind)) for kind in new] or [tuple(begun)]
