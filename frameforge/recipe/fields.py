"""What single values of a recipe come to: lengths, sizes, counts, positions, names.

Each function takes the value as it stands in the recipe and returns it in our units, or raises InputError with the
sentence for the maker and without a place; the model adds the place.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Sequence
from typing import Final, Literal

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.units import LengthUnit, parse_deg, parse_length_mm, parse_size_mm

__all__ = [
    "LARGEST_MM",
    "Position",
    "as_copies",
    "as_count",
    "as_formats",
    "as_length",
    "as_length_or_0",
    "as_name",
    "as_scale",
    "as_size",
    "as_skip",
    "as_start",
    "as_units",
    "is_bare_and_small",
]

Position = int | Literal["top", "bottom", "left", "right"]

LARGEST_MM: Final = 3000.0
"""Largest size of a piece; beyond it no cutter goes, and a slip of the unit is likelier."""

_MOST: Final = 9999
_UNITS: Final[tuple[LengthUnit, ...]] = ("mm", "cm", "in")
_FORMATS: Final = ("svg", "dxf", "png")
_SMALL_MM: Final = 15.0
_NOT_IN_NAMES: Final = re.compile(r'[\x00-\x1f\x7f/\\:*?"<>|]')
_RESERVED: Final = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?", re.IGNORECASE)


def as_units(value: object) -> LengthUnit:
    """Return the unit of bare numbers."""
    for unit in _UNITS:
        if value == unit:
            return unit
    raise InputError("no such unit.", code="choice")


def as_length(value: object, unit: LengthUnit) -> float:
    """Return a length in mm, above 0 and at most LARGEST_MM."""
    mm = parse_length_mm(value, unit=unit)
    if mm <= 0:
        raise InputError("a length must be above 0.", code="range")
    return _not_too_large(mm)


def as_length_or_0(value: object, unit: LengthUnit) -> float:
    """Return a length in mm that may be 0."""
    mm = parse_length_mm(value, unit=unit)
    if mm < 0:
        raise InputError("a length below 0 does not work here.", code="range")
    return _not_too_large(mm)


def as_size(value: object, unit: LengthUnit) -> Size:
    """Return width and height in mm; one length gives a circle."""
    width, height = parse_size_mm(value, unit=unit)
    return Size(_not_too_large(width), _not_too_large(height))


def _not_too_large(mm: float) -> float:
    if mm > LARGEST_MM:
        raise InputError(f"{mm:g} mm is more than the {LARGEST_MM:g} mm that can be made.", code="range")
    return mm


def is_bare_and_small(value: object) -> bool:
    """Whether a size is a number without a unit under 15, which as mm is likely a slip for inches."""
    if isinstance(value, str):
        try:
            value = float(value.replace(",", "."))
        except ValueError:
            return False
    return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 < value < _SMALL_MM


def as_count(value: object) -> int | Literal["most"]:
    """Return a number of repeats from 1 to 9999, or "most"."""
    if value == "most":
        return "most"
    return _whole(value)


def as_copies(value: object) -> int:
    """Return a number of copies from 1 to 9999."""
    return _whole(value)


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number.", code="number")
    if not 1 <= value <= _MOST:
        raise InputError(f"it goes from 1 to {_MOST}.", code="range")
    return value


def as_scale(value: object) -> float:
    """Return a scale above 0 and up to 100."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise InputError("not a number.", code="number")
    if not 0 < value <= 100:
        raise InputError("out of range.", code="range")
    return float(value)


def as_start(value: object) -> tuple[float, bool]:
    """Return (degrees clockwise from the top, whether a gap sits there instead of a motif)."""
    if value == "half":
        return 0.0, True
    return parse_deg(value), False


def as_skip(value: object) -> tuple[Position, ...]:
    """Return positions from 1 at the top, clockwise, or words: of a list, of one value, or of a text "1, 4, top"."""
    given = [value] if isinstance(value, str) or not isinstance(value, Sequence) else value
    entries: list[object] = []
    for entry in given:
        entries += re.findall(r"[^\s,;]+", entry) if isinstance(entry, str) else [entry]
    return tuple(_position(entry) for entry in entries)


def _position(value: object) -> Position:
    if isinstance(value, str):
        word = value.strip().lower()
        if word.isdecimal():
            return _whole(int(word))
        for direction in ("top", "bottom", "left", "right"):
            if word == direction:
                return direction
        raise InputError("not a position.", code="choice")
    return _whole(value)


def as_formats(value: object) -> tuple[str, ...]:
    """Return the kinds of file wanted, each once, in the order svg, dxf, png."""
    entries = re.split(r"[\s,;]+", value.strip()) if isinstance(value, str) else value
    if not isinstance(entries, Sequence) or not entries:
        raise InputError("no kind of file.", code="choice")
    words = [entry.strip().lower().lstrip(".") if isinstance(entry, str) else entry for entry in entries]
    for word in words:
        if word not in _FORMATS:
            raise InputError("no such kind of file.", code="choice")
    return tuple(word for word in _FORMATS if word in words)


def as_name(value: object) -> str:
    """Return a name that every file system takes, in one Unicode form."""
    if not isinstance(value, str) or not value.strip():
        raise InputError("not a name.", code="name")
    name = unicodedata.normalize("NFC", value.strip())
    if found := _NOT_IN_NAMES.search(name):
        sign = found[0] if found[0].isprintable() else "a control sign"
        raise InputError(f"{sign} cannot stand in a file name.", code="name")
    if name[0] in ".-" or name[-1] == "." or _RESERVED.fullmatch(name):
        raise InputError("a file cannot be called so.", code="name")
    if len(name.encode()) > 120:
        raise InputError("longer than a file name may be.", code="name")
    return name
