"""What is allowed for a machine: nothing of it unless it was asked for."""

from __future__ import annotations

import math
from dataclasses import dataclass

__all__ = ["Allowances", "Bridges"]


@dataclass(frozen=True, slots=True)
class Bridges:
    """Short uncut bits of ``width_mm`` in the outside line: ``count`` of them, or one at least every ``every_mm``."""

    width_mm: float
    count: int | None = None
    every_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse a width or a number that holds nothing, and both ways of saying how many at once."""
        if not (math.isfinite(self.width_mm) and self.width_mm > 0):
            raise ValueError(f"a bridge of {self.width_mm} mm holds nothing")
        if (self.count is None) == (self.every_mm is None):
            raise ValueError("bridges need a number or a distance, and not both")
        if self.count is not None and self.count < 1:
            raise ValueError(f"{self.count} bridges hold nothing")
        if self.every_mm is not None and not self.every_mm > 0:
            raise ValueError(f"bridges every {self.every_mm} mm cannot be")

    def number_on(self, length_mm: float) -> int:
        """Return how many stand in a line of that length: at least 2 where they are told by their distance."""
        if self.count is not None:
            return self.count
        assert self.every_mm is not None
        return max(2, math.ceil(length_mm / self.every_mm - 1e-9))


@dataclass(frozen=True, slots=True)
class Allowances:
    """Kerf: width that the laser burns away. Overcut: how far the blade runs on beyond the start. Lead-in: how long
    the cut is in the waste before it comes to the line. All in mm, 0 for none."""

    kerf_mm: float = 0.0
    overcut_mm: float = 0.0
    lead_in_mm: float = 0.0
    bridges: Bridges | None = None

    def __post_init__(self) -> None:
        """Refuse lengths below zero."""
        for name in ("kerf_mm", "overcut_mm", "lead_in_mm"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"{name} is {value}; 0 or more is allowed")

    @property
    def opens_lines(self) -> bool:
        """Whether lines of the file are open: an exception from what is promised of cut files."""
        return bool(self.overcut_mm or self.lead_in_mm or self.bridges)

    @property
    def is_nothing(self) -> bool:
        """Whether the lines stay the bare outlines."""
        return not (self.kerf_mm or self.opens_lines)
