"""The base made a circle or an oval of about its size."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.units import LengthUnit, is_in_inches, parse_size_mm

__all__ = ["shape_of", "shaped"]

_OVAL_RATIO: Final = 1.5
_MM_PER_INCH: Final = 25.4


def shape_of(size: Any, unit: LengthUnit) -> str | None:
    """Return whether a size is a circle or an oval; None for one that is to be found."""
    if size is None or size == "find":
        return None
    try:
        wide, high = parse_size_mm(size, unit=unit)
    except InputError:
        return None
    return "circle" if wide == high else "oval"


def shaped(piece: Mapping[str, Any], unit: LengthUnit, shape: str, *, where: str) -> dict[str, Any]:
    """Return the options that make the base of a piece a circle or an oval of about its size.

    A hole in the middle becomes a rim of its width, which fits either. Raises InputError for a base that has no size.
    """
    size = piece.get("size")
    if shape not in ("circle", "oval"):
        raise InputError('a base is "circle" or "oval". Write one of them.', where=f"{where}, --shape", code="choice")
    if size is None or size == "find":
        raise InputError("the size is to be found. Write a size first.", where=f"{where}, --size", code="no-size")
    wide, high = parse_size_mm(size, unit=unit)
    if (wide == high) == (shape == "circle"):
        return {}
    in_inches = unit == "in" or (isinstance(size, str) and is_in_inches(size))
    across = max(wide, high) if shape == "circle" else wide
    sides = (across,) if shape == "circle" else (_OVAL_RATIO * wide, high)
    options: dict[str, Any] = {"size": _typed(sides, in_inches=in_inches)}
    if (opening := piece.get("opening")) is not None:
        rim = (wide - parse_size_mm(opening, unit=unit)[0]) / 2
        options["rim"] = _typed((rim,), in_inches=in_inches)
    return options


def _typed(sides_mm: tuple[float, ...], *, in_inches: bool) -> str:
    """Return lengths as they would be typed: "114x76mm"."""
    if in_inches:
        return "x".join(f"{round(side / _MM_PER_INCH, 4):g}" for side in sides_mm) + "in"
    return "x".join(f"{round(side, 2):g}" for side in sides_mm) + "mm"
