"""Dimension lines as a draughtsman draws them: stacked beside the drawing, the shortest nearest to it.

Each has extension lines from what it measures, an arrow at both ends, and its words above it, read from the bottom or
from the right (as ISO 129-1 has them); below a drawing they stand under it, off its extension lines. Where the arrows
have no room between the extension lines they stand outside, pointing in. Positions in px, y down.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import TEXT_PX
from frameforge.picture.path_text import number_text

__all__ = ["STEP_PX", "DimensionLine", "Span", "Stack", "stack_reach"]

STEP_PX: Final = 27.0
"""From one dimension line to the next."""

_ARROW_PX: Final = 8.0
_ARROW_HALF_PX: Final = 2.6
_TAIL_PX: Final = 10.0
"""How far a line runs on behind arrows that point in from outside."""
_PAST_PX: Final = 4.0
"""How far an extension line runs on past its dimension line."""
_FREE_PX: Final = 2.0
"""Space between what is measured and its extension line."""
_TEXT_OFF_PX: Final = 5.0
_APART_PX: Final = 8.0
"""Between words on one line."""
_DIGITS: Final = 2

Side = Literal["above", "left", "below"]


@dataclass(frozen=True, slots=True)
class Span:
    """What is measured: its words, and the two places (px) between which it is measured, as the stack lies."""

    words: str
    start: complex
    end: complex


@dataclass(frozen=True, slots=True)
class DimensionLine:
    """A dimension line: paths of the line, of its arrows (filled) and of its extension lines; its words.

    ``at`` is the middle of the words on their baseline, ``turn_deg`` how they are turned about it, clockwise.
    """

    line: str
    arrows: str
    extensions: str
    words: str
    at: complex
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Stack:
    """Dimension lines on one ``side`` of a drawing, from ``edge`` (px, x or y) outwards.

    Words are kept between ``least`` and ``most`` along the lines.
    """

    side: Side
    edge: float
    least: float
    most: float

    def lines(self, spans: Iterable[Span]) -> list[DimensionLine]:
        """Return the dimension lines of spans, each as near to the drawing as there is room for it."""
        levels: list[list[tuple[Span, float]]] = []
        for span in sorted(spans, key=lambda span: self._length(span)):
            at = self._middle(span)
            level = next((k for k, row in enumerate(levels) if self._is_free(span, at, row)), len(levels))
            # What is longer goes round what is shorter: no line comes nearer than those it holds between its ends.
            level = max([level, *(k + 1 for k, row in enumerate(levels) if any(self._holds(span, o) for o, _ in row))])
            levels += [[]] if level == len(levels) else []
            levels[level].append((span, at))
        return [self._drawn(span, at, k) for k, row in enumerate(levels) for span, at in row]

    def _along(self, z: complex) -> float:
        return z.imag if self.side == "left" else z.real

    def _length(self, span: Span) -> float:
        return abs(self._along(span.end) - self._along(span.start))

    def _ends(self, span: Span) -> tuple[float, float]:
        low, high = sorted((self._along(span.start), self._along(span.end)))
        return low, high

    def _middle(self, span: Span) -> float:
        """Return where the middle of the words stands along the line, moved so that they stay within the drawing."""
        low, high = self._ends(span)
        half = text_width(span.words, TEXT_PX) / 2
        return min(max((low + high) / 2, self.least + half), max(self.most - half, self.least + half))

    def _is_free(self, span: Span, at: float, row: Sequence[tuple[Span, float]]) -> bool:
        """Whether a span and its words meet no other on a line; lines may share an end."""
        low, high = self._ends(span)
        half = text_width(span.words, TEXT_PX) / 2
        for other, middle in row:
            other_low, other_high = self._ends(other)
            if low < other_high - 0.5 and other_low < high - 0.5:
                return False
            if abs(at - middle) < half + text_width(other.words, TEXT_PX) / 2 + _APART_PX:
                return False
        return True

    def _holds(self, span: Span, other: Span) -> bool:
        (low, high), (other_low, other_high) = self._ends(span), self._ends(other)
        return low <= other_low + 0.5 and other_high <= high + 0.5

    def _drawn(self, span: Span, at: float, level: int) -> DimensionLine:
        away = self.edge + (1 if self.side == "below" else -1) * (level + 1) * STEP_PX

        def place(along: float, off: float) -> complex:
            return complex(away + off, along) if self.side == "left" else complex(along, away + off)

        low, high = self._ends(span)
        is_tight = high - low < 2 * _ARROW_PX + 4
        tail = _ARROW_PX + _TAIL_PX if is_tight else 0.0
        ways = (1.0, -1.0) if is_tight else (-1.0, 1.0)
        arrows = [self._arrow(place(low, 0), ways[0]), self._arrow(place(high, 0), ways[1])]
        start, end = sorted((span.start, span.end), key=self._along)
        return DimensionLine(
            line=_stroke(place(low - tail, 0), place(high + tail, 0)),
            arrows=" ".join(arrows),
            extensions=" ".join(self._extension(foot, away) for foot in (start, end)),
            words=span.words,
            at=place(at, TEXT_PX if self.side == "below" else -_TEXT_OFF_PX),
            turn_deg=-90.0 if self.side == "left" else 0.0,
        )

    def _arrow(self, tip: complex, way: float) -> str:
        """Return an arrow whose tip points in a direction along the line."""
        along = complex(0, way) if self.side == "left" else complex(way, 0)
        back = tip - _ARROW_PX * along
        wing = _ARROW_HALF_PX * 1j * along
        return f"M {_point(tip)} L {_point(back + wing)} L {_point(back - wing)} Z"

    def _extension(self, foot: complex, away: float) -> str:
        """Return the extension line from what is measured to past the dimension line."""
        out = 1 if self.side == "below" else -1
        end = away + out * _PAST_PX
        if self.side == "left":
            return _stroke(foot + out * _FREE_PX, complex(end, foot.imag))
        return _stroke(foot + 1j * out * _FREE_PX, complex(foot.real, end))


def stack_reach(lines: Iterable[DimensionLine], stack: Stack) -> float:
    """Return how far (px) dimension lines and their words reach from the edge of their stack."""
    offs = (line.at.real if stack.side == "left" else line.at.imag for line in lines)
    reach = max((abs(off - stack.edge) for off in offs), default=0.0)
    return reach + (TEXT_PX if stack.side != "below" else _TEXT_OFF_PX) if reach else 0.0


def _stroke(start: complex, end: complex) -> str:
    return f"M {_point(start)} L {_point(end)}"


def _point(z: complex) -> str:
    return f"{number_text(z.real, _DIGITS)} {number_text(z.imag, _DIGITS)}"
