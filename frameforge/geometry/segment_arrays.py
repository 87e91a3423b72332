"""Many segments as arrays, so that thousands of them are measured in one pass."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment

__all__ = ["Complexes", "Floats", "SegmentArrays", "segment_arrays"]

Floats = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]


class SegmentArrays(NamedTuple):
    """Segments sorted by kind, one row a segment.

    ``lines``: start, end. ``arcs``: start, end, centre, u, v; ``angles``: start and sweep of the same arcs, rad.
    ``cubics``: start, c1, c2, end.
    """

    lines: Complexes
    arcs: Complexes
    angles: Floats
    cubics: Complexes


def segment_arrays(segments: Iterable[Segment]) -> SegmentArrays:
    """Return the segments as arrays, the order kept within each kind; a kind that does not occur has no rows."""
    lines: list[tuple[complex, ...]] = []
    arcs: list[tuple[complex, ...]] = []
    angles: list[tuple[float, float]] = []
    cubics: list[tuple[complex, ...]] = []
    for s in segments:
        if isinstance(s, Cubic):
            cubics.append((s.start, s.c1, s.c2, s.end))
        elif isinstance(s, Arc):
            arcs.append((s.start, s.end, s.center, s.u, s.v))
            angles.append((s.start_rad, s.sweep_rad))
        elif isinstance(s, Line):
            lines.append((s.start, s.end))
    return SegmentArrays(
        np.array(lines, dtype=np.complex128).reshape(-1, 2),
        np.array(arcs, dtype=np.complex128).reshape(-1, 5),
        np.array(angles, dtype=np.float64).reshape(-1, 2),
        np.array(cubics, dtype=np.complex128).reshape(-1, 4),
    )
