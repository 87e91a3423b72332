"""A motif as text that gives the very same curves back: the form in which a recipe keeps the maker's own motifs.

An outline is one text: "M x y" and then one word group a segment, in mm, y up, the foot line at y = 0:

    L x y                               a line to x y
    C x y x y x y                       a cubic with two handles to its end
    E cx cy ux uy vx vy start sweep x y an arc round c with conjugate half-axes u and v, angles in radians, to its end

Numbers are written so that reading gives the same bits (Python's shortest form). SVG's own arc command is not used
because its centre would have to be solved for again, and a half circle then comes back 1e-8 mm off.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from frameforge.errors import InputError
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.recipe.model import MotifTable

__all__ = ["kept_motif", "read_motif"]

_COUNTS = {"L": 2, "C": 6, "E": 10}


def kept_motif(motif: Motif) -> dict[str, object]:
    """Return the table that keeps a motif; ``read_motif`` gives the same motif back but for its notes."""
    table: dict[str, object] = {"foot": motif.foot_mm, "sink": motif.sink_mm, "stated": motif.is_foot_stated}
    for key, regions in (("join", motif.join), ("cut_away", motif.cut_away), ("window", motif.window)):
        if regions:
            table[key] = [[_written(outline) for outline in region.outlines] for region in regions]
    return table


def read_motif(name: str, table: MotifTable, where: str) -> Motif:
    """Return the motif of a kept table. Raises InputError when it was changed so that it holds no motif."""
    try:
        return Motif(
            name=name,
            join=_regions(table.join),
            foot_mm=table.foot,
            cut_away=_regions(table.cut_away),
            window=_regions(table.window),
            sink_mm=table.sink,
            is_foot_stated=table.stated,
        )
    except (ValueError, IndexError) as caught:
        say = f"the motif {name} that is kept in this recipe was changed and cannot be read. Name its SVG file instead."
        raise InputError(say, where=where, code="kept-motif") from caught


def _written(outline: Outline) -> str:
    """Return an outline as text."""
    groups = ["M", *_pair(outline.segments[0].start)]
    for segment in outline.segments:
        groups += _segment_words(segment)
    return " ".join(groups)


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


def _regions(texts: tuple[tuple[str, ...], ...]) -> tuple[Region, ...]:
    outlines = [[_outline(text) for text in region] for region in texts]
    return tuple(Region(region[0], tuple(region[1:])) for region in outlines)


def _outline(text: str) -> Outline:
    """Return the outline of a text. Raises ValueError when it is not one."""
    words = iter(text.split())
    if next(words, "") != "M":
        raise ValueError("an outline starts with M")
    start = at = _points(words, 2)[0]
    segments: list[Segment] = []
    for letter in words:
        if letter not in _COUNTS:
            raise ValueError(f"{letter} is no segment")
        segments.append(_segment(letter, at, words))
        at = segments[-1].end
    if at != start:
        raise ValueError("an outline ends where it starts")
    return Outline(tuple(segments))


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
