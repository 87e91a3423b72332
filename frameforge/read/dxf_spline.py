"""SPLINE entities of a DXF as cubics."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

import numpy as np

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.cubic_fit import Span, Stretch, fit_curves
from frameforge.geometry.segment_table import Complexes, Floats, Ints
from frameforge.tolerances import MIN_CHORD_MM, SPLINE_FIT_MM

__all__ = ["is_exact", "spline_cubics"]

FOOT_STEPS: Final = 4
"""Newton steps to the point of a spline that is nearest to another one close by."""


def spline_cubics(tool: Any, factor: float) -> list[Cubic]:
    """Return the cubics of an ezdxf BSpline, its lengths times ``factor``.

    Exact for polynomials up to degree 3, whether the spline ends at its outer poles or goes on around; others are
    within ``SPLINE_FIT_MM``. Raises ValueError for knots that make no curve, and for a curve too wild to be followed.
    """
    if not is_exact(tool):
        return _fitted(tool, factor)
    poles = [factor * complex(point[0], point[1]) for point in tool.control_points]
    knots, degree = [float(knot) for knot in tool.knots()], int(tool.degree)
    if len(knots) != len(poles) + degree + 1 or any(b < a for a, b in pairwise(knots)):
        raise ValueError("knots and poles do not belong together")
    spans = [i for i in range(degree, len(poles)) if knots[i + 1] > knots[i]]
    return [_elevated([_blossom(poles, knots, degree, i, j) for j in range(degree + 1)]) for i in spans]


def is_exact(tool: Any) -> bool:
    """Return whether a spline is a polynomial of degree 3 at most, so that cubics are the very same curve."""
    return not tool.is_rational and int(tool.degree) <= 3


def _fitted(tool: Any, factor: float) -> list[Cubic]:
    """Return cubics fitted to a spline, one or more for each of its spans."""
    knots = sorted({float(knot) for knot in tool.knots()})
    low, high = (float(tool.knots()[k]) for k in (int(tool.degree), len(tool.control_points)))
    inner = [knot for knot in knots if low <= knot <= high]
    spline = _Spline(tool, factor)
    fits = fit_curves(spline, [Stretch(0, a, b, SPLINE_FIT_MM) for a, b in pairwise(inner)])
    spans = [span for fit in fits for span in fit]
    t = np.array([[span.t0, span.t1] for span in spans])
    if not spans or spline.off_mm_of(spans) > SPLINE_FIT_MM:
        raise ValueError("no cubics come near enough")
    points, ways = spline.place(np.zeros_like(t, dtype=np.int64), t)
    found: list[Cubic] = []
    for (p, q), (v, w), span in zip(points.tolist(), ways.tolist(), spans, strict=True):
        found.append(Cubic(found[-1].end if found else p, p + span.near_mm * v, q - span.far_mm * w, q))
    return found


@dataclass(frozen=True, slots=True, eq=False)
class _Spline:
    """A spline as the one curve of a fit; its parameter is that of its knots."""

    tool: Any
    factor: float

    def speed(self, rows: Ints, t: Floats) -> Floats:
        """Return the length passed per t, mm."""
        return np.asarray(np.abs(self._at(t)[1]))

    def place(self, rows: Ints, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points (mm) and unit tangents."""
        point, velocity = self._at(t)
        return point, velocity / np.maximum(np.abs(velocity), 1e-300)

    def off_mm(self, rows: Ints, t: Floats, ends: tuple[Floats, Floats], points: Complexes) -> Floats:
        """Return how far points lie from the spline; their feet are found by Newton without its bend."""
        low, high = ends
        for _ in range(FOOT_STEPS):
            there, velocity = self._at(t)
            step = (velocity.conj() * (there - points)).real / np.maximum(np.abs(velocity) ** 2, MIN_CHORD_MM**2)
            t = np.clip(t - step, low, high)
        return np.asarray(np.abs(self._at(t)[0] - points))

    def off_mm_of(self, spans: Sequence[Span]) -> float:
        """Return how far the middles of fitted cubics lie from the spline, mm."""
        t = np.array([[span.t0, (span.t0 + span.t1) / 2, span.t1] for span in spans])
        points, ways = self.place(np.zeros_like(t, dtype=np.int64), t)
        near, far = (np.array([getattr(span, name) for span in spans]) for name in ("near_mm", "far_mm"))
        p, q = points[:, 0], points[:, 2]
        middle = (p + 3 * (p + near * ways[:, 0]) + 3 * (q - far * ways[:, 2]) + q) / 8
        ends = t[:, :1], t[:, 2:]
        return float(self.off_mm(np.zeros((len(spans), 1), np.int64), t[:, 1:2], ends, middle[:, None]).max())

    def _at(self, t: Floats) -> tuple[Complexes, Complexes]:
        """Return points and velocities, mm."""
        rows = list(self.tool.derivatives(np.ravel(t).tolist(), 1))
        flat = np.array([[complex(v.x, v.y) for v in row] for row in rows]) * self.factor
        return flat[:, 0].reshape(t.shape), flat[:, 1].reshape(t.shape)


def _blossom(poles: Sequence[complex], knots: Sequence[float], degree: int, span: int, ends: int) -> complex:
    """Return the pole of the Bezier curve of a span: the blossom at its start, and ``ends`` times at its end.

    de Boor's scheme with another argument in each round (L. Ramshaw, 1989, Computer Aided Geometric Design 6,
    323-358).
    """
    local = list(poles[span - degree : span + 1])
    for step in range(1, degree + 1):
        at = knots[span + 1] if step <= ends else knots[span]
        for k in range(degree, step - 1, -1):
            low, high = knots[k + span - degree], knots[k + 1 + span - step]
            share = (at - low) / (high - low)
            local[k] = (1 - share) * local[k - 1] + share * local[k]
    return local[degree]


def _elevated(poles: list[complex]) -> Cubic:
    """Return a Bezier curve of degree 1 to 3 as a cubic."""
    while len(poles) < 4:
        n = len(poles)
        between = [(k * poles[k - 1] + (n - k) * poles[k]) / n for k in range(1, n)]
        poles = [poles[0], *between, poles[-1]]
    return Cubic(*poles)
