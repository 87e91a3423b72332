"""Curves as the path grammar of SVG 1.1, section 8.3: absolute M, L, C, A, Z.

Numbers are written as they stand: who wants y down or another scale transforms the outlines first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region

__all__ = ["number_text", "open_text", "outline_text", "region_text"]

QUARTER: Final = math.pi / 2 * (1 + 1e-9)
"""Longer arcs are written in parts: near half a turn the rounded radius of an arc decides where its middle lies."""


def number_text(value: float, digits: int = 4) -> str:
    """Return the number with at most ``digits`` decimals, without trailing zeros and without a minus before 0."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def region_text(regions: Iterable[Region], digits: int = 4) -> str:
    """Return one path text for all outlines of the regions, holes before the outline that holds them."""
    parts = [outline_text(o, digits) for region in regions for o in (*region.holes, region.outer)]
    return " ".join(parts)


def outline_text(outline: Outline, digits: int = 4) -> str:
    """Return the closed subpath of one outline, from M to Z."""
    parts = [f"M {_point(outline.segments[0].start, digits)}"]
    for segment in outline.segments:
        parts.extend(_segment(segment, digits))
    return " ".join((*parts, "Z"))


def open_text(segments: Sequence[Segment], digits: int = 4) -> str:
    """Return the open subpath of segments that follow one another, at least one."""
    parts = [f"M {_point(segments[0].start, digits)}"]
    for segment in segments:
        parts.extend(_segment(segment, digits))
    return " ".join(parts)


def _segment(segment: Segment, digits: int) -> Iterable[str]:
    """Return the command of one segment; an arc gives one for each quarter turn it sweeps."""
    if isinstance(segment, Arc):
        return _arc(segment, digits)
    if isinstance(segment, Cubic):
        return (f"C {_point(segment.c1, digits)} {_point(segment.c2, digits)} {_point(segment.end, digits)}",)
    return (f"L {_point(segment.end, digits)}",)


def _arc(arc: Arc, digits: int) -> Iterable[str]:
    """Yield the commands of an arc. Sweep flag 1 means that the numbers run counter-clockwise (y taken as up)."""
    count = max(1, math.ceil(abs(arc.sweep_rad) / QUARTER))
    long_mm, short_mm, turn_rad = arc.principal_axes
    shape = " ".join(number_text(v, digits) for v in (long_mm, short_mm, math.degrees(turn_rad)))
    flag = int(arc.turns_left)
    for i in range(count):
        yield f"A {shape} 0 {flag} {_point(arc.point((i + 1) / count), digits)}"


def _point(z: complex, digits: int) -> str:
    """Return the two coordinates, x then y."""
    return f"{number_text(z.real, digits)} {number_text(z.imag, digits)}"
