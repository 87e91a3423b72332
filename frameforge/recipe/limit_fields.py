"""What the limits of a card come to: areas, tips, speeds, passes, seconds; their lengths are read as all lengths."""

from __future__ import annotations

import math
import re
from typing import Final

from frameforge.errors import InputError
from frameforge.units import parse_deg

__all__ = ["MOST_PASSES", "as_area", "as_passes", "as_seconds", "as_speed", "as_tip"]

MOST_PASSES: Final = 20
"""More than this over one line is a slip."""

_NUMBER: Final = re.compile(r"\s*(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z/0-9²]*)\s*", re.IGNORECASE)


def as_area(value: object) -> float:
    """Return square millimetres from 0 on, of a number or of "4 mm2". Raises InputError otherwise."""
    return _number(value, ("mm2", "mm²"))


def as_speed(value: object) -> float:
    """Return millimetres a second above 0, of a number or of "20 mm/s". Raises InputError otherwise."""
    speed = _number(value, ("mm/s",))
    if speed == 0:
        raise InputError("at that speed nothing is cut.", code="range")
    return speed


def as_seconds(value: object) -> float:
    """Return seconds from 0 on, of a number or of "0.5 s". Raises InputError otherwise."""
    return _number(value, ("s", "sec"))


def as_tip(value: object) -> float:
    """Return an angle from 0 to 90 degrees. Raises InputError otherwise."""
    deg = parse_deg(value)
    if not 0 <= deg <= 90:
        raise InputError("a tip is between 0 and 90 degrees.", code="range")
    return deg


def as_passes(value: object) -> int:
    """Return how often each line is cut, a whole number from 1 to ``MOST_PASSES``. Raises InputError otherwise."""
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_PASSES:
        raise InputError("not a whole number in that range.", code="range")
    return value


def _number(value: object, units: tuple[str, ...]) -> float:
    """Return a number from 0 on, with or without its unit."""
    number = math.nan
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        number = float(value)
    elif isinstance(value, str) and (found := _NUMBER.fullmatch(value)) and found["unit"].lower() in ("", *units):
        number = float(found["number"].replace(",", "."))
    if not (math.isfinite(number) and number >= 0):
        raise InputError("not a number of 0 or more.", code="number")
    return number
