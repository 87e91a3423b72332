"""What the values of a row come to: counts, scales, starts, positions, zones, patterns of motifs.

As in ``fields``: each function returns the value in our units or raises InputError without a place.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple

from frameforge.errors import InputError
from frameforge.frame.spec import MOST_REPEATS, Unknown
from frameforge.recipe.fields import as_length, as_length_or_0, as_whole
from frameforge.units import LengthUnit, parse_deg, parse_direction_deg

__all__ = [
    "Entry",
    "Position",
    "as_count",
    "as_foot",
    "as_gap",
    "as_pattern",
    "as_scale",
    "as_skip",
    "as_start",
    "as_zone",
]

Position = int | Literal["top", "bottom", "left", "right"]


class Entry(NamedTuple):
    """One entry of a row's pattern: the motif's name, and how it differs from others: ``scale`` times as large."""

    motif: str
    scale: float = 1.0
    lean_deg: float | None = None
    is_mirrored: bool = False


_ENTRY_KEYS = ("motif", "scale", "lean", "mirror")


def as_pattern(value: object) -> tuple[Entry, ...]:
    """Return the entries of a pattern: one name, or a list of names and of tables with motif, scale, lean, mirror.

    Raises InputError otherwise.
    """
    entries = value if isinstance(value, (list, tuple)) else [value]
    if not entries:
        raise InputError("an empty list.", code="motif")
    return tuple(_entry(entry) for entry in entries)


def _entry(value: object) -> Entry:
    if isinstance(value, str) and value.strip():
        return Entry(value.strip())
    if not isinstance(value, Mapping):
        raise InputError("not a name.", code="motif")
    for key in value:
        if key not in _ENTRY_KEYS:
            raise InputError(f'"{key}" is not known in an entry. Write {", ".join(_ENTRY_KEYS)}.', code="key")
    name, mirror = value.get("motif"), value.get("mirror", False)
    if not isinstance(name, str) or not name.strip():
        raise InputError('an entry without its motif. Write { motif = "arch", scale = 0.7 }.', code="motif")
    if not isinstance(mirror, bool):
        raise InputError("in an entry mirror is true or false. Write mirror = true.", code="choice")
    scale = as_scale(value.get("scale", 1.0))
    if scale == "find":
        raise InputError("the scale of one entry cannot be found. Write it as a number.", code="choice")
    return Entry(name.strip(), scale, parse_deg(value["lean"]) if "lean" in value else None, mirror)


def as_count(value: object) -> int | Literal["most", "find"]:
    """Return a number of repeats from 1 to ``MOST_REPEATS``, "most" or "find". Raises InputError otherwise."""
    if value == "most":
        return "most"
    if value == "find":
        return "find"
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number.", code="number")
    if not 1 <= value <= MOST_REPEATS:
        raise InputError(f"a row takes 1 to {MOST_REPEATS} repeats.", code="range")
    return value


def as_gap(value: object, unit: LengthUnit) -> float | Unknown:
    """Return a gap in mm, 0 or more, or "find". Raises InputError otherwise."""
    if value == "find":
        return "find"
    try:
        return as_length_or_0(value, unit)
    except InputError as fault:
        if fault.code != "below-0":
            raise
        say = "below 0 the repeats would lie over each other. Write 0 (they touch) or more, for example 2mm."
        raise InputError(say, code="range") from fault


def as_foot(value: object, unit: LengthUnit) -> float | Unknown:
    """Return a foot in mm, above 0, or "find". Raises InputError otherwise."""
    if value != "find" and as_length_or_0(value, unit) == 0:
        raise InputError("a foot of 0 mm has nothing to stand on.", code="range")
    return "find" if value == "find" else as_length(value, unit)


def as_scale(value: object) -> float | Unknown:
    """Return a scale above 0 and up to 100, or "find". Raises InputError otherwise."""
    if value == "find":
        return "find"
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise InputError("not a number.", code="number")
    if not 0 < value <= 100:
        raise InputError(f"{value:g} is not above 0 and up to 100.", code="range")
    return float(value)


def as_start(value: object) -> tuple[float, bool]:
    """Return (degrees clockwise from the top, whether a gap sits there instead of a motif)."""
    if value == "half":
        return 0.0, True
    return parse_deg(value), False


def as_zone(value: object) -> tuple[float, float]:
    """Return (width, middle) in degrees of "60deg at top"; the middle is clockwise from the top, 0 where left out.

    Raises InputError otherwise.
    """
    text, _, middle = value.partition(" at ") if isinstance(value, str) else (value, "", "")
    width = parse_deg(text)
    if not 0 < width < 360:
        raise InputError("a zone is wider than 0 and narrower than 360 degrees.", code="range")
    return width, parse_direction_deg(middle) if middle else 0.0


def as_skip(value: object) -> tuple[Position, ...]:
    """Return positions from 1 at the top, clockwise, or words: of a list, of one value, or of a text "1, 4, top".

    Raises InputError otherwise.
    """
    given = [value] if isinstance(value, str) or not isinstance(value, Sequence) else value
    entries: list[object] = []
    for entry in given:
        entries += re.findall(r"[^\s,;]+", entry) if isinstance(entry, str) else [entry]
    return tuple(_position(entry) for entry in entries)


def _position(value: object) -> Position:
    if isinstance(value, str):
        word = value.strip().lower()
        if word.isdecimal():
            return as_whole(int(word))
        for direction in ("top", "bottom", "left", "right"):
            if word == direction:
                return direction
        raise InputError("not a position.", code="choice")
    return as_whole(value)
