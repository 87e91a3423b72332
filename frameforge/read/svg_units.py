"""Lengths of SVG and CSS in user units (pixels), and what a user unit is in millimetres.

CSS Values and Units Level 3, section 6: 1 in = 96 px = 25.4 mm exactly; 1 pt = 1/72 in, 1 pc = 1/6 in.
"""

from __future__ import annotations

import math
import re
from typing import Final

from frameforge.read.path_grammar import GREATEST_NUMBER

__all__ = ["FONT_PX", "MM_PER_PX", "length", "length_mm", "number"]

MM_PER_PX: Final = 25.4 / 96
"""Millimetres a pixel, the unit of a drawing that states none."""

FONT_PX: Final = 16.0
"""Size of letters where none is stated (CSS ``medium``), for lengths in em."""

_PX: Final = {"": 1.0, "px": 1.0, "in": 96.0, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6, "pt": 96 / 72,
              "pc": 16.0}  # fmt: skip
_MM: Final = {"mm": 1.0, "cm": 10.0, "in": 25.4, "q": 0.25, "pt": 25.4 / 72, "pc": 25.4 / 6}
_EM: Final = {"em": 1.0, "rem": 1.0, "ex": 0.5, "ch": 0.5}
_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z]*|%)\s*")


def length(text: str, *, whole: float | None, font_px: float = FONT_PX) -> float | None:
    """Return a length in user units, or None where the text is no length.

    ``whole`` is what 100 % means (None: a percentage is no length here), ``font_px`` the size of letters for em.
    """
    match = _LENGTH.fullmatch(text) if len(text) < 100 else None
    if match is None:
        return None
    value, unit = float(match[1]), match[2].lower()
    if unit == "%":
        value = value / 100 * whole if whole is not None else math.nan
    elif unit in _PX:
        value *= _PX[unit]
    elif unit in _EM:
        value *= _EM[unit] * font_px
    else:
        return None
    return value if math.isfinite(value) and abs(value) <= GREATEST_NUMBER else None


def length_mm(text: str) -> float | None:
    """Return an absolute length in mm ("20mm" is 20 to the bit), or None where the text is no such length."""
    pixels = length(text, whole=None)
    if pixels is None:
        return None
    match = _LENGTH.fullmatch(text)
    unit = match[2].lower() if match else ""
    return float(match[1]) * _MM[unit] if match and unit in _MM else pixels * MM_PER_PX


def number(text: str, default: float) -> float:
    """Return a plain number or a percentage (50% is .5), or ``default`` where the text is neither."""
    value = length(text, whole=1.0)
    return default if value is None or text.strip()[-1:].isalpha() else value
