"""How far outlines reach to the left and to the right up to a level: what a foot stands on."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.tolerances import NATURAL_JOINT_MM

__all__ = ["Reach", "meetings"]


class Reach:
    """The outermost points of outlines at or below a level, solved on their true curves.

    As the level rises the reach never shrinks, so the level where it gets a given width can be bracketed.
    """

    __slots__ = ("_points", "_segments")

    def __init__(self, outlines: Iterable[Outline]) -> None:
        self._segments = tuple(segment for outline in outlines for segment in outline.segments)
        self._points = tuple(point for segment in self._segments for point in _turning_points(segment))

    @property
    def lowest(self) -> float:
        """Height of the lowest point (mm, y up)."""
        return min(point.imag for point in self._points)

    @property
    def highest(self) -> float:
        """Height of the highest point (mm, y up)."""
        return max(point.imag for point in self._points)

    def ends(self, level: float) -> tuple[complex, complex]:
        """Return the leftmost and the rightmost point at or below ``level``, of equal ones the lower.

        The level (y, mm) must not be below the lowest point.
        """
        found = [point for point in self._points if point.imag <= level + NATURAL_JOINT_MM]
        for segment in self._segments:
            found.extend(complex(segment.point(t).real, level) for t in meetings(segment, level))
        left = min(point.real for point in found) + NATURAL_JOINT_MM
        right = max(point.real for point in found) - NATURAL_JOINT_MM
        return (
            min((p for p in found if p.real <= left), key=_height),
            min((p for p in found if p.real >= right), key=_height),
        )

    def width_mm(self, level: float) -> float:
        """Return the distance between the two ends along the level, mm."""
        left, right = self.ends(level)
        return right.real - left.real

    def level_for(self, width_mm: float, low: float, high: float, *, within_mm: float) -> float:
        """Return the level between ``low`` and ``high`` from which on the reach is at least ``width_mm``.

        Accuracy: the level is above the true one by at most ``within_mm``. Where the reach jumps over the width (a
        second leg begins) the level is that of the jump. Raises ValueError when the reach at ``high`` is narrower.
        """
        if self.width_mm(high) < width_mm:
            raise ValueError(f"the reach at {high} is below {width_mm} mm")
        if self.width_mm(low) >= width_mm:
            return low
        while high - low > within_mm:
            middle = (low + high) / 2
            if self.width_mm(middle) < width_mm:
                low = middle
            else:
                high = middle
        return high


def _height(point: complex) -> float:
    return point.imag


def _turning_points(segment: Segment) -> list[complex]:
    """Return the ends of a segment and the points where it runs straight up or level: all its extremes."""
    ends = [segment.start, segment.end]
    if isinstance(segment, Line):
        return ends
    if isinstance(segment, Arc):
        across = math.atan2(segment.v.real, segment.u.real)
        along = math.atan2(segment.v.imag, segment.u.imag)
        inner = [t for q in (across, across + math.pi, along, along + math.pi) for t in _arc_parameters(segment, q)]
    else:
        d0, d1, d2 = segment.c1 - segment.start, segment.c2 - segment.c1, segment.end - segment.c2
        square, double = d0 - 2 * d1 + d2, 2 * (d1 - d0)
        inner = [
            *_roots((square.real, double.real, d0.real)),
            *_roots((square.imag, double.imag, d0.imag)),
        ]
    return ends + [segment.point(t) for t in inner]


def meetings(segment: Segment, level: float) -> list[float]:
    """Return the parameters t, inside the segment, where it meets the level line y = ``level`` (mm)."""
    if isinstance(segment, Line):
        rise = segment.end.imag - segment.start.imag
        t = (level - segment.start.imag) / rise if rise else -1.0
        return [t] if 0 < t < 1 else []
    if isinstance(segment, Arc):
        tall = math.hypot(segment.u.imag, segment.v.imag)
        part = (level - segment.center.imag) / tall if tall else 2.0
        if abs(part) > 1:
            return []
        top, aside = math.atan2(segment.v.imag, segment.u.imag), math.acos(part)
        return [t for q in (top - aside, top + aside) for t in _arc_parameters(segment, q)]
    y0, y1, y2, y3 = segment.start.imag, segment.c1.imag, segment.c2.imag, segment.end.imag
    if level < min(y0, y1, y2, y3) or level > max(y0, y1, y2, y3):
        return []
    return _roots((y3 - 3 * y2 + 3 * y1 - y0, 3 * (y2 - 2 * y1 + y0), 3 * (y1 - y0), y0 - level))


def _arc_parameters(arc: Arc, angle_rad: float) -> list[float]:
    """Return the parameters in 0..1 at which an arc passes an angle of its ellipse."""
    low = min(arc.start_rad, arc.start_rad + arc.sweep_rad)
    behind = (angle_rad - low) % math.tau
    t = behind / abs(arc.sweep_rad)
    if t > 1:
        return []
    return [t if arc.sweep_rad > 0 else 1 - t]


def _roots(coefficients: tuple[float, ...]) -> list[float]:
    """Return the real roots in 0..1 of a polynomial, highest power first."""
    if not any(coefficients[:-1]):
        return []
    roots = np.roots(coefficients)
    return [float(root.real) for root in roots if abs(root.imag) < 1e-9 and 0 <= root.real <= 1]
