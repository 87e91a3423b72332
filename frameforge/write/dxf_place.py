"""Where points come to lie in a DXF file: its unit, its origin, its decimals."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from frameforge.geometry.box import Box
from frameforge.tolerances import DXF_DECIMALS
from frameforge.units import INCH_MM
from frameforge.write.numbers import step_count
from frameforge.write.step import Point

__all__ = ["DxfPlace", "DxfUnit"]

DxfUnit = Literal["mm", "in"]
"""Unit of the numbers in a DXF file."""

_UNIT_MM: Final[dict[DxfUnit, float]] = {"mm": 1.0, "in": INCH_MM}
_DECIMALS: Final[dict[DxfUnit, int]] = {"mm": DXF_DECIMALS, "in": DXF_DECIMALS + 2}


@dataclass(frozen=True, slots=True)
class DxfPlace:
    """The map from the pieces' millimetres to a page's DXF coordinates: its lower left corner is 0, y up."""

    page: Box
    unit: DxfUnit = "mm"

    def steps(self, point: complex) -> Point:
        """Return the point in whole steps of the file's last decimal. Raises ValueError unless it is finite."""
        unit_mm = _UNIT_MM[self.unit]
        placed = complex((point.real - self.page.left) / unit_mm, (point.imag - self.page.bottom) / unit_mm)
        return step_count(placed, _DECIMALS[self.unit])

    def length(self, steps: Point) -> tuple[float, float]:
        """Return steps as coordinates in the unit of the file; the float nearest to the decimal."""
        scale = 10 ** _DECIMALS[self.unit]
        return steps[0] / scale, steps[1] / scale

    def of_mm(self, mm: float) -> float:
        """Return millimetres in the unit of the file, not rounded."""
        return mm / _UNIT_MM[self.unit]

    def size(self) -> tuple[float, float]:
        """Return width and height of the page in the unit of the file."""
        return self.length(self.steps(complex(self.page.right, self.page.top)))
