"""Cubic Bézier segments."""

from __future__ import annotations

import cmath
from dataclasses import dataclass

from frameforge.geometry.affine import Affine

__all__ = ["Cubic"]


@dataclass(frozen=True, slots=True)
class Cubic:
    """The cubic Bézier curve from ``start`` to ``end`` with handles ``c1`` and ``c2`` (complex mm, y up)."""

    start: complex
    c1: complex
    c2: complex
    end: complex

    def __post_init__(self) -> None:
        """Refuse numbers that are not finite."""
        if not cmath.isfinite(self.start + self.c1 + self.c2 + self.end):
            raise ValueError(f"cubic is not finite: {self}")

    @classmethod
    def from_quadratic(cls, start: complex, control: complex, end: complex) -> Cubic:
        """Return the same curve as the quadratic Bézier, exactly (degree elevation)."""
        return cls(start, start + 2 / 3 * (control - start), end + 2 / 3 * (control - end), end)

    def point(self, t: float) -> complex:
        """Return P(t); t = 0 and t = 1 give the stored ends to the bit."""
        s = 1 - t
        return s * s * s * self.start + 3 * s * s * t * self.c1 + 3 * s * t * t * self.c2 + t * t * t * self.end

    def velocity(self, t: float) -> complex:
        """Return P'(t)."""
        s = 1 - t
        d0, d1, d2 = self.c1 - self.start, self.c2 - self.c1, self.end - self.c2
        return 3 * (s * s * d0 + 2 * s * t * d1 + t * t * d2)

    def acceleration(self, t: float) -> complex:
        """Return P''(t)."""
        first = self.start - 2 * self.c1 + self.c2
        last = self.c1 - 2 * self.c2 + self.end
        return 6 * ((1 - t) * first + t * last)

    def reversed(self) -> Cubic:
        """Return the curve run the other way."""
        return Cubic(self.end, self.c2, self.c1, self.start)

    def transformed(self, affine: Affine) -> Cubic:
        """Return the image under an affine map."""
        return Cubic(affine.apply(self.start), affine.apply(self.c1), affine.apply(self.c2), affine.apply(self.end))

    def blossom(self, r: float, s: float, t: float) -> complex:
        """Return the polar form b(r, s, t); b(t, t, t) is P(t) (Farin, Curves and Surfaces for CAGD, ch. 4)."""
        a = self.start + r * (self.c1 - self.start)
        b = self.c1 + r * (self.c2 - self.c1)
        c = self.c2 + r * (self.end - self.c2)
        d = a + s * (b - a)
        return d + t * (b + s * (c - b) - d)

    def piece(self, t0: float, t1: float) -> Cubic:
        """Return the part from P(t0) to P(t1), by blossoming; t1 < t0 runs backwards."""
        return Cubic(
            self.point(t0),
            self.blossom(t0, t0, t1),
            self.blossom(t0, t1, t1),
            self.point(t1),
        )

    def with_ends(self, start: complex, end: complex) -> Cubic:
        """Return the curve with its ends replaced by points that differ by rounding only."""
        return Cubic(start, self.c1, self.c2, end)
