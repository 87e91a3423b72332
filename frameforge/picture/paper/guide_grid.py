"""A bare grid to lay any cut circle on: spokes with their degrees, circles, centre lines, a line for every foot.

Where a motif or a foot is given, the circle on which so many of them stand with the gap asked for is marked.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from frameforge.geometry.box import Box
from frameforge.geometry.shapes import circle
from frameforge.picture.paper.labels import Label, label_marks
from frameforge.picture.paper.marks import Marks, Stroke, Words, straight
from frameforge.units import format_deg, to_math_rad

__all__ = ["GridTaker", "grid_guide"]

_RING_GREY: Final = 0.55
_SPOKE_MM: Final = 0.15
_CROSS_MM: Final = 4.0
_TYPE_MM: Final = 2.2
_DASHES_MM: Final = (2.0, 1.2)


@dataclass(frozen=True, slots=True)
class GridTaker:
    """The circle that ``count`` of a motif go round: what is said of it, its diameter, and the foot's width, mm."""

    words: str
    size_mm: float
    foot_mm: float


def grid_guide(count: int, size_mm: float, ring_step_mm: float, ring_words: str, taker: GridTaker | None) -> Marks:
    """Return the grid of ``count`` spokes out to a circle of ``size_mm``, with a circle every ``ring_step_mm``.

    Circles are told by their diameters, ``ring_words`` being the unit they are told in ("mm" or "in").
    """
    radius = size_mm / 2
    strokes = [*_centre(radius), *_rings(radius, ring_step_mm)]
    words = [*_ring_words(radius, ring_step_mm, ring_words)]
    labels = []
    for k in range(count):
        degrees = 360 * k / count
        way = cmath.rect(1, to_math_rad(degrees))
        strokes.append(straight(0, way * (radius + 2), _SPOKE_MM))
        labels.append(Label(way * (radius + 2), way, str(k + 1), format_deg(degrees), k + 1))
    if taker is not None:
        strokes += _taken(count, taker)
        at = cmath.rect(taker.size_mm / 2 + 2.0, to_math_rad(180 / count))
        words.append(Words(at, taker.words, _TYPE_MM + 0.4, is_bold=True))
    marks = Marks(Box(-radius, -radius, radius, radius), tuple(strokes), tuple(words))
    for label in label_marks(labels):
        marks = marks.joined(label)
    return marks


def _centre(radius: float) -> Iterator[Stroke]:
    """Yield the cross in the middle and the two centre lines."""
    for way in (1, 1j):
        yield straight(-_CROSS_MM * way, _CROSS_MM * way, 0.3)
        yield straight(-radius * way, radius * way, 0.1, grey=_RING_GREY, dashes_mm=(4.0, 1.0, 0.6, 1.0))


def _rings(radius: float, step: float) -> Iterator[Stroke]:
    """Yield the circles, every fifth of them stronger, the outermost strongest."""
    for k in range(1, math.floor(radius / step + 1e-9) + 1):
        yield Stroke(circle(0, k * step).segments, 0.2 if k % 5 == 0 else 0.1, grey=0.3 if k % 5 == 0 else _RING_GREY)
    yield Stroke(circle(0, radius).segments, 0.35)


def _ring_words(radius: float, step: float, unit: str) -> Iterator[Words]:
    """Yield the diameters of the circles beside the line to the right."""
    scale = 25.4 if unit == "in" else 1.0
    for k in range(1, math.floor(radius / step + 1e-9) + 1):
        yield Words(complex(k * step - 0.5, 0.6), f"{2 * k * step / scale:g}", _TYPE_MM, "end", grey=0.3)
    yield Words(complex(1.0, -_TYPE_MM - 1.0), f"diameters in {unit}", _TYPE_MM, grey=0.3)


def _taken(count: int, taker: GridTaker) -> Iterator[Stroke]:
    """Yield the marked circle, and on every spoke of it the line that a foot stands on, with its ends."""
    radius, half = taker.size_mm / 2, taker.foot_mm / 2
    yield Stroke(circle(0, radius).segments, 0.25, _DASHES_MM)
    depth = math.sqrt(max(radius * radius - half * half, 0.0))
    for k in range(count):
        way = cmath.rect(1, to_math_rad(360 * k / count))
        middle, along = way * depth, -1j * way
        yield straight(middle - half * along, middle + half * along, 0.3)
        for end in (-half, half):
            foot = middle + end * along
            across = foot / abs(foot)
            yield straight(foot - 1.5 * across, foot + 1.5 * across, 0.3)
