"""Affine maps of the plane, points being complex numbers in millimetres, y up."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from typing import overload

import numpy as np
import numpy.typing as npt

__all__ = ["IDENTITY", "Affine"]

ComplexArray = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class Affine:
    """The map z -> a z + b conj(z) + c.

    Every affine map has this form: a alone turns and scales, b alone mirrors, c moves. The usual matrix rows
    (m11 m12 tx), (m21 m22 ty) are a = (m11 + m22)/2 + i (m21 - m12)/2, b = (m11 - m22)/2 + i (m21 + m12)/2.
    """

    a: complex = 1
    b: complex = 0
    c: complex = 0

    def __post_init__(self) -> None:
        """Refuse numbers that are not finite."""
        if not (cmath.isfinite(self.a) and cmath.isfinite(self.b) and cmath.isfinite(self.c)):
            raise ValueError(f"affine map is not finite: {self}")

    @classmethod
    def from_matrix(cls, m11: float, m12: float, m21: float, m22: float, tx: float, ty: float) -> Affine:
        """Return the map (x, y) -> (m11 x + m12 y + tx, m21 x + m22 y + ty)."""
        return cls(
            complex(m11 + m22, m21 - m12) / 2,
            complex(m11 - m22, m21 + m12) / 2,
            complex(tx, ty),
        )

    @classmethod
    def from_move(cls, by: complex) -> Affine:
        """Return the map that moves every point by ``by`` mm."""
        return cls(1, 0, by)

    @classmethod
    def from_turn(cls, angle_rad: float, about: complex = 0) -> Affine:
        """Return the counter-clockwise turn by ``angle_rad`` about a point."""
        a = cmath.rect(1, angle_rad)
        return cls(a, 0, about - a * about)

    @classmethod
    def from_scale(cls, factor: float, about: complex = 0) -> Affine:
        """Return the uniform scaling by ``factor`` about a point."""
        return cls(factor, 0, about * (1 - factor))

    @classmethod
    def from_mirror(cls, axis_rad: float = math.pi / 2, through: complex = 0) -> Affine:
        """Return the reflection in the line through a point at ``axis_rad`` from +x (default: left to right)."""
        b = cmath.rect(1, 2 * axis_rad)
        return cls(0, b, through - b * through.conjugate())

    @property
    def determinant(self) -> float:
        """Signed factor by which areas grow; negative for maps that mirror, 0 for maps that flatten."""
        return abs(self.a) ** 2 - abs(self.b) ** 2

    @property
    def is_similarity(self) -> bool:
        """Whether circles stay circles, to 1e-12 of the scale."""
        small, large = sorted((abs(self.a), abs(self.b)))
        return small <= 1e-12 * large

    @property
    def greatest_stretch(self) -> float:
        """Largest factor by which the map lengthens a line (the larger singular value)."""
        return abs(self.a) + abs(self.b)

    @overload
    def apply(self, z: complex) -> complex: ...
    @overload
    def apply(self, z: ComplexArray) -> ComplexArray: ...
    def apply(self, z: complex | ComplexArray) -> complex | ComplexArray:
        """Return the image of a point, or of an array of points."""
        if not self.b:
            return self.a * z + self.c
        return self.a * z + self.b * z.conjugate() + self.c

    def apply_vector(self, z: complex) -> complex:
        """Return the image of a direction or half-axis: the move c is left out."""
        return self.a * z + self.b * z.conjugate()

    def after(self, first: Affine) -> Affine:
        """Return the map that does ``first`` and then this one."""
        return Affine(
            self.a * first.a + self.b * first.b.conjugate(),
            self.a * first.b + self.b * first.a.conjugate(),
            self.apply(first.c),
        )

    def inverse(self) -> Affine:
        """Return the inverse map. Raises ValueError when the map flattens the plane."""
        d = self.determinant
        if d == 0:
            raise ValueError("a map with determinant 0 has no inverse")
        a, b = self.a.conjugate() / d, -self.b / d
        return Affine(a, b, -(a * self.c + b * self.c.conjugate()))


IDENTITY = Affine()
