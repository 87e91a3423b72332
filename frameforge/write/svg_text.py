"""What an SVG text of ours says, read without the writer's help: its elements, and its paths as lines in mm."""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Iterator
from typing import Final

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.write.page import Run

__all__ = ["NUMBER", "PathDataError", "read_path"]

NUMBER: Final = r"(?!-0(?![.0-9]))-?(?:0|[1-9][0-9]*)(?:\.[0-9]{0,3}[1-9])?"
"""A number as we write it: no exponent, no "-0", no needless zeros, four decimals at most."""

_COMMAND: Final = re.compile(r"([MLCA])([^MLCAZ]*)|(Z)\s*|(\S)")
_NUMBERS: Final = re.compile(rf"(?:{NUMBER}(?:[ ,]|$))+")
_COUNT: Final = {"M": 2, "L": 2, "C": 6, "A": 7}


class PathDataError(ValueError):
    """The path data is not of the form we write."""


def read_path(d: str, height_mm: float) -> tuple[tuple[Run, bool], ...]:
    """Return the subpaths of path data as (line, closed by Z), y up from ``height_mm``.

    Only absolute M, L, C, A and Z are known, each with its own letter. A zero-length closing line is left out.
    Raises PathDataError at anything else, with what was found.
    """
    found: list[tuple[Run, bool]] = []
    pen, chain = 0j, list[Segment]()
    start = 0j
    for letter, values in _commands(d):
        if letter == "M":
            _end_open(found, chain)
            pen = start = _point(values, height_mm)
            chain = []
        elif letter == "Z":
            if pen != start:
                chain.append(Line(pen, start))
            found.append((tuple(chain), True))
            pen, chain = start, []
        else:
            segment = _segment(letter, values, pen, height_mm)
            chain.append(segment)
            pen = segment.end
    _end_open(found, chain)
    return tuple(found)


def _end_open(found: list[tuple[Run, bool]], chain: list[Segment]) -> None:
    """Keep a subpath that no Z ended."""
    if chain:
        found.append((tuple(chain), False))


def _commands(d: str) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Yield letter and numbers of each command."""
    for match in _COMMAND.finditer(d):
        letter, text = match[1] or match[3], (match[2] or "").strip()
        if match[4]:
            raise PathDataError(f"path data holds {match[4]!r}, allowed are M, L, C, A, Z")
        if letter == "Z":
            yield "Z", ()
            continue
        if not _NUMBERS.fullmatch(text):
            raise PathDataError(f"{letter} {text!r} is not made of plain numbers with four decimals at most")
        values = tuple(float(word) for word in re.split("[ ,]", text))
        if len(values) != _COUNT[letter]:
            raise PathDataError(f"{letter} has {len(values)} numbers, {_COUNT[letter]} are right")
        yield letter, values


def _point(values: tuple[float, ...], height_mm: float) -> complex:
    """Return the last two numbers as a point, y up."""
    return complex(values[-2], height_mm - values[-1])


def _segment(letter: str, values: tuple[float, ...], pen: complex, height_mm: float) -> Segment:
    """Return the segment of an L, C or A. Raises PathDataError when it has no length."""
    end = _point(values, height_mm)
    if letter == "C":
        return Cubic(pen, _point(values[:2], height_mm), _point(values[:4], height_mm), end)
    if end == pen:
        raise PathDataError(f"{letter} at {end.real:g},{height_mm - end.imag:g} has no length")
    return Line(pen, end) if letter == "L" else _arc(values, pen, end)


def _arc(values: tuple[float, ...], start: complex, end: complex) -> Arc:
    """Return the arc of an A, by the conversion of SVG 1.1, appendix F.6.5 and F.6.6, in a y-up plane.

    With y up the turn of the first radius and the sweep change sign. In the frame where the ellipse is the unit
    circle, the centre lies beside the middle of the chord, to the left of it for a small counter-clockwise arc.
    """
    rx, ry, turn_deg, large, sweep = values[:5]
    if large != 0 or sweep not in (0, 1) or rx <= 0 or ry <= 0:
        raise PathDataError(f"A {values[:5]} is not an arc of at most a half turn with radii above 0")
    turn = cmath.rect(1, -math.radians(turn_deg))
    u, v = rx * turn, 1j * ry * turn
    a, b = _flattened(start, turn, rx, ry), _flattened(end, turn, rx, ry)
    half = abs(b - a) / 2
    grow = max(1.0, half)
    side = 1 if sweep == 0 else -1
    beside = math.sqrt(max(0.0, grow * grow - half * half)) * side
    middle = (a + b) / 2 + 1j * (b - a) / (2 * half) * beside
    first, last = cmath.phase(a - middle), cmath.phase(b - middle)
    sweep_rad = (last - first) % math.tau if side > 0 else -((first - last) % math.tau)
    center = turn * complex(middle.real * rx, middle.imag * ry)
    return Arc(start, end, center, grow * u, grow * v, first, sweep_rad)


def _flattened(point: complex, turn: complex, rx: float, ry: float) -> complex:
    """Return the point in the frame in which the ellipse is the unit circle."""
    z = point / turn
    return complex(z.real / rx, z.imag / ry)
