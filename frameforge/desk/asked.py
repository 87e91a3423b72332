"""What a question of the page holds, taken with care: whoever asks, nothing odd gets any further."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.job.made import MadePiece
from frameforge.picture.elements import mm_to_px

__all__ = ["map_of", "map_values", "number_of", "piece_of", "width_of"]

_LEAST_PX = 280.0
_GREATEST_PX = 720.0


def width_of(question: Mapping[str, Any]) -> float:
    """Return how wide (px) a drawing shall be."""
    width = question.get("width")
    if not isinstance(width, int | float) or not math.isfinite(width):
        return _LEAST_PX
    return min(max(float(width), _LEAST_PX), _GREATEST_PX)


def number_of(question: Mapping[str, Any], key: str, many: int) -> int | None:
    """Return a number below ``many``, from 0; None where there is none. Raises InputError for any other value."""
    value = question.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < many:
        raise InputError(f"there are {many} to choose among. Choose again.", where=f"desk, {key}", code="no-such")
    return value


def piece_of(question: Mapping[str, Any], pieces: Sequence[MadePiece]) -> MadePiece:
    """Return the piece that a question is about, the first where it does not say."""
    return pieces[number_of(question, "piece", len(pieces)) or 0]


def map_values(to_px: Affine) -> list[float]:
    """Return what the page is told of the map of a drawing, px a mm and px, to be handed back with questions."""
    return [to_px.greatest_stretch, to_px.c.real, to_px.c.imag]


def map_of(question: Mapping[str, Any]) -> Affine:
    """Return the map from mm to px of the drawing that a question is about. Raises InputError where there is none."""
    told = question.get("map")
    if not isinstance(told, list) or len(told) != 3 or not all(isinstance(v, int | float) for v in told):
        raise InputError("the picture it is about is missing. Load the page again.", where="desk, map", code="no-map")
    scale, x, y = map(float, told)
    if not (0 < scale < 1e4 and abs(x) < 1e6 and abs(y) < 1e6):
        raise InputError("the picture it is about is missing. Load the page again.", where="desk, map", code="no-map")
    return mm_to_px(scale, complex(x, y))
