"""What is laid on sheets: designs with copies, sheets of card, and layouts. Lengths in mm, y up."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import Literal

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region

__all__ = ["Design", "Layout", "Placed", "Sheet", "Turning"]

Turning = Literal["free", "quarter", "half", "none"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of card: its size, the margin kept free at its edge, the least distance between pieces."""

    width_mm: float
    height_mm: float
    margin_mm: float = 5.0
    apart_mm: float = 3.0

    def __post_init__(self) -> None:
        """Refuse sheets without room inside the margin and distances below zero."""
        values = (self.width_mm, self.height_mm, self.margin_mm, self.apart_mm)
        if not all(math.isfinite(v) and v >= 0 for v in values) or min(self.usable_mm) <= 0:
            raise ValueError(f"sheet {self.width_mm} x {self.height_mm} mm with margin {self.margin_mm} mm has no room")

    @property
    def usable_mm(self) -> tuple[float, float]:
        """Width and height inside the margin."""
        return self.width_mm - 2 * self.margin_mm, self.height_mm - 2 * self.margin_mm


@dataclass(frozen=True, slots=True)
class Design:
    """One outline to be laid ``copies`` times: the regions of a piece, or of a bonded set that moves as one."""

    name: str
    regions: tuple[Region, ...]
    copies: int = 1
    turning: Turning = "free"

    def __post_init__(self) -> None:
        """Refuse a design without card and a number of copies below one."""
        if not self.regions or self.copies < 1:
            raise ValueError(f"design {self.name}: {len(self.regions)} regions, {self.copies} copies")

    @property
    def area_mm2(self) -> float:
        """Card of one copy, holes not counted."""
        return area_mm2(self.regions)

    def box(self, turn_deg: float = 0.0) -> Box:
        """Return the upright box of the design, turned counter-clockwise about 0."""
        return bounds(self.turned(turn_deg))

    def turned(self, turn_deg: float) -> tuple[Region, ...]:
        """Return the regions turned counter-clockwise about 0; quarter turns are exact."""
        quarter, rest = divmod(turn_deg, 90)
        factor = (1, 1j, -1, -1j)[int(quarter) % 4] if rest == 0 else cmath.rect(1, math.radians(turn_deg))
        return tuple(region.transformed(Affine(factor)) for region in self.regions) if factor != 1 else self.regions


@dataclass(frozen=True, slots=True)
class Placed:
    """One copy on a sheet: the centre of its turned box from the sheet's lower left, and its turn (counter-clockwise).

    ``copy`` counts from 1. ``inside_of`` is the place in the sheet's list of the piece whose opening holds it, or None.
    """

    design: int
    copy: int
    x_mm: float
    y_mm: float
    turn_deg: float
    inside_of: int | None = None

    def regions(self, designs: tuple[Design, ...]) -> tuple[Region, ...]:
        """Return the regions where they lie on the sheet."""
        turned = designs[self.design].turned(self.turn_deg)
        move = Affine.from_move(complex(self.x_mm, self.y_mm) - bounds(turned).center)
        return tuple(region.transformed(move) for region in turned)


@dataclass(frozen=True, slots=True)
class Layout:
    """All sheets, in order, each a tuple of what lies on it."""

    sheets: tuple[tuple[Placed, ...], ...]

    @property
    def count(self) -> int:
        """Number of pieces laid."""
        return sum(len(sheet) for sheet in self.sheets)
