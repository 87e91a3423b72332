"""Path commands turned into true curves: lines, arcs and cubics, in the drawing's own units, y down.

Quadratics are raised to cubics exactly; arcs stay arcs (SVG 2 appendix B.2, formulae F.6 of SVG 1.1).
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.read.path_grammar import Command
from frameforge.tolerances import CLOSED_PART

__all__ = ["Subpath", "endpoint_arc", "to_subpaths"]


@dataclass(frozen=True, slots=True)
class Subpath:
    """A chain of segments from one pen-down to the next; without segments it is a dot at ``start``.

    ``is_closed`` tells whether it was closed by command; its closing line is then among the segments.
    """

    start: complex
    segments: tuple[Segment, ...]
    is_closed: bool = False

    @property
    def end(self) -> complex:
        """The last point."""
        return self.segments[-1].end if self.segments else self.start

    def transformed(self, affine: Affine) -> Subpath:
        """Return the image under an affine map that does not flatten."""
        moved = tuple(segment.transformed(affine) for segment in self.segments)
        return Subpath(affine.apply(self.start), moved, self.is_closed)

    def in_chords(self, many: int) -> Subpath:
        """Return the subpath with ``many`` chords for every curve, close together at its ends."""
        lines: list[Segment] = []
        for segment in self.segments:
            steps = 1 if isinstance(segment, Line) else many
            points = [segment.point((1 - math.cos(math.pi * i / steps)) / 2) for i in range(steps)] + [segment.end]
            lines += [Line(a, b) for a, b in itertools.pairwise(points) if a != b]
        return Subpath(self.start, tuple(lines), self.is_closed)

    def to_outline(self, affine: Affine, joint_mm: float) -> Outline | None:
        """Return the closed outline a fill sees, moved by ``affine``; None where there is nothing to enclose."""
        segments = self.transformed(affine).segments
        if not segments:
            return None
        try:
            outline = Outline.from_chain(segments, joint_mm=joint_mm)
        except ValueError:
            return None
        is_flat = len(outline.segments) < 3 and all(isinstance(segment, Line) for segment in outline.segments)
        return None if is_flat else outline


def to_subpaths(commands: Iterable[Command]) -> tuple[Subpath, ...]:
    """Return the subpaths of scanned commands; a move without drawing gives none. Segments without length go."""
    pen = _Pen()
    for command in commands:
        pen.draw(command)
    pen.lift()
    return tuple(pen.done)


def endpoint_arc(start: complex, end: complex, rx: float, ry: float, turn_deg: float, *, large: bool, sweep: bool) -> (
    Segment | None
):  # fmt: skip
    """Return the elliptical arc between two points, y down; ``turn_deg`` is the x axis's turn, clockwise on screen.

    Out of range (SVG 1.1 section F.6.2, F.6.6): equal ends give None, a radius of 0 a line, a negative radius counts
    as positive, radii too small are enlarged until the arc just fits.
    """
    if start == end:
        return None
    rx, ry = abs(rx), abs(ry)
    if rx == 0 or ry == 0:
        return Line(start, end)
    turn = cmath.rect(1, math.radians(turn_deg % 360))
    half = (start - end) / 2 * turn.conjugate()
    x, y = half.real / rx, half.imag / ry  # F.6.5.1, in units of the radii
    length = math.hypot(x, y)
    if length == 0:
        return None
    if length > 1:
        rx, ry, x, y, length = rx * length, ry * length, x / length, y / length, 1.0
    # F.6.5.2: in units of the radii the centre lies on the chord's bisector.
    away = math.sqrt(max(0.0, 1 - length * length)) / length * (1 if large != sweep else -1)
    cx, cy = away * y, -away * x
    center = complex(rx * cx, ry * cy) * turn + (start + end) / 2
    start_rad = math.atan2(y - cy, x - cx)
    sweep_rad = math.atan2(-y - cy, -x - cx) - start_rad
    if sweep and sweep_rad <= 0:
        sweep_rad += math.tau
    elif not sweep and sweep_rad >= 0:
        sweep_rad -= math.tau
    return Arc(start, end, center, rx * turn, 1j * ry * turn, start_rad, sweep_rad)


class _Pen:
    """Follows the commands, keeping the current point and the handle that S and T mirror."""

    def __init__(self) -> None:
        self.done: list[Subpath] = []
        self.point = self.start = 0j
        self.handle = 0j
        self.last = ""
        self.segments: list[Segment] = []
        self.is_down = False

    def draw(self, command: Command) -> None:
        """Draw one command."""
        letter = command.letter.upper()
        origin = self.point if command.letter.islower() else 0j
        numbers = command.numbers
        if letter == "M":
            self.lift()
            self.point = self.start = origin + complex(*numbers)
        elif letter == "Z":
            self._close()
        elif letter == "A":
            end = origin + complex(numbers[5], numbers[6])
            arc = endpoint_arc(self.point, end, *numbers[:3], large=numbers[3] == 1, sweep=numbers[4] == 1)
            self._add(arc, end)
        elif letter in "HV":
            self._line_along(letter, numbers[0], origin)
        else:
            self._curve(letter, [origin + complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)])
        self.last = letter

    def lift(self) -> None:
        """End the subpath."""
        if self.is_down:
            self.done.append(Subpath(self.start, tuple(self.segments)))
        self.segments, self.is_down = [], False

    def _close(self) -> None:
        if self.segments and abs(self.point - self.start) <= CLOSED_PART * max(1.0, abs(self.start)):
            self.segments[-1] = self.segments[-1].with_ends(self.segments[-1].start, self.start)
        elif self.point != self.start:
            self._add(Line(self.point, self.start), self.start)
        if self.is_down or self.last == "M":
            self.done.append(Subpath(self.start, tuple(self.segments), is_closed=True))
        self.segments, self.is_down, self.point = [], False, self.start

    def _line_along(self, letter: str, number: float, origin: complex) -> None:
        if letter == "H":
            end = complex(origin.real + number, self.point.imag)
        else:
            end = complex(self.point.real, origin.imag + number)
        self._add(Line(self.point, end), end)

    def _curve(self, letter: str, points: list[complex]) -> None:
        end = points[-1]
        mirrored = 2 * self.point - self.handle
        if letter in "LM":
            self._add(Line(self.point, end), end)
        elif letter in "CS":
            first = points[0] if letter == "C" else (mirrored if self.last in "CS" and self.last else self.point)
            self.handle = points[-2]
            self._add(Cubic(self.point, first, points[-2], end), end)
        else:
            control = points[0] if letter == "Q" else (mirrored if self.last in "QT" and self.last else self.point)
            self.handle = control
            self._add(Cubic.from_quadratic(self.point, control, end), end)

    def _add(self, segment: Segment | None, end: complex) -> None:
        self.is_down = True
        if segment is not None and not _is_dot(segment):
            self.segments.append(segment)
        self.point = end


def _is_dot(segment: Segment) -> bool:
    """Return whether a segment never leaves its start."""
    if isinstance(segment, Cubic):
        return segment.start == segment.c1 == segment.c2 == segment.end
    return isinstance(segment, Line) and segment.start == segment.end
