"""Transform lists of SVG and CSS as affine maps, in the drawing's own axes (y down, turns clockwise on screen)."""

from __future__ import annotations

import math
import re

from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.read.path_grammar import scan_numbers
from frameforge.read.svg_notes import one_line
from frameforge.read.svg_units import length

__all__ = ["read_angle", "read_origin", "read_transform"]

_FUNCTION = re.compile(r"[\s,]*([A-Za-z]+)\s*\(([^()]*)\)")
_COUNTS = {"matrix": (6,), "translate": (1, 2), "translatex": (1,), "translatey": (1,), "scale": (1, 2), "scalex": (1,),
           "scaley": (1,), "rotate": (1, 3), "skewx": (1,), "skewy": (1,), "skew": (1, 2)}  # fmt: skip
_DEG = {"deg": 1.0, "grad": 0.9, "turn": 360.0, "rad": 180 / math.pi}
_WITH_UNIT = re.compile(r"([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)(deg|grad|rad|turn|px|in|cm|mm|pt|pc|em)")
_SIDES = {"left": 0.0, "top": 0.0, "center": 50.0, "right": 100.0, "bottom": 100.0}


def read_transform(text: str) -> Affine:
    """Return the map of a transform list (SVG 1.1 section 7.6; the two-dimensional functions of CSS too).

    An empty list or ``none`` is the identity. Raises ValueError, saying what stands there, where the list cannot be
    read.
    """
    affine, position = IDENTITY, 0
    text = text.strip()
    if text.lower() == "none":
        return IDENTITY
    while position < len(text):
        match = _FUNCTION.match(text, position)
        if match is None:
            raise ValueError(f'"{one_line(text[position:], 20)}" is no transform')
        affine = affine.after(_function(match[1].lower(), match[2], match[0].strip()))
        position = match.end()
    return affine


def read_angle(text: str) -> float:
    """Return an angle in degrees, its unit being deg where none is given; 0 where it cannot be read."""
    values, fault = scan_numbers(_WITH_UNIT.sub(_plain, text))
    return values[0] if values and fault is None else 0.0


def read_origin(text: str, box: tuple[float, float, float, float], font_px: float) -> complex:
    """Return the transform origin (CSS Transforms 1) over a box (left, top, width, height), user units."""
    words = text.lower().split()[:2]
    if len(words) == 1:
        words.append("center")
    if words[0] in ("top", "bottom") or words[1] in ("left", "right"):
        words.reverse()
    across, down = (f"{_SIDES[word]}%" if word in _SIDES else word for word in words)
    x, y = (length(word, whole=whole, font_px=font_px) for word, whole in ((across, box[2]), (down, box[3])))
    return complex(box[0] + (x or 0.0), box[1] + (y or 0.0))


def _function(name: str, arguments: str, whole: str) -> Affine:
    """Return the map of one function; angles without a unit are degrees."""
    values, fault = scan_numbers(_WITH_UNIT.sub(_plain, arguments))
    if fault is not None or name not in _COUNTS or len(values) not in _COUNTS[name]:
        raise ValueError(f'"{one_line(whole)}" is no transform')
    values = tuple(values)
    if name == "matrix":
        a, b, c, d, e, f = values
        return Affine.from_matrix(a, c, b, d, e, f)
    if name.startswith("translate"):
        return Affine.from_move(_pair(name, values, 0.0))
    if name.startswith("scale"):
        factors = _pair(name, values, values[0] if name == "scale" else 1.0)
        return Affine.from_matrix(factors.real, 0, 0, factors.imag, 0, 0)
    if name == "rotate":
        return Affine.from_turn(math.radians(values[0]), complex(*values[1:]) if len(values) == 3 else 0j)
    angles = _pair(name, values, 0.0)
    tangents = math.tan(math.radians(angles.real)), math.tan(math.radians(angles.imag))
    return Affine.from_matrix(1, tangents[0], tangents[1], 1, 0, 0)


def _pair(name: str, values: tuple[float, ...], missing: float) -> complex:
    """Return both arguments; a function that ends in x or y has the other one left at ``missing``."""
    if name.endswith("y"):
        return complex(missing, values[0])
    return complex(values[0], values[1] if len(values) > 1 else missing)


def _plain(match: re.Match[str]) -> str:
    """Return the number of a value with a unit, in degrees or user units."""
    if match[2] in _DEG:
        return repr(float(match[1]) * _DEG[match[2]]) + " "
    return repr(length(match[0], whole=None) or 0.0) + " "
