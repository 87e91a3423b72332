"""Between the maker's numbers and ours: directions on the clock and angles of mathematics.

A recipe, an option and a report count degrees clockwise from the top. Inside functions angles are radians,
counter-clockwise from +x. Only this module converts.
"""

from __future__ import annotations

import math

__all__ = ["to_clock_deg", "to_math_rad"]


def to_math_rad(clock_deg: float) -> float:
    """Return the angle counter-clockwise from +x, in radians, of a direction clockwise from the top, in degrees.

    Quarter turns are not rounded to exact sines: ``to_math_rad(0)`` is pi/2. Nothing is reduced to one turn.
    """
    return math.radians(90.0 - clock_deg)


def to_clock_deg(math_rad: float) -> float:
    """Return the direction clockwise from the top, 0 <= deg < 360, of an angle counter-clockwise from +x."""
    deg = (90.0 - math.degrees(math_rad)) % 360.0
    return 0.0 if deg == 360.0 else deg
