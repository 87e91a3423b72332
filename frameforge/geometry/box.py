"""Upright boxes: how far something reaches to the left, down, right and up."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Box"]


@dataclass(frozen=True, slots=True)
class Box:
    """The rectangle left <= x <= right, bottom <= y <= top (mm, y up); a point or an upright line is allowed."""

    left: float
    bottom: float
    right: float
    top: float

    def __post_init__(self) -> None:
        """Refuse sides that are not finite or stand the wrong way round."""
        if not all(math.isfinite(v) for v in (self.left, self.bottom, self.right, self.top)):
            raise ValueError(f"box is not finite: {self}")
        if self.left > self.right or self.bottom > self.top:
            raise ValueError(f"box is turned inside out: {self}")

    @classmethod
    def from_points(cls, points: Iterable[complex]) -> Box:
        """Return the smallest box that holds all ``points`` (at least one). Raises ValueError without any."""
        kept = tuple(points)
        if not kept:
            raise ValueError("a box needs at least one point")
        xs, ys = [p.real for p in kept], [p.imag for p in kept]
        return cls(min(xs), min(ys), max(xs), max(ys))

    @property
    def width_mm(self) -> float:
        """Extent from left to right."""
        return self.right - self.left

    @property
    def height_mm(self) -> float:
        """Extent from bottom to top."""
        return self.top - self.bottom

    @property
    def center(self) -> complex:
        """The middle of the box."""
        return complex((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def union(self, other: Box) -> Box:
        """Return the smallest box that holds both."""
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def grown(self, margin_mm: float) -> Box:
        """Return the box with every side moved outward by ``margin_mm`` (inward when negative)."""
        return Box(self.left - margin_mm, self.bottom - margin_mm, self.right + margin_mm, self.top + margin_mm)

    def contains(self, point: complex) -> bool:
        """Return whether the point lies in the box or on its edge."""
        return self.left <= point.real <= self.right and self.bottom <= point.imag <= self.top

    def overlaps(self, other: Box) -> bool:
        """Return whether the boxes share at least a point."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.bottom <= other.top
            and other.bottom <= self.top
        )
