"""Outlines that are one shape laid elsewhere, so that what was measured on one holds for all of them."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Outline, Segment
from frameforge.tolerances import MIN_CHORD_MM, SAME_SHAPE_MM

__all__ = ["Laid", "laid"]

_Numbers = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """How an outline lies: outlines of equal ``numbers`` are one shape, turned by ``way`` and moved to ``origin``."""

    numbers: tuple[_Numbers, ...]
    origin: complex
    way: complex

    def inside(self, point: complex) -> complex:
        """Return a point of the piece as seen from the shape."""
        return (point - self.origin) / self.way

    def outside(self, point: complex) -> complex:
        """Return a point of the shape as it lies in the piece."""
        return self.origin + point * self.way


def laid(outline: Outline) -> Laid | None:
    """Return how the outline lies, None for one with a segment that ends where it begins (it has no direction).

    Shapes agree to 1e-6 mm. Mirror images count as two shapes. An outline that looks the same from several of its
    joints is laid from one of them, so that copies may be turned against each other by one of its own symmetries.
    """
    steps = [segment.end - segment.start for segment in outline.segments]
    if any(abs(step) <= MIN_CHORD_MM for step in steps):
        return None
    ways = [step / abs(step) for step in steps]
    seen = [_numbers(segment, way) for segment, way in zip(outline.segments, ways, strict=True)]
    turns = [_rounded(after / way) for way, after in zip(ways, (*ways[1:], ways[0]), strict=True)]
    links = [(*numbers, *turn) for numbers, turn in zip(seen, turns, strict=True)]
    first = min(range(len(links)), key=lambda k: (*links[k:], *links[:k]))
    return Laid((*links[first:], *links[:first]), outline.segments[first].start, ways[first])


def _numbers(segment: Segment, way: complex) -> _Numbers:
    """Return what makes a segment the curve it is, seen along its chord: its kind, its length, its handles or axes."""
    length = _rounded(segment.end - segment.start, way)[0]
    if isinstance(segment, Cubic):
        return (1.0, length, *_rounded(segment.c1 - segment.start, way), *_rounded(segment.c2 - segment.start, way))
    if isinstance(segment, Arc):
        ahead = segment.velocity(0.0) / segment.sweep_rad
        centre, axis = segment.center - segment.start, ahead
        return (2.0, length, *_rounded(centre, way), *_rounded(axis, way), *_rounded(complex(segment.sweep_rad, 0)))
    return (0.0, length)


def _rounded(z: complex, way: complex = 1) -> tuple[float, float]:
    """Return x and y of a vector seen along a direction, on the grid of 1e-6; adding 0 makes a negative zero plain."""
    grain, turned = SAME_SHAPE_MM, z / way
    return round(turned.real / grain) * grain + 0.0, round(turned.imag / grain) * grain + 0.0
