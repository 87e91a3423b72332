"""Builders of plain outlines: circle, ellipse, rectangle. Counter-clockwise, y up, starting at +x or lower left."""

from __future__ import annotations

import math

from frameforge.geometry.arc import Arc
from frameforge.geometry.outline import Outline

__all__ = ["circle", "ellipse", "rectangle"]


def circle(center: complex, radius_mm: float) -> Outline:
    """Return the circle as one arc of a full turn. Raises ValueError unless the radius is above 0."""
    return ellipse(center, radius_mm, radius_mm)


def ellipse(center: complex, half_width_mm: float, half_height_mm: float) -> Outline:
    """Return the upright ellipse as one arc of a full turn. Raises ValueError unless both half-axes are above 0."""
    if not (half_width_mm > 0 and half_height_mm > 0):
        raise ValueError(f"half-axes {half_width_mm} and {half_height_mm} mm must be above 0")
    arc = Arc.from_ellipse(center, complex(half_width_mm, 0), complex(0, half_height_mm), 0.0, math.tau)
    return Outline((arc,))


def rectangle(left: float, bottom: float, right: float, top: float) -> Outline:
    """Return the rectangle with the given sides (mm)."""
    corners = complex(left, bottom), complex(right, bottom), complex(right, top), complex(left, top)
    return Outline.from_points(corners)
