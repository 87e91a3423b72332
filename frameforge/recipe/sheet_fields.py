"""What is said of sheets in a recipe: which there are, how pieces may turn, what a sheet costs, how many are cut at
once."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final

from frameforge.card.sheet_size import SheetSize, parse_sheet
from frameforge.errors import InputError
from frameforge.recipe.fields import as_length
from frameforge.units import LengthUnit

__all__ = ["MOST_STACKED", "MOST_TRIES", "Stack", "as_price", "as_seed", "as_sheets", "as_stack", "as_tries", "as_used"]

Stack = int | float
"""Sheets that lie on one another while they are cut: a number of them, or as a float how deep the cut goes, in mm."""

MOST_TRIES: Final = 1_000_000
MOST_SEED: Final = 2**31 - 1
MOST_STACKED: Final = 50
"""More sheets than this are cut by no machine at once."""

_NUMBER: Final = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*")


def as_sheets(value: object, unit: LengthUnit) -> tuple[SheetSize, ...]:
    """Return the sheets of a name, a size, a pair of lengths, or a list of such. Raises InputError otherwise."""
    if isinstance(value, str) or not isinstance(value, Sequence):
        return _of_text(value, unit)
    if len(value) == 2 and all(_is_number(side) for side in value):
        return (parse_sheet(value, unit),)
    if not value:
        raise InputError("no sheet in it.", code="choice")
    return tuple(dict.fromkeys(size for entry in value for size in as_sheets(entry, unit)))


def _of_text(value: object, unit: LengthUnit) -> tuple[SheetSize, ...]:
    """Return one sheet, or those of a text with commas between."""
    if isinstance(value, str) and "," in value:
        try:
            return (parse_sheet(value, unit),)
        except InputError:
            return tuple(dict.fromkeys(parse_sheet(part, unit) for part in value.split(",") if part.strip()))
    return (parse_sheet(value, unit),)


def as_price(value: object) -> float:
    """Return what one sheet costs, 0 or more, of a number or of a text such as "0,35". Raises InputError otherwise."""
    if isinstance(value, str) and (found := _NUMBER.fullmatch(value)):
        value = float(found[1].replace(",", "."))
    if not _is_number(value) or not math.isfinite(float(value)) or float(value) < 0:  # type: ignore[arg-type]
        raise InputError("not a number of 0 or more.", code="number")
    return float(value)  # type: ignore[arg-type]  # it is a number


def as_seed(value: object) -> int:
    """Return where the search begins: a whole number from 0 on. Raises InputError otherwise."""
    return _whole(value, 0, MOST_SEED)


def as_tries(value: object) -> int:
    """Return how many orders are tried: a whole number from 0 on. Raises InputError otherwise."""
    return _whole(value, 0, MOST_TRIES)


def as_stack(value: object, unit: LengthUnit) -> Stack:
    """Return how many sheets are cut at once, or how deep the cut goes (mm) where a length with a unit is given.

    Raises InputError otherwise.
    """
    if isinstance(value, int) or (isinstance(value, str) and value.strip().isdecimal()):
        return _whole(value, 1, MOST_STACKED)
    return as_length(value, unit)


def as_used(value: object) -> tuple[str, ...]:
    """Return the files of sheets that were cut from before. Raises InputError otherwise."""
    entries = [value] if isinstance(value, str) else value
    if not isinstance(entries, Sequence) or not entries:
        raise InputError("not the name of a file.", code="text")
    for entry in entries:
        if not isinstance(entry, str) or not entry.strip():
            raise InputError("not the name of a file.", code="text")
    return tuple(dict.fromkeys(entry.strip() for entry in entries))


def _whole(value: object, least: int, most: int) -> int:
    """Return a whole number of a range, as a number or typed."""
    if isinstance(value, str) and value.strip().isdecimal():
        value = int(value)
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputError("not a whole number.", code="number")
    if not least <= value <= most:
        raise InputError(f"it goes from {least} to {most}.", code="range")
    return value


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
