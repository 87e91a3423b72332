"""What is said of the machine in a recipe: kerf, overcut, lead-in, bridges."""

from __future__ import annotations

import re
from typing import Final, Literal

from frameforge.errors import InputError
from frameforge.machine.allowances import Bridges
from frameforge.recipe.fields import as_length, as_length_or_0
from frameforge.units import LengthUnit

__all__ = ["MOST_KERF_MM", "Allowance", "as_bridges", "as_kerf", "as_overcut"]

Allowance = float | Literal["preset"]
"""A length in mm, or the one that the preset has."""

MOST_KERF_MM: Final = 5.0
"""A wider beam or a longer overcut is a slip of the unit."""

_COUNTED: Final = re.compile(r"\s*(?P<count>\d{1,4})\s*[x×]\s*(?P<width>[^x×]+?)\s*", re.IGNORECASE)
_SPACED: Final = re.compile(r"\s*(?P<width>.+?)\s+every\s+(?P<every>.+?)\s*", re.IGNORECASE)


def as_kerf(value: object, unit: LengthUnit) -> Allowance:
    """Return a kerf in mm from 0 on, or "preset". Raises InputError otherwise."""
    return _allowance(value, unit, "kerf")


def as_overcut(value: object, unit: LengthUnit) -> Allowance:
    """Return an overcut in mm from 0 on, or "preset". Raises InputError otherwise."""
    return _allowance(value, unit, "overcut")


def _allowance(value: object, unit: LengthUnit, name: str) -> Allowance:
    if isinstance(value, str) and value.strip().lower() == "preset":
        return "preset"
    mm = as_length_or_0(value, unit)
    if mm > MOST_KERF_MM:
        raise InputError(f"{mm:g} mm is more than any {name} ({MOST_KERF_MM:g} mm).", code="range")
    return mm


def as_bridges(value: object, unit: LengthUnit) -> Bridges:
    """Return the bridges of "4 x 0.6mm", or "0.6mm every 60mm". Raises InputError otherwise."""
    if not isinstance(value, str):
        raise InputError("not a text that says how many and how wide.", code="text")
    if found := _SPACED.fullmatch(value):
        return Bridges(as_length(found["width"], unit), every_mm=as_length(found["every"], unit))
    if found := _COUNTED.fullmatch(value):
        count = int(found["count"])
        if not count:
            raise InputError("0 bridges hold nothing.", code="range")
        return Bridges(as_length(found["width"], unit), count=count)
    raise InputError("it does not say how many and how wide.", code="text")
