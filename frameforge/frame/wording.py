"""Numbers and names as the maker reads them."""

from __future__ import annotations

import math

from frameforge.frame.spec import Size
from frameforge.units import format_mm

__all__ = [
    "clock_words",
    "down",
    "place_words",
    "plural",
    "round_outer",
    "round_words",
    "size_words",
    "up",
]

_SLACK = 1e-7
_DIGITS = 9
"""Decimals kept of a multiple, so that three tenths are .3 to the last bit."""


def down(value: float, step: float) -> float:
    """Return the greatest multiple of ``step`` not above ``value``, in the unit of both; 1e-7 of a step is forgiven."""
    return round(math.floor(value / step + _SLACK) * step, _DIGITS)


def up(value: float, step: float) -> float:
    """Return the least multiple of ``step`` not below ``value``, in the unit of both; 1e-7 of a step is forgiven."""
    return round(math.ceil(value / step - _SLACK) * step, _DIGITS)


def round_outer(mm: float) -> str:
    """Return an outer size rounded to .1 mm, halves up, without idle zeros: "107.9", "100", "82.6" for 82.55."""
    return format_mm(mm).removesuffix(" mm")


def size_words(size: Size) -> str:
    """Return a size as it is typed: "100mm" for a circle, "150x100mm" for an oval."""
    if size.is_circle:
        return f"{round_outer(size.width_mm)}mm"
    return f"{round_outer(size.width_mm)}x{round_outer(size.height_mm)}mm"


def round_words(size: Size) -> str:
    """Return the base as it is spoken of: "a 100 mm circle", "a 150 x 100 mm oval"."""
    if size.is_circle:
        return f"a {round_outer(size.width_mm)} mm circle"
    return f"a {round_outer(size.width_mm)} x {round_outer(size.height_mm)} mm oval"


def plural(name: str, count: int = 2) -> str:
    """Return a motif's name as a plain word, one or several: "bean-leaf" gives "bean leaf", "bean leaves".

    What is called by no noun, such as "leaf-veined" or "daisy-2", is spoken of as motifs: "daisy 2 motifs".
    """
    words = name.replace("-", " ").replace("_", " ")
    if count == 1:
        return words
    if (words.endswith("ed") and not words.endswith(("seed", "weed", "reed", "bed"))) or not words[-1:].isalpha():
        return words + " motifs"
    if words.endswith(("s", "x", "z", "ch", "sh")):
        return words + "es"
    if words.endswith("foot"):
        return words.removesuffix("foot") + "feet"
    if words.endswith("leaf"):
        return words.removesuffix("f") + "ves"
    if words.endswith("y") and words[-2:-1] not in "aeiou":
        return words.removesuffix("y") + "ies"
    return words + "s"


def place_words(name: str, position: int, direction_deg: float) -> str:
    """Return a repeat as it is pointed at: "leaf 4, at 2 o'clock"; directions clockwise from the top."""
    return f"{plural(name, 1)} {position}, {clock_words(direction_deg)}"


def clock_words(direction_deg: float) -> str:
    """Return a direction, clockwise from the top, by the nearest hour: "at 2 o'clock"."""
    return f"at {round(direction_deg / 30) % 12 or 12} o'clock"
