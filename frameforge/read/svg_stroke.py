"""Strokes of a drawing as numbers: width, caps, joins, dashes, in the shape's user units."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final, Literal

from frameforge.read.svg_style import Style
from frameforge.read.svg_units import length

__all__ = ["Pen", "pen_of", "stroke_width"]

_SEPARATOR: Final = re.compile(r"[\s,]+")
_GREATEST_DASHES: Final = 100


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is widened; ``dashes`` are alternately drawn and left out, an even number of them or none."""

    width: float
    cap: Literal["butt", "round", "square"]
    join: Literal["miter", "round", "bevel"]
    mitre_limit: float
    dashes: tuple[float, ...] = ()
    dash_offset: float = 0.0


def stroke_width(style: Style, viewport: complex) -> float:
    """Return the stroke width in user units; a negative one, or one that cannot be read, counts as 1."""
    width = length(style.stroke_width, whole=_diagonal(viewport), font_px=style.font_px)
    return 1.0 if width is None or width < 0 else width


def pen_of(style: Style, viewport: complex) -> Pen:
    """Return the pen a style draws with (SVG 2 section 13.5); joins beyond SVG 1.1 count as their nearest of it."""
    offset = length(style.stroke_dashoffset, whole=_diagonal(viewport), font_px=style.font_px)
    return Pen(
        stroke_width(style, viewport),
        {"round": "round", "square": "square"}.get(style.stroke_linecap, "butt"),  # type: ignore[arg-type]
        {"round": "round", "bevel": "bevel"}.get(style.stroke_linejoin, "miter"),  # type: ignore[arg-type]
        max(1.0, style.stroke_miterlimit),
        _dashes(style, viewport),
        offset or 0.0,
    )


def _dashes(style: Style, viewport: complex) -> tuple[float, ...]:
    """Return the dashes: an odd number is taken twice; none where one is negative or cannot be read, or all are 0."""
    text = style.stroke_dasharray.strip()
    if text.lower() in ("", "none"):
        return ()
    whole = _diagonal(viewport)
    found = [length(part, whole=whole, font_px=style.font_px) for part in _SEPARATOR.split(text.strip(", \t\r\n"))]
    dashes = tuple(value for value in found if value is not None and value >= 0)
    if len(dashes) != len(found) or sum(dashes) <= 0 or len(dashes) > _GREATEST_DASHES:
        return ()
    return dashes * 2 if len(dashes) % 2 else dashes


def _diagonal(viewport: complex) -> float:
    """Return what percentages of neither width nor height are of (SVG 2 section 8.9)."""
    return math.hypot(viewport.real, viewport.imag) / math.sqrt(2)
