"""How a drawing that is larger than the page is parted: pages that overlap, counted by rows from the upper left."""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["Tiling", "pages_along", "tiled"]

_WHOLE = 1e-9
"""A drawing longer than its pages by less than this part of one takes no further page: noise of the sums."""


def pages_along(length_mm: float, page_mm: float, overlap_mm: float) -> int:
    """Return how many pages take a length: ceil((W - o)/(p - o)), 1 at least.

    Raises ValueError unless the page is longer than the overlap and both are above 0.
    """
    if not page_mm > overlap_mm >= 0:
        raise ValueError(f"a page of {page_mm} mm with an overlap of {overlap_mm} mm leaves no room")
    return max(1, math.ceil((length_mm - overlap_mm) / (page_mm - overlap_mm) - _WHOLE))


@dataclass(frozen=True, slots=True)
class Tiling:
    """Pages side by side: columns and rows, the room on one page and how far neighbours overlap, mm."""

    columns: int
    rows: int
    width_mm: float
    height_mm: float
    overlap_mm: float

    @property
    def pages(self) -> int:
        """How many pages there are."""
        return self.columns * self.rows

    @property
    def whole_mm(self) -> tuple[float, float]:
        """Width and height of all pages laid over each other."""
        return (
            self.columns * (self.width_mm - self.overlap_mm) + self.overlap_mm,
            self.rows * (self.height_mm - self.overlap_mm) + self.overlap_mm,
        )

    def corner(self, column: int, row: int) -> complex:
        """Return the lower left corner of a page (from 0, row 0 at the top) where 0 is that of the whole."""
        x = column * (self.width_mm - self.overlap_mm)
        return complex(x, self.whole_mm[1] - row * (self.height_mm - self.overlap_mm) - self.height_mm)


def tiled(size_mm: tuple[float, float], page_mm: tuple[float, float], overlap_mm: float) -> Tiling:
    """Return the pages of a drawing; ``page_mm`` is the room on one of them. Raises ValueError as ``pages_along``."""
    columns, rows = (pages_along(size, page, overlap_mm) for size, page in zip(size_mm, page_mm, strict=True))
    return Tiling(columns, rows, *page_mm, overlap_mm)
