"""What a search is given."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.sheet.design import Design
from frameforge.sheet.progress import Budget
from frameforge.sheet.stock import Stock

__all__ = ["Task"]


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be laid, on what, how long it may be looked for, and at which turns each design is tried."""

    designs: tuple[Design, ...]
    stock: Stock
    seed: int
    budget: Budget
    turns: tuple[tuple[float, ...], ...]
