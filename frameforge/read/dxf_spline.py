"""SPLINE entities of a DXF as cubics."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from frameforge.geometry.cubic import Cubic

__all__ = ["spline_cubics"]

STEP: Final = 4
"""Cubics a span, for splines that are no polynomial of degree 3 at most."""


def spline_cubics(tool: Any, factor: float) -> list[Cubic]:
    """Return the cubics of an ezdxf BSpline, its lengths times ``factor``.

    Exact for polynomials up to degree 3, whether the spline ends at its outer poles or goes on around; others are
    close to 1e-4 of their size. Raises ValueError for knots that make no curve.
    """
    if tool.is_rational or tool.degree > 3:
        curves = (curve.control_points for curve in tool.cubic_bezier_approximation(level=STEP))
        return [Cubic(*(factor * complex(point[0], point[1]) for point in curve)) for curve in curves]
    poles = [factor * complex(point[0], point[1]) for point in tool.control_points]
    knots, degree = [float(knot) for knot in tool.knots()], int(tool.degree)
    if len(knots) != len(poles) + degree + 1 or any(b < a for a, b in pairwise(knots)):
        raise ValueError("knots and poles do not belong together")
    spans = [i for i in range(degree, len(poles)) if knots[i + 1] > knots[i]]
    return [_elevated([_blossom(poles, knots, degree, i, j) for j in range(degree + 1)]) for i in spans]


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
