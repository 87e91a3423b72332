"""Paints of a drawing: is there any, is it near white, is it a gradient or pattern.

Colour itself is ignored by frameforge; only these three questions are asked of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, Literal

from frameforge.tolerances import NEAR_WHITE

__all__ = ["BLACK", "CURRENT_COLOUR", "NO_PAINT", "Paint", "read_paint"]

_HEX = re.compile(r"#([0-9a-fA-F]{8}|[0-9a-fA-F]{6}|[0-9a-fA-F]{3,4})(?![^\s])")
_URL = re.compile(r"""url\(\s*["']?\s*([^"')]*?)\s*["']?\s*\)\s*(.*)""", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Paint:
    """A paint: none, a colour (red, green, blue from 0 to 1), the current colour, or a reference with a fallback."""

    kind: Literal["none", "colour", "current", "reference"]
    rgb: tuple[float, float, float] = (0.0, 0.0, 0.0)
    reference: str = ""
    has_fallback: bool = False

    @property
    def is_near_white(self) -> bool:
        """Whether it is a colour that reads as white."""
        return self.kind == "colour" and min(self.rgb) >= NEAR_WHITE


BLACK: Final = Paint("colour")
NO_PAINT: Final = Paint("none")
CURRENT_COLOUR: Final = Paint("current")


def read_paint(text: str) -> Paint | None:
    """Return the paint of a ``fill`` or ``stroke`` value, or None where it cannot be read.

    A fully transparent colour is no paint.
    """
    word = text.strip()
    lower = word.lower()
    if lower in ("none", "transparent"):
        return NO_PAINT
    if lower == "currentcolor":
        return CURRENT_COLOUR
    if word.startswith("#"):
        return _hex_paint(word)
    if lower.startswith("url("):
        match = _URL.match(word)
        if match is None:
            return None
        fallback = read_paint(match[2]) if match[2].strip() else NO_PAINT
        return Paint("reference", reference=match[1], has_fallback=fallback is not None and fallback.kind != "none")
    return _css_paint(word)


def _hex_paint(word: str) -> Paint | None:
    """Return the paint of #rgb, #rgba, #rrggbb or #rrggbbaa."""
    match = _HEX.match(word)
    if match is None:
        return None
    digits = match[1] if len(match[1]) > 4 else "".join(digit * 2 for digit in match[1])
    if digits[6:] == "00":
        return NO_PAINT
    red, green, blue = (int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4))
    return Paint("colour", (red, green, blue))


def _css_paint(word: str) -> Paint | None:
    """Return the paint of a colour name or function (CSS Color Level 3)."""
    if word in ("black", "white"):
        return Paint("colour", (1.0, 1.0, 1.0)) if word == "white" else BLACK
    from tinycss2.color3 import RGBA, parse_color  # type: ignore[import-untyped]

    colour = parse_color(word.split(" icc-color")[0])
    if not isinstance(colour, RGBA):
        return None
    return NO_PAINT if colour.alpha <= 0 else Paint("colour", (colour.red, colour.green, colour.blue))
