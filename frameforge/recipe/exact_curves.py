"""Curves as text that gives the very same curves back, bit by bit.

An outline is one text: "M x y" and then one word group a segment, in mm, y up:

    L x y                               a line to x y
    C x y x y x y                       a cubic with two handles to its end
    E cx cy ux uy vx vy start sweep x y an arc round c with conjugate half-axes u and v, angles in radians, to its end

Numbers are written so that reading gives the same bits (Python's shortest form). SVG's own arc command is not used
because its centre would have to be solved for again, and a half circle then comes back 1e-8 mm off.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region

__all__ = ["read_regions", "read_run", "region_words", "run_words"]

_COUNTS = {"L": 2, "C": 6, "E": 10}


def region_words(region: Region) -> list[str]:
    """Return a region as texts, its outside first and then its holes."""
    return [run_words(outline.segments) for outline in region.outlines]


def read_regions(texts: Sequence[Sequence[str]]) -> tuple[Region, ...]:
    """Return the regions of such lists of texts. Raises ValueError or IndexError when they are none."""
    outlines = [[_outline(text) for text in region] for region in texts]
    return tuple(Region(region[0], tuple(region[1:])) for region in outlines)


def run_words(run: Sequence[Segment]) -> str:
    """Return segments that follow one another, at least one, as text."""
    groups = ["M", *_pair(run[0].start)]
    for segment in run:
        groups += _segment_words(segment)
    return " ".join(groups)


def read_run(text: str) -> tuple[Segment, ...]:
    """Return the segments of a text. Raises ValueError when it is none."""
    words = iter(text.split())
    if next(words, "") != "M":
        raise ValueError("a line starts with M")
    at = _points(words, 2)[0]
    segments: list[Segment] = []
    for letter in words:
        if letter not in _COUNTS:
            raise ValueError(f"{letter} is no segment")
        segments.append(_segment(letter, at, words))
        at = segments[-1].end
    return tuple(segments)


def _outline(text: str) -> Outline:
    """Return the outline of a text. Raises ValueError when it is not one."""
    segments = read_run(text)
    if not segments or segments[0].start != segments[-1].end:
        raise ValueError("an outline ends where it starts")
    return Outline(segments)


def _segment_words(segment: Segment) -> list[str]:
    match segment:
        case Line():
            return ["L", *_pair(segment.end)]
        case Cubic():
            return ["C", *_pair(segment.c1), *_pair(segment.c2), *_pair(segment.end)]
        case Arc():
            axes = [*_pair(segment.center), *_pair(segment.u), *_pair(segment.v)]
            return ["E", *axes, repr(segment.start_rad), repr(segment.sweep_rad), *_pair(segment.end)]


def _pair(point: complex) -> list[str]:
    point = complex(point)
    return [repr(point.real), repr(point.imag)]


def _segment(letter: str, start: complex, words: Iterator[str]) -> Segment:
    points = _points(words, _COUNTS[letter])
    if letter == "L":
        return Line(start, points[0])
    if letter == "C":
        return Cubic(start, *points)
    center, u, v, angles, end = points
    return Arc(start, end, center, u, v, angles.real, angles.imag)


def _points(words: Iterator[str], count: int) -> list[complex]:
    """Return the next ``count`` numbers in pairs. Raises ValueError when they run out or are not finite."""
    numbers = [float(next(words, "end")) for _ in range(count)]
    if not all(math.isfinite(number) for number in numbers):
        raise ValueError("not a finite number")
    return [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
