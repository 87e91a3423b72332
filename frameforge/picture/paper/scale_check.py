"""What every guide carries so that a print can be measured: a bar of 100 mm and 4 in, a square of 50 mm, and steps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from frameforge.geometry.box import Box
from frameforge.picture.letter_widths import text_width
from frameforge.picture.paper.marks import Marks, Stroke, Words, straight

__all__ = ["BAR_MM", "LEAST_WIDTH_MM", "SQUARE_MM", "scale_check", "wrapped"]

BAR_MM: Final = 100.0
"""Length of the bar that tells whether the print is true."""

SQUARE_MM: Final = 50.0
"""Side of the square that tells whether the print is as wide as it is high."""

INCH_MM: Final = 25.4
_INCHES: Final = 4
LEAST_WIDTH_MM: Final = _INCHES * INCH_MM
"""Room that the bar needs."""
_TYPE_MM: Final = 3.0
_STEP_MM: Final = 4.4
_BAR_ROOM_MM: Final = 15.0
_ASIDE_MM: Final = 6.0
_LEAST_COLUMN_MM: Final = 60.0
_TICK_MM: Final = 1.6


def scale_check(lines: Sequence[str], width_mm: float) -> Marks:
    """Return bar, square and ``lines``, wrapped beside or below the square, in a block ``width_mm`` wide at most.

    The block's lower left corner is 0. Raises ValueError where not even the bar has room.
    """
    if width_mm < LEAST_WIDTH_MM:
        raise ValueError(f"a bar of 4 in has no room in {width_mm} mm")
    aside = width_mm - SQUARE_MM - _ASIDE_MM
    has_column = aside >= _LEAST_COLUMN_MM
    broken = wrapped(lines, aside if has_column else width_mm)
    text_mm = len(broken) * _STEP_MM
    body = max(SQUARE_MM, text_mm) if has_column else SQUARE_MM + _STEP_MM + text_mm
    height = body + _BAR_ROOM_MM
    square_foot = body - SQUARE_MM
    first = complex(SQUARE_MM + _ASIDE_MM, body - _TYPE_MM) if has_column else complex(0, square_foot - 2 * _STEP_MM)
    words = [Words(first - 1j * _STEP_MM * k, line, _TYPE_MM) for k, line in enumerate(broken)]
    box = Box(0.0, 0.0, width_mm, height)
    bar = _bar(complex(0, height - 6.0))
    square = _square(complex(0, square_foot))
    return Marks(box, (*bar.strokes, *square.strokes), (*bar.words, *square.words, *words))


def _bar(at: complex) -> Marks:
    """Return the bar from ``at`` to the right: tens of millimetres above the line, inches below it."""
    tens = (
        straight(at + 10 * k, at + 10 * k + 1j * (2 if k % 5 == 0 else 1) * _TICK_MM, 0.2)
        for k in range(round(BAR_MM / 10) + 1)
    )
    inches = (straight(at + INCH_MM * k, at + INCH_MM * k - 2j * _TICK_MM, 0.2) for k in range(_INCHES + 1))
    strokes = (straight(at, at + _INCHES * INCH_MM, 0.3), *tens, *inches)
    words = (
        Words(at + BAR_MM + 3.5 + 1.2j, "100 mm", _TYPE_MM, is_bold=True),
        Words(at + BAR_MM + 3.5 - 3.2j, "4 in", _TYPE_MM, is_bold=True),
    )
    return Marks(Box(at.real, at.imag, at.real + BAR_MM, at.imag), strokes, words)


def _square(corner: complex) -> Marks:
    """Return the square with its measure in it."""
    a, b = corner, corner + complex(SQUARE_MM, SQUARE_MM)
    sides = (
        straight(a, complex(b.real, a.imag), 0.3), straight(complex(b.real, a.imag), b, 0.3),
        straight(b, complex(a.real, b.imag), 0.3), straight(complex(a.real, b.imag), a, 0.3),
    )  # fmt: skip
    words = Words((a + b) / 2 - 0.35j * _TYPE_MM, "50 x 50 mm", _TYPE_MM, "middle")
    return Marks(Box(a.real, a.imag, b.real, b.imag), tuple[Stroke, ...](sides), (words,))


def wrapped(lines: Sequence[str], width_mm: float, size_mm: float = _TYPE_MM) -> list[str]:
    """Return lines broken between words so that each is at most ``width_mm`` wide; what follows is set in."""
    found: list[str] = []
    for line in lines:
        current = ""
        for word in line.split():
            longer = f"{current} {word}" if current.strip() else current + word
            if current.strip() and text_width(longer, size_mm) > width_mm:
                found.append(current)
                current = "   " + word
            else:
                current = longer
        found.append(current)
    return found
