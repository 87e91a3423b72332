"""Drawings whose lines cross each other so often that no knife could follow, refused before they are united.

The number of crossings is estimated from a sample, since counting them all is the very work to be spared.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.errors import InputError
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.read.svg_scene import Shape

__all__ = ["refuse_crowd"]

_FEW: Final = 150
_SAMPLE: Final = 200
_GREATEST_CROSSINGS: Final = 25_000
_CUBIC: Final = 6
"""What a crossing of a cubic costs, in crossings of lines."""
_STROKED: Final = 6
"""What a crossing of widened lines costs: four corners, each found twice."""
_STEPS: Final = 6


def refuse_crowd(shapes: Iterable[Shape], *, where: str) -> None:
    """Raise InputError where the lines of shapes cross each other, and themselves, more than some 25,000 times.

    Crossings of cubics and of lines with a stroke count several times, by the work they make.
    """
    segments: list[Segment] = []
    weights: list[int] = []
    for shape in shapes:
        found = [s for subpath in shape.subpaths for s in subpath.transformed(shape.affine).segments]
        factor = 1 if shape.style.stroke.kind == "none" else _STROKED
        segments += found
        weights += [_CUBIC * factor if isinstance(segment, Cubic) else factor for segment in found]
    if len(segments) > _FEW:
        crossings = _estimated(segments, np.array(weights))
        if crossings > _GREATEST_CROSSINGS:
            raise InputError(
                f"its lines cross each other some {crossings:.0f} times, {_GREATEST_CROSSINGS} is the most. "
                "Simplify the drawing, or save only the motif itself.",
                where=where, code="too-large", found=crossings, limit=_GREATEST_CROSSINGS,
            )  # fmt: skip


def _estimated(segments: Sequence[Segment], weights: npt.NDArray[np.int_]) -> float:
    """Return about how many crossings there are, weighted."""
    chords = _chords(segments)
    sample = np.unique(np.linspace(0, len(segments) - 1, min(len(segments), _SAMPLE)).astype(int))
    met = shapely.STRtree(chords).query(chords[sample], predicate="intersects")
    hits = np.bincount(met[0], minlength=len(sample)) - 3.0  # itself and its two neighbours
    return float(np.sum(np.maximum(hits, 0) * weights[sample]) / len(sample) * len(segments) / 2)


def _chords(segments: Sequence[Segment]) -> npt.NDArray[np.object_]:
    """Return each segment as a few chords, a line string."""
    points: list[complex] = []
    owners: list[int] = []
    for number, segment in enumerate(segments):
        if isinstance(segment, Line):
            found = [segment.start, segment.end]
        else:
            found = [segment.point(i / _STEPS) for i in range(_STEPS + 1)]
        points += found
        owners += [number] * len(found)
    flat = np.array(points)
    return np.asarray(shapely.linestrings(flat.real, flat.imag, indices=owners), dtype=object)
