"""Straight segments."""

from __future__ import annotations

import cmath
from dataclasses import dataclass

from frameforge.geometry.affine import Affine

__all__ = ["Line"]


@dataclass(frozen=True, slots=True)
class Line:
    """The straight segment from ``start`` to ``end`` (complex mm, y up), P(t) = start + t (end - start)."""

    start: complex
    end: complex

    def __post_init__(self) -> None:
        """Refuse numbers that are not finite."""
        if not cmath.isfinite(self.start + self.end):
            raise ValueError(f"line is not finite: {self}")

    def point(self, t: float) -> complex:
        """Return P(t); t = 0 and t = 1 give the stored ends to the bit."""
        if t == 1:
            return self.end
        return self.start + t * (self.end - self.start)

    def velocity(self, t: float) -> complex:
        """Return P'(t), the same at every t."""
        return self.end - self.start

    def acceleration(self, t: float) -> complex:
        """Return P''(t), zero."""
        return 0j

    def reversed(self) -> Line:
        """Return the segment run the other way."""
        return Line(self.end, self.start)

    def transformed(self, affine: Affine) -> Line:
        """Return the image under an affine map."""
        return Line(affine.apply(self.start), affine.apply(self.end))

    def piece(self, t0: float, t1: float) -> Line:
        """Return the part from P(t0) to P(t1); t1 < t0 runs backwards."""
        return Line(self.point(t0), self.point(t1))

    def with_ends(self, start: complex, end: complex) -> Line:
        """Return the segment with its ends replaced by points that differ by rounding only."""
        return Line(start, end)
