"""What a walk through a drawing finds and carries along: shapes in their place, clips, the context of an element."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

from frameforge.geometry.affine import Affine
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_notes import one_line
from frameforge.read.svg_style import ROOT_STYLE, Style
from frameforge.read.svg_units import length, number

__all__ = ["PARTS", "Clip", "Context", "Shape", "is_off", "is_wanted", "lengths_of", "part_of"]

PARTS: Final = ("join", "cut-away", "window")
"""Names of a motif's parts, as ids (or their beginning) and as values of ``data-part``."""


@dataclass(frozen=True, slots=True)
class Clip:
    """What a clip-path or a viewport lets through: the fills of ``shapes`` united, clipped by ``clips`` in turn."""

    shapes: tuple[Shape, ...]
    clips: tuple[Clip, ...] = ()
    is_viewport: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """One shape element where it is shown; ``affine`` takes its own user units (y down) to millimetres, y up.

    ``viewport`` is the nearest viewport's width + i height in user units, which percentages are of.
    """

    label: str
    subpaths: tuple[Subpath, ...]
    affine: Affine
    style: Style
    part: str = "join"
    clips: tuple[Clip, ...] = ()
    viewport: complex = 0j
    is_line: bool = False
    has_fixed_stroke: bool = False


@dataclass(frozen=True, slots=True)
class Context:
    """What an element gets from those around it; ``inside`` are the elements being used, to find loops."""

    affine: Affine
    viewport: complex
    style: Style = ROOT_STYLE
    part: str = "join"
    clips: tuple[Clip, ...] = ()
    is_hidden: bool = False
    inside: tuple[Element, ...] = ()
    depth: int = 0
    is_clip: bool = False


def part_of(element: Element) -> str | None:
    """Return the part an element is labelled with, or None."""
    stated = element.get("data-part")
    if stated in PARTS:
        return stated
    name = element.get("id", "")
    for part in PARTS:
        if name.startswith(part) and not name[len(part) : len(part) + 1].isalpha():
            return part
    return None


def is_off(declared: Mapping[str, str]) -> bool:
    """Return whether an element and all in it is not shown."""
    return declared.get("display", "").strip() == "none" or number(declared.get("opacity", "1"), 1.0) <= 0


def is_wanted(element: Element) -> bool:
    """Return whether the conditions of an element hold: English, and nothing beyond SVG (SVG 2 section 5.8)."""
    get = element.get
    if get("requiredExtensions") is not None or get("requiredFeatures") == "":
        return False
    languages = get("systemLanguage")
    return languages is None or any(tag.strip().lower().split("-")[0] == "en" for tag in languages.split(","))


def lengths_of(
    element: Element, declared: Mapping[str, str], context: Context, unread: list[str] | None = None
) -> Callable[[str, str], float | None]:
    """Return the reader of an element's length properties, by name and direction ("x", "y" or "r").

    What stands there and is no length is added to ``unread``, as ``width "wide"``.
    """
    width, height = context.viewport.real, context.viewport.imag
    wholes = {"x": width, "y": height, "r": math.sqrt((width * width + height * height) / 2)}

    def read(name: str, direction: str) -> float | None:
        text = declared.get(name) or element.get(name)
        if text is None or text.strip() == "auto":
            return None
        value = length(text, whole=wholes[direction], font_px=context.style.font_px)
        if value is None and unread is not None:
            unread.append(f'{name} "{one_line(text)}"')
        return value

    return read
