"""Whether lines of a DXF cross: where card is hair-thin, arcs that follow curves may reach over each other."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.write.polyline import Polyline

__all__ = ["is_card"]

_LEAST_BULGE: Final = 1e-12
_MOST_CHORDS: Final = 4096

Points = npt.NDArray[np.complex128]


def is_card(outer: Polyline, holes: Iterable[Polyline], chord: float) -> bool:
    """Return whether an outline with holes neither crosses itself nor any other of them.

    Arcs are looked at as chords that stay within ``chord`` of them, in the unit of the vertices.
    """
    rings = [_ring(_flat(line, chord)) for line in (outer, *holes)]
    if any(len(ring) < 4 for ring in rings):
        return False
    return bool(shapely.is_valid(shapely.Polygon(rings[0], rings[1:])))


def _ring(points: Points) -> npt.NDArray[np.float64]:
    """Return points as a closed ring of coordinates."""
    closed = np.append(points, points[:1])
    return np.stack([closed.real, closed.imag], axis=-1)


def _flat(line: Polyline, chord: float) -> Points:
    """Return the points of a closed polyline with its arcs as chords."""
    x, y, bulge = np.array(line.vertices).T
    start = x + 1j * y
    end = np.roll(start, -1)
    sweep = 4 * np.arctan(bulge)
    counts = _counts(np.abs(end - start), np.abs(sweep), chord)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    part = (np.arange(counts.sum()) - first) / np.repeat(counts, counts)
    is_arc = np.abs(bulge) > _LEAST_BULGE
    # On a circle the way from the start to a point is e^(i a/2) sin(a/2) / (e^(i s/2) sin(s/2)) of the chord.
    half = np.where(is_arc, sweep / 2, 1.0)
    of_arc = np.exp(1j * np.repeat(half, counts) * (part - 1)) * np.sin(part * np.repeat(half, counts))
    share = np.where(np.repeat(is_arc, counts), of_arc / np.repeat(np.sin(half), counts), part)
    return np.asarray(np.repeat(start, counts) + share * np.repeat(end - start, counts))


def _counts(across: npt.NDArray[np.float64], sweep: npt.NDArray[np.float64], chord: float) -> npt.NDArray[np.int64]:
    """Return how many chords each arc takes; a line takes one. The rise of a chord over an angle a is r a^2 / 8."""
    radius = across / np.maximum(2 * np.sin(sweep / 2), _LEAST_BULGE)
    step = np.sqrt(8 * chord / np.maximum(radius, chord))
    return np.asarray(np.maximum(1, np.ceil(np.minimum(sweep / step, _MOST_CHORDS))), dtype=np.int64)
