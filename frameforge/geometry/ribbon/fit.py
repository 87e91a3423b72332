"""Cubics fitted to the parallel curves of cubics and elliptical arcs, many at once.

For a curve P with unit tangent T and curvature k, the parallel at the distance d to the right is Q = P - i d T; its
velocity is P' (1 + d k), so the two run alike while the **speed factor** 1 + d k is above 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.cubic_fit import Span, Stretch, fit_curves
from frameforge.geometry.segment_table import Complexes, Floats, Ints, SegmentTable
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["Span", "Stretch", "fit_parallels"]


def fit_parallels(table: SegmentTable, stretches: Sequence[Stretch], distance_mm: float) -> list[tuple[Span, ...]]:
    """Return the spans of every stretch, in order, as few as found.

    Along a stretch the speed factor must not be negative. How near the cubics lie to the exact parallel is measured
    from the source at 65 points of each.
    """
    return fit_curves(_Parallels(table, distance_mm), stretches)


@dataclass(frozen=True, slots=True, eq=False)
class _Parallels:
    """The parallels of all curves of a table."""

    table: SegmentTable
    distance_mm: float

    def speed(self, rows: Ints, t: Floats) -> Floats:
        """Return the length passed per t, mm: 0 where the parallel runs against its source."""
        table = self.table
        velocity = table.velocity(rows, t)
        cross = (velocity.conj() * table.acceleration(rows, t)).imag
        factor = 1 + self.distance_mm * cross / np.maximum(abs(velocity) ** 3, 1e-300)
        return np.asarray(abs(velocity) * np.maximum(factor, 0))

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points of the parallels at t, and the unit tangents there."""
        velocity = self.table.velocity(rows, t)
        speed = abs(velocity)
        # Where a handle lies on its end the velocity is 0 there; the tangent is that of a place close by.
        still = speed <= MIN_CHORD_MM
        if still.any():
            nearby = np.clip(t, t.min(axis=1, keepdims=True) + 1e-6, t.max(axis=1, keepdims=True) - 1e-6)
            velocity = np.where(still, self.table.velocity(rows, nearby), velocity)
            speed = abs(velocity)
        tangent = velocity / np.maximum(speed, 1e-300)
        return self.table.point(rows, t) - 1j * self.distance_mm * tangent, tangent

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        """Return how far points lie from the exact parallels: their distance to the source less that of the parallel.

        The foot points on the source are found by Newton.
        """
        table, (low, high) = self.table, ends
        for _ in range(4):
            apart, velocity = table.point(rows, t) - points, table.velocity(rows, t)
            slope = (velocity.conj() * apart).real
            bend = abs(velocity) ** 2 + (table.acceleration(rows, t).conj() * apart).real
            bend = np.maximum(bend, 1e-3 * abs(velocity) ** 2 + MIN_CHORD_MM**2)
            t = np.clip(t - slope / bend, low, high)
        return np.asarray(np.abs(abs(table.point(rows, t) - points) - abs(self.distance_mm)))
