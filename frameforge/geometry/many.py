"""Points, velocities and accelerations of many segments at once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment

__all__ = ["Many"]

Floats = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]
Index = npt.NDArray[np.intp]


class Many:
    """Segments of any kind, numbered in their order; answers for arrays of (number, t) of one shape.

    One formula serves all kinds: a + b t + c t^2 + d t^3 + u cos q + v sin q with q = start + sweep t; lines and
    cubics have no u and v, arcs have only a.
    """

    __slots__ = ("_angles", "_axes", "_powers", "bend", "count", "has_arcs")

    def __init__(self, segments: Sequence[Segment]) -> None:
        self.count = len(segments)
        rows = [_row(segment) for segment in segments]
        self._powers: Complexes = np.array([r[0] for r in rows], dtype=np.complex128).reshape(-1, 4)
        self._axes: Complexes = np.array([r[1] for r in rows], dtype=np.complex128).reshape(-1, 2)
        self._angles: Floats = np.array([r[2] for r in rows], dtype=np.float64).reshape(-1, 2)
        self.has_arcs = any(isinstance(segment, Arc) for segment in segments)
        self.bend: Floats = np.array([r[3] for r in rows], dtype=np.float64)
        """Upper bound of |P''| for each segment: over a step h of t a chord is at most bend h^2 / 8 away (de Boor)."""

    def points(self, index: Index, t: Floats) -> Complexes:
        """Return P(t) of the segments with the given numbers."""
        a, b, c, d = (self._powers[index, k] for k in range(4))
        result = a + t * (b + t * (c + t * d))
        if self.has_arcs:
            q = self._angles[index, 0] + t * self._angles[index, 1]
            result = result + self._axes[index, 0] * np.cos(q) + self._axes[index, 1] * np.sin(q)
        return np.asarray(result)

    def velocities(self, index: Index, t: Floats) -> Complexes:
        """Return P'(t) with respect to t."""
        b, c, d = (self._powers[index, k] for k in (1, 2, 3))
        result = b + t * (2 * c + t * 3 * d)
        if self.has_arcs:
            w = self._angles[index, 1]
            q = self._angles[index, 0] + t * w
            result = result + w * (self._axes[index, 1] * np.cos(q) - self._axes[index, 0] * np.sin(q))
        return np.asarray(result)

    def accelerations(self, index: Index, t: Floats) -> Complexes:
        """Return P''(t) with respect to t."""
        c, d = self._powers[index, 2], self._powers[index, 3]
        result = 2 * c + 6 * t * d
        if self.has_arcs:
            w = self._angles[index, 1]
            q = self._angles[index, 0] + t * w
            result = result - w * w * (self._axes[index, 0] * np.cos(q) + self._axes[index, 1] * np.sin(q))
        return np.asarray(result)


Row = tuple[tuple[complex, ...], tuple[complex, complex], tuple[float, float], float]


def _row(segment: Segment) -> Row:
    """Return coefficients of t, half-axes, angles and the bound of |P''| of one segment."""
    if isinstance(segment, Arc):
        bend = segment.sweep_rad**2 * segment.greatest_radius
        return (segment.center, 0, 0, 0), (segment.u, segment.v), (segment.start_rad, segment.sweep_rad), bend
    if isinstance(segment, Cubic):
        first, last = segment.acceleration(0) / 2, segment.acceleration(1) / 2
        powers = (segment.start, 3 * (segment.c1 - segment.start), first, (last - first) / 3)
        return powers, (0, 0), (0.0, 0.0), 2 * max(abs(first), abs(last))
    return (segment.start, segment.end - segment.start, 0, 0), (0, 0), (0.0, 0.0), 0.0
