"""Where the cut of a line starts: on the base and not on a tip, away from corners and thin card."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from frameforge.machine.steady import SteadyLine

__all__ = ["starts_mm"]

CLEAR_MM = 1.0
"""So far from corners and thin card a start is as good as any."""
SAME_MM = 0.01
"""Places as far from the middle as this count as equally good; the topmost is taken."""


def starts_mm(line: SteadyLine, middle: complex | None) -> Iterator[float]:
    """Yield places along a line (mm) at which a cut may start, the best first.

    Steady places come first, ``CLEAR_MM`` and more from the next corner or thin place, then the steadier ones of
    the rest. With ``middle``, for the outside of a piece, nearer to it is better: that is the base, not the tips.
    Equally good ones from the top down, so that the start is the same whatever joint the outline begins at.
    """
    stations = line.stations_mm()
    clear = np.round(np.minimum(line.clear_mm(stations), CLEAR_MM), 3)
    points = line.points_near(stations)
    far = np.zeros(len(points)) if middle is None else np.round(np.abs(points - middle) / SAME_MM)
    order = np.lexsort((np.round(points.real, 6), -np.round(points.imag, 6), far, -clear))
    yield from (float(place) for place in stations[order])
