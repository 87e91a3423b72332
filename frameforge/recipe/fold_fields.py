"""What is said of folds, lids and stands in a recipe or in an option."""

from __future__ import annotations

import re
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.fields import as_length, as_whole
from frameforge.units import LengthUnit

__all__ = ["as_feet", "as_layers", "as_play", "as_teeth", "fold_said", "lid_said", "placed_said", "stand_said"]

_MOST_TEETH: Final = 720
_MOST_LAYERS: Final = 20
_PLACED: Final = re.compile(
    r"\s*(?P<size>.*?)(?:\s+at\s+|\s+)(?P<at>top|bottom|left|right|-?[\d.,]+\s*(?:deg\w*|°))\s*", re.IGNORECASE
)
_WALLED: Final = re.compile(
    r"\s*(?P<height>.*?)\s+(?P<wall>strip|flange)(?:\s+in\s+(?P<parts>\d{1,4})\s+parts?)?\s*", re.IGNORECASE
)
_COUNTED: Final = re.compile(r"\s*(?P<feet>\d{1,3})\s*[x×]\s*(?P<size>[^x×]+?)\s*", re.IGNORECASE)


def as_teeth(value: object) -> int:
    """Return how many teeth a flange has: 6 to 720. Raises InputError otherwise."""
    count = as_whole(value)
    if not 6 <= count <= _MOST_TEETH:
        raise InputError(f"a flange takes 6 to {_MOST_TEETH} teeth.", code="range")
    return count


def as_feet(value: object) -> int:
    """Return how many feet a stand has: 1 to 4. Raises InputError otherwise."""
    count = as_whole(value)
    if count > 4:
        raise InputError("a stand takes 1 to 4 feet.", code="range")
    return count


def as_layers(value: object) -> int:
    """Return how many layers of card stand in a slot: 1 to 20. Raises InputError otherwise."""
    count = as_whole(value)
    if count > _MOST_LAYERS:
        raise InputError(f"a slot takes 1 to {_MOST_LAYERS} layers of card.", code="range")
    return count


def as_play(value: object, unit: LengthUnit) -> float:
    """Return how much wider a slot is than what stands in it, mm, from 0 to 2. Raises InputError otherwise."""
    mm = 0.0 if value in (0, "0", "0mm") else as_length(value, unit)
    if mm > 2:
        raise InputError(f"{mm:g} mm of play, and nothing would hold. It goes from 0 to 2 mm.", code="range")
    return mm


def placed_said(text: str, size_key: str) -> dict[str, Any]:
    """Return size and place of "4mm top", "4 mm at 30deg" or "4mm"."""
    found = _PLACED.fullmatch(text)
    return {size_key: found["size"], "at": found["at"].lower()} if found else {size_key: text}


def fold_said(text: str) -> dict[str, Any]:
    """Return the fold of "10mm top": how far in from the edge, and on which side."""
    return placed_said(text, "depth")


def lid_said(text: str) -> dict[str, Any]:
    """Return the lid of "20mm", "8mm flange", "20mm strip in 2 parts": how high its wall is, of what, in how many."""
    found = _WALLED.fullmatch(text)
    if found is None:
        return {"height": text}
    parts = {"parts": int(found["parts"])} if found["parts"] else {}
    return {"height": found["height"], "wall": found["wall"].lower(), **parts}


def stand_said(text: str) -> dict[str, Any]:
    """Return the stand of "50mm" or "2 x 50mm": how wide its feet are, and how many."""
    found = _COUNTED.fullmatch(text)
    return {"feet": int(found["feet"]), "size": found["size"]} if found else {"size": text}
