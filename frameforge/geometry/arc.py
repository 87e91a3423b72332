"""Arcs of circles and ellipses, as one type closed under affine maps."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace

from frameforge.geometry.affine import Affine

__all__ = ["Arc", "principal_axes"]


@dataclass(frozen=True, slots=True)
class Arc:
    """P(t) = center + u cos(q) + v sin(q) with q = start_rad + t sweep_rad, complex mm, y up.

    ``u`` and ``v`` are conjugate half-axes: any affine image of a circle has this form. ``sweep_rad`` is signed, not
    0, at most a full turn; with u, v right-handed a positive sweep is counter-clockwise. ``start`` and ``end`` are
    stored so that neighbours in an outline share their joint to the bit; they equal P(0) and P(1) but for rounding.
    """

    start: complex
    end: complex
    center: complex
    u: complex
    v: complex
    start_rad: float
    sweep_rad: float

    def __post_init__(self) -> None:
        """Refuse numbers that are not finite and sweeps of zero or of more than a turn."""
        if not cmath.isfinite(self.start + self.end + self.center + self.u + self.v):
            raise ValueError(f"arc is not finite: {self}")
        if not 0 < abs(self.sweep_rad) <= math.tau * (1 + 1e-12) or not math.isfinite(self.start_rad):
            raise ValueError(f"arc sweeps {self.sweep_rad} rad; it must be above 0 and at most a turn")

    @classmethod
    def from_ellipse(cls, center: complex, u: complex, v: complex, start_rad: float, sweep_rad: float) -> Arc:
        """Return the arc with its ends computed; a full turn starts and ends in the same bits."""
        start = center + u * math.cos(start_rad) + v * math.sin(start_rad)
        if abs(sweep_rad) == math.tau:
            return cls(start, start, center, u, v, start_rad, sweep_rad)
        q = start_rad + sweep_rad
        return cls(start, center + u * math.cos(q) + v * math.sin(q), center, u, v, start_rad, sweep_rad)

    @classmethod
    def from_circle(cls, center: complex, radius: float, start_rad: float, sweep_rad: float) -> Arc:
        """Return the circular arc; angles counter-clockwise from +x."""
        return cls.from_ellipse(center, complex(radius, 0), complex(0, radius), start_rad, sweep_rad)

    @classmethod
    def from_bulge(cls, start: complex, end: complex, bulge: float) -> Arc:
        """Return the circular arc over a chord; bulge = tan(sweep/4), positive counter-clockwise (DXF reference).

        Raises ValueError for a bulge of 0, which is a line, and for a chord without length.
        Derivation: with half chord h = (end - start)/2 the centre is mid + i h (1 - bulge^2)/(2 bulge).
        """
        if not (bulge and start != end):
            raise ValueError(f"bulge {bulge} over the chord from {start} to {end} is no arc")
        half = (end - start) / 2
        center = (start + end) / 2 + 1j * half * (1 - bulge * bulge) / (2 * bulge)
        radius = abs(half) * (1 + bulge * bulge) / (2 * abs(bulge))
        start_rad = cmath.phase(start - center)
        return cls(start, end, center, complex(radius, 0), complex(0, radius), start_rad, 4 * math.atan(bulge))

    @property
    def is_circular(self) -> bool:
        """Whether u and v are perpendicular and equally long, to 1e-12 of the radius."""
        return abs(self.u * 1j - self.v) <= 1e-12 * abs(self.u) or abs(self.u * 1j + self.v) <= 1e-12 * abs(self.u)

    @property
    def turns_left(self) -> bool:
        """Whether the arc runs counter-clockwise (y up)."""
        return ((self.u.conjugate() * self.v).imag > 0) == (self.sweep_rad > 0)

    @property
    def greatest_radius(self) -> float:
        """Upper bound of the distance from the centre, mm; exact for circles and for perpendicular half-axes."""
        if self.is_circular or abs((self.u.conjugate() * self.v).real) <= 1e-12 * abs(self.u) * abs(self.v):
            return max(abs(self.u), abs(self.v))
        return self.principal_axes[0]

    @property
    def principal_axes(self) -> tuple[float, float, float]:
        """Return (long half-axis mm, short half-axis mm, angle of the long one in rad from +x)."""
        return principal_axes(self.u, self.v)

    def angle(self, t: float) -> float:
        """Return the parameter angle q at t, in radians."""
        return self.start_rad + t * self.sweep_rad

    def point(self, t: float) -> complex:
        """Return P(t); t = 0 and t = 1 give the stored ends to the bit."""
        if t == 0:
            return self.start
        if t == 1:
            return self.end
        q = self.angle(t)
        return self.center + self.u * math.cos(q) + self.v * math.sin(q)

    def velocity(self, t: float) -> complex:
        """Return P'(t) with respect to t."""
        q = self.angle(t)
        return self.sweep_rad * (self.v * math.cos(q) - self.u * math.sin(q))

    def acceleration(self, t: float) -> complex:
        """Return P''(t) with respect to t."""
        q = self.angle(t)
        return -self.sweep_rad * self.sweep_rad * (self.u * math.cos(q) + self.v * math.sin(q))

    def reversed(self) -> Arc:
        """Return the arc run the other way."""
        return Arc(self.end, self.start, self.center, self.u, self.v, self.start_rad + self.sweep_rad, -self.sweep_rad)

    def transformed(self, affine: Affine) -> Arc:
        """Return the image under an affine map."""
        return Arc(
            affine.apply(self.start),
            affine.apply(self.end),
            affine.apply(self.center),
            affine.apply_vector(self.u),
            affine.apply_vector(self.v),
            self.start_rad,
            self.sweep_rad,
        )

    def piece(self, t0: float, t1: float) -> Arc:
        """Return the part from P(t0) to P(t1), t0 != t1; t1 < t0 runs backwards."""
        return Arc(
            self.point(t0), self.point(t1), self.center, self.u, self.v,
            self.angle(t0), (t1 - t0) * self.sweep_rad,
        )  # fmt: skip

    def with_ends(self, start: complex, end: complex) -> Arc:
        """Return the arc with its stored ends replaced by points that differ by rounding only."""
        return replace(self, start=start, end=end)


def principal_axes(u: complex, v: complex) -> tuple[float, float, float]:
    """Return long and short half-axis (mm) of the ellipse u cos q + v sin q, and the long one's angle, rad from +x."""
    # u cos q + v sin q = (p e^iq + m e^-iq) with p = (u - iv)/2, m = (u + iv)/2: a sum of two opposite turns.
    p, m = (u - 1j * v) / 2, (u + 1j * v) / 2
    angle = (cmath.phase(p) + cmath.phase(m)) / 2 if p and m else 0.0
    return abs(p) + abs(m), abs(abs(p) - abs(m)), angle
