"""Strokes of a drawing as numbers: width, caps, joins, dashes."""

from __future__ import annotations

import math

from frameforge.read.svg_style import Style
from frameforge.read.svg_units import length

__all__ = ["stroke_width"]


def stroke_width(style: Style, viewport: complex) -> float:
    """Return the stroke width in user units; a negative one, or one that cannot be read, counts as 1."""
    width = length(style.stroke_width, whole=_diagonal(viewport), font_px=style.font_px)
    return 1.0 if width is None or width < 0 else width


def _diagonal(viewport: complex) -> float:
    """Return what percentages of neither width nor height are of (SVG 2 section 8.9)."""
    return math.hypot(viewport.real, viewport.imag) / math.sqrt(2)
