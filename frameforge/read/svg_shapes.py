"""The basic shapes and the path as subpaths of true curves, in their own user units, y down.

Geometry by SVG 2 chapter 10: corners of a rect as quarter ellipses, a circle and an ellipse as four of them from 3
o'clock on. Geometry properties may stand in a style (SVG 2), so they are asked for by name.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Callable
from typing import Final

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.read.path_grammar import Fault, scan_numbers, scan_path
from frameforge.read.svg_curves import Subpath, to_subpaths
from frameforge.tolerances import CLOSED_PART

__all__ = ["SHAPES", "Lengths", "shape_subpaths"]

SHAPES: Final = frozenset(("path", "rect", "circle", "ellipse", "line", "polyline", "polygon"))

Lengths = Callable[[str, str], float | None]
"""Answers a length property by name and direction ("x", "y" or "r"), in user units; None where it is not given."""

_CSS_PATH = re.compile(r"""path\(\s*(?:(?:nonzero|evenodd)\s*,)?\s*["'](.*)["']\s*\)""", re.DOTALL)


def shape_subpaths(name: str, text: Callable[[str], str | None], lengths: Lengths) -> (
    tuple[tuple[Subpath, ...], Fault | None]
):  # fmt: skip
    """Return the subpaths of a shape element, and where its data cannot be read (None where all is good).

    ``text`` answers an attribute or property as text. What stands before a fault is drawn. A shape without extent
    (a radius or side of 0 or less) gives no subpath, as in a renderer.
    """
    if name == "path":
        return _path(text("d") or "")
    if name in ("polyline", "polygon"):
        return _points(text("points") or "", is_closed=name == "polygon")
    return {"rect": _rect, "circle": _circle, "ellipse": _ellipse, "line": _line}[name](lengths), None


def _path(data: str) -> tuple[tuple[Subpath, ...], Fault | None]:
    """Return the curves of path data, or of CSS ``path("...")``; ``none`` is an empty path."""
    in_css = _CSS_PATH.fullmatch(data.strip())
    if data.strip().lower() == "none":
        return (), None
    scan = scan_path(in_css[1] if in_css else data)
    return to_subpaths(scan.commands), scan.fault


def _points(data: str, *, is_closed: bool) -> tuple[tuple[Subpath, ...], Fault | None]:
    """Return the chain of a points list; an odd last number is a fault, the points before it stand."""
    numbers, fault = scan_numbers(data)
    if fault is None and len(numbers) % 2:
        fault = Fault(len(data) + 1, "the last number has no fellow", is_harmless=True)
    points = [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]
    if len(points) < 2:
        return (), fault
    return (_chain(points, is_closed=is_closed),), fault


def _chain(points: list[complex], *, is_closed: bool) -> Subpath:
    """Return the straight chain through points, equal neighbours taken once."""
    ends = points + points[:1] if is_closed else points
    segments = tuple(Line(a, b) for a, b in itertools.pairwise(ends) if a != b)
    return Subpath(points[0], segments, is_closed)


def _line(lengths: Lengths) -> tuple[Subpath, ...]:
    start, end = (complex(lengths(x, "x") or 0.0, lengths(y, "y") or 0.0) for x, y in (("x1", "y1"), ("x2", "y2")))
    return (_chain([start, end], is_closed=False),)


def _circle(lengths: Lengths) -> tuple[Subpath, ...]:
    radius = lengths("r", "r") or 0.0
    return _four_arcs(lengths, radius, radius)


def _ellipse(lengths: Lengths) -> tuple[Subpath, ...]:
    """Return an ellipse; one radius alone counts for both (SVG 2 section 10.4)."""
    rx, ry = lengths("rx", "x"), lengths("ry", "y")
    return _four_arcs(lengths, (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0)


def _four_arcs(lengths: Lengths, rx: float, ry: float) -> tuple[Subpath, ...]:
    if rx <= 0 or ry <= 0:
        return ()
    quarters = _quarters(complex(lengths("cx", "x") or 0.0, lengths("cy", "y") or 0.0), rx, ry)
    return (Subpath(quarters[0].start, quarters, is_closed=True),)


def _quarters(center: complex, rx: float, ry: float) -> tuple[Arc, ...]:
    """Return the four quarters of an upright ellipse, from +x towards +y."""
    steps = [complex(rx, 0), complex(0, ry), complex(-rx, 0), complex(0, -ry)]
    points = [center + step for step in steps]
    return tuple(
        Arc(points[i], points[(i + 1) % 4], center, steps[0], steps[1], i * math.pi / 2, math.pi / 2) for i in range(4)
    )


def _rect(lengths: Lengths) -> tuple[Subpath, ...]:
    """Return a rect, clockwise on screen from the end of its upper left corner (SVG 2 section 10.2)."""
    width, height = lengths("width", "x") or 0.0, lengths("height", "y") or 0.0
    if width <= 0 or height <= 0:
        return ()
    rx, ry = lengths("rx", "x"), lengths("ry", "y")
    rx, ry = (None if r is None or r < 0 else r for r in (rx, ry))
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    origin = complex(lengths("x", "x") or 0.0, lengths("y", "y") or 0.0)
    if rx == 0 or ry == 0:
        corners = [origin, origin + width, origin + complex(width, height), origin + 1j * height]
        return (_chain(corners, is_closed=True),)
    return (_rounded(origin, width, height, rx, ry),)


def _rounded(origin: complex, width: float, height: float, rx: float, ry: float) -> Subpath:
    """Return a rect with quarter ellipses as corners; sides that the corners use up are left out."""
    centers = [
        origin + complex(width - rx, ry), origin + complex(width - rx, height - ry),
        origin + complex(rx, height - ry), origin + complex(rx, ry),
    ]  # fmt: skip
    segments: list[Segment] = []
    last = origin + rx
    start = last
    for i, center in enumerate(centers):
        quarter = _quarters(center, rx, ry)[(i + 3) % 4]
        if abs(quarter.start - last) > CLOSED_PART * (width + height):
            segments.append(Line(last, quarter.start))
        else:
            quarter = quarter.with_ends(last, quarter.end)
        segments.append(quarter)
        last = quarter.end
    if abs(last - start) <= CLOSED_PART * (width + height):
        segments[-1] = segments[-1].with_ends(segments[-1].start, start)
    else:
        segments.append(Line(last, start))
    return Subpath(start, tuple(segments), is_closed=True)
