"""What a check found: plain data, never an error and never an edit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

__all__ = ["Finding", "Severity", "Unit"]

Severity = Literal["note", "warning", "refused"]
Unit = Literal["mm", "mm2", "deg", "count"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: a code of the word list, where it is, and what was measured against which limit.

    ``where`` is the place in the maker's words ("leaf 4, at 2 o'clock"); ``x_mm`` and ``y_mm`` are the same place
    in the piece's own millimetres, y up, or None where a place makes no sense. ``measured`` and ``limit`` carry
    ``unit`` and may both be None for a plain note. ``say`` is the whole sentence for the maker.
    """

    code: str
    severity: Severity
    say: str
    where: str = ""
    piece: str = ""
    x_mm: float | None = None
    y_mm: float | None = None
    measured: float | None = None
    limit: float | None = None
    unit: Unit = "mm"

    def __post_init__(self) -> None:
        """Refuse values that are not finite: they would end up in JSON and pictures."""
        for value in (self.x_mm, self.y_mm, self.measured, self.limit):
            if value is not None and not math.isfinite(value):
                raise ValueError(f"finding {self.code}: {value} is not finite")
