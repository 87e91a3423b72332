"""What single values of a recipe come to: lengths, sizes, counts, positions, names.

Each function takes the value as it stands in the recipe and returns it in our units, or raises InputError with the
sentence for the maker and without a place; the model adds the place.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import Final

from frameforge.card.envelope import Envelope, named_envelope
from frameforge.errors import InputError
from frameforge.frame.spec import LARGEST_MM, Size, Unknown
from frameforge.units import LengthUnit, parse_length_mm, parse_size_mm
from frameforge.write.formats import FORMATS

__all__ = [
    "LARGEST_MM",
    "as_border",
    "as_envelope",
    "as_formats",
    "as_length",
    "as_length_or_0",
    "as_name",
    "as_ratio",
    "as_size",
    "as_size_or_find",
    "as_units",
    "as_whole",
    "is_bare_and_small",
]

_MOST: Final = 9999
_UNITS: Final[tuple[LengthUnit, ...]] = ("mm", "cm", "in")
_SMALL_MM: Final = 15.0
_NOT_IN_NAMES: Final = re.compile(r'[\x00-\x1f\x7f/\\:*?"<>|\ud800-\udfff]')
_RESERVED: Final = re.compile(r"(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?", re.IGNORECASE)


def as_units(value: object) -> LengthUnit:
    """Return the unit of bare numbers. Raises InputError for any other."""
    for unit in _UNITS:
        if value == unit:
            return unit
    raise InputError("no such unit.", code="choice")


def as_length(value: object, unit: LengthUnit) -> float:
    """Return a length in mm, above 0 and at most LARGEST_MM. Raises InputError otherwise."""
    mm = parse_length_mm(value, unit=unit)
    if mm <= 0:
        raise InputError("a length must be above 0.", code="range")
    return _not_too_large(mm)


def as_length_or_0(value: object, unit: LengthUnit) -> float:
    """Return a length in mm that may be 0. Raises InputError otherwise."""
    mm = parse_length_mm(value, unit=unit)
    if mm < 0:
        raise InputError("a length below 0 does not work here.", code="below-0")
    return _not_too_large(mm)


def as_border(value: object, unit: LengthUnit) -> float:
    """Return a border in mm: above 0 outwards, below 0 inwards. Raises InputError for 0."""
    mm = parse_length_mm(value, unit=unit)
    if mm == 0:
        raise InputError("a border of 0 shows nothing of the card.", code="range")
    return _not_too_large(mm) if mm > 0 else -_not_too_large(-mm)


def as_size(value: object, unit: LengthUnit) -> Size:
    """Return width and height in mm; one length gives a circle. Raises InputError for anything else."""
    width, height = parse_size_mm(value, unit=unit)
    return Size(_not_too_large(width), _not_too_large(height))


def as_size_or_find(value: object, unit: LengthUnit) -> Size | Unknown:
    """Return width and height in mm, or "find"."""
    return "find" if value == "find" else as_size(value, unit)


def as_envelope(value: object, unit: LengthUnit) -> Envelope:
    """Return what a piece goes in: by name, by two sides (a box), or by one width (a round lid or tin)."""
    if isinstance(value, str) and re.match(r"\s*(?:[a-z]|#)", value, re.IGNORECASE):
        return named_envelope(value)
    size = as_size(value, unit)
    is_box = bool(re.search("[xX×✕*]", value)) if isinstance(value, str) else isinstance(value, Sequence)
    return Envelope.from_size(size.width_mm, size.height_mm, is_circle=not is_box)


def as_ratio(value: object) -> float:
    """Return width over height of an oval, from 0.01 to 100. Raises InputError otherwise."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0.01 <= value <= 100:
        raise InputError("not a number in that range.", code="range")
    return float(value)


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


def as_whole(value: object) -> int:
    """Return a whole number from 1 to 9999. Raises InputError otherwise."""
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number.", code="number")
    if not 1 <= value <= _MOST:
        raise InputError(f"it goes from 1 to {_MOST}.", code="range")
    return value


def as_formats(value: object) -> tuple[str, ...]:
    """Return the kinds of file wanted, each once, in the order of ``FORMATS``. Raises InputError for any other."""
    entries = re.split(r"[\s,;]+", value.strip()) if isinstance(value, str) else value
    if not isinstance(entries, Sequence) or not entries:
        raise InputError("no kind of file.", code="choice")
    words = [entry.strip().lower().lstrip(".") if isinstance(entry, str) else entry for entry in entries]
    for word in words:
        if word not in FORMATS:
            raise InputError("no such kind of file.", code="choice")
    return tuple(word for word in FORMATS if word in words)


def as_name(value: object) -> str:
    """Return a name that every file system takes, in one Unicode form. Raises InputError for anything else."""
    if not isinstance(value, str) or not value.strip():
        raise InputError("not a name.", code="name")
    name = unicodedata.normalize("NFC", value.strip())
    if found := _NOT_IN_NAMES.search(name):
        sign = found[0] if found[0].isprintable() else "a control sign"
        if "\ud800" <= found[0] <= "\udfff":
            sign = "a letter that the terminal sends in another encoding"
        raise InputError(f"{sign} cannot stand in a file name.", code="name")
    if name[0] in ".-" or name[-1] == "." or _RESERVED.fullmatch(name):
        raise InputError("a file cannot be called so.", code="name")
    if len(name.encode()) > 120:
        raise InputError("longer than a file name may be.", code="name")
    return name
