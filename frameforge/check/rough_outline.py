"""rough-outline: a place where the edge could not be followed on its true curves, and is cut as short lines."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.finding import Finding
from frameforge.tolerances import SAME_PLACE_MM

__all__ = ["find_rough_outlines"]


def find_rough_outlines(spots: Iterable[complex]) -> tuple[Finding, ...]:
    """Return a warning for each of the spots (mm) that whoever united the shapes names; spots at one place count once.

    The measure is missing: an edge is exact or it is not.
    """
    kept: list[complex] = []
    for spot in spots:
        if all(abs(spot - other) > SAME_PLACE_MM for other in kept):
            kept.append(spot)
    say = "The edge could not be followed exactly here, and is cut as short lines. Move one of the shapes a little."
    return tuple(Finding("rough-outline", "warning", say, x_mm=spot.real, y_mm=spot.imag) for spot in kept)
