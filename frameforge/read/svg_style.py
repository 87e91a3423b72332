"""What styles say of an element: attributes, style sheets, the style attribute, inheritance.

The cascade is CSS Cascading Level 4's for one author: presentation attributes, then rules by specificity and order,
then the style attribute, then the same again for ``!important``. tinycss2 and cssselect2 are imported only by
drawings with a style sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final
from xml.etree.ElementTree import Element

from frameforge.read.svg_colour import BLACK, NO_PAINT, Paint, read_paint
from frameforge.read.svg_declarations import Declaration, read_declarations
from frameforge.read.svg_tree import local_name
from frameforge.read.svg_units import FONT_PX, length, number

__all__ = ["ROOT_STYLE", "Cascade", "Declarations", "Style", "inherit"]

_CHOICES: Final = {
    "fill-rule": ("nonzero", "evenodd"),
    "clip-rule": ("nonzero", "evenodd"),
    "visibility": ("visible", "hidden", "collapse"),
    "stroke-linecap": ("butt", "round", "square"),
    "stroke-linejoin": ("miter", "miter-clip", "round", "bevel", "arcs"),
}
_TEXTS: Final = (
    "stroke-width",
    "stroke-dasharray",
    "stroke-dashoffset",
    "marker-start",
    "marker-mid",
    "marker-end",
)
_MARKERS: Final = ("marker-start", "marker-mid", "marker-end")
_NUMBERS: Final = ("fill-opacity", "stroke-opacity", "stroke-miterlimit")
_INHERITED: Final = (*_CHOICES, *_TEXTS, *_NUMBERS, "fill", "stroke", "color", "font-size")
_OWN_ATTRIBUTES: Final = ("display", "opacity", "clip-path", "mask", "filter", "overflow", "vector-effect",
                          "transform-origin")  # fmt: skip
_ATTRIBUTES: Final = frozenset((*_INHERITED, *_OWN_ATTRIBUTES))


@dataclass(frozen=True, slots=True)
class Style:
    """The computed values an element hands down to its children; names as in CSS.

    Opacities run from 0 to 1, the miter limit is a ratio. Widths and dashes stay text, since a percentage of them is
    of the viewport they are used in.
    """

    color: Paint = BLACK
    fill: Paint = BLACK
    stroke: Paint = NO_PAINT
    fill_rule: str = "nonzero"
    clip_rule: str = "nonzero"
    visibility: str = "visible"
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    stroke_width: str = "1"
    stroke_linecap: str = "butt"
    stroke_linejoin: str = "miter"
    stroke_miterlimit: float = 4.0
    stroke_dasharray: str = "none"
    stroke_dashoffset: str = "0"
    marker_start: str = "none"
    marker_mid: str = "none"
    marker_end: str = "none"
    font_px: float = FONT_PX


ROOT_STYLE: Final = Style()

Declarations = dict[str, str]


class Cascade:
    """Answers what is declared for each element of one tree."""

    def __init__(self, root: Element, *, where: str) -> None:
        """Read every style sheet in the tree; ``notes`` says what of them was left out."""
        self.notes: list[str] = []
        self._matches: Mapping[Element, Iterable[Declaration]] = {}
        styles = (element for element in root.iter() if local_name(element) == "style" and _is_css(element))
        sheets = [element.text for element in styles if element.text and element.text.strip()]
        if sheets:
            from frameforge.read.svg_sheet import match_sheets

            self._matches = match_sheets(root, sheets, self.notes, where=where)

    def declared(self, element: Element) -> Declarations:
        """Return the winning declaration of each property, by property; values are not checked."""
        found = {name: value for name, value in element.attrib.items() if name in _ATTRIBUTES}
        important: Declarations = {}
        for name, value, is_important in self._matches.get(element, ()):
            (important if is_important else found)[name] = value
        text = element.attrib.get("style")
        if text:
            late: Declarations = {}
            for name, value, is_important in read_declarations(text):
                (late if is_important else found)[name] = value
            important.update(late)
        found.update(important)
        return found


def inherit(parent: Style, declared: Mapping[str, str]) -> Style:
    """Return the computed style of a child; a value that cannot be read counts as not given."""
    changes: dict[str, Any] = {}
    if "marker" in declared:
        declared = {**dict.fromkeys(_MARKERS, declared["marker"]), **declared}
    for name in _INHERITED:
        value = declared.get(name)
        if value is None:
            continue
        value = value.strip()
        field = "font_px" if name == "font-size" else name.replace("-", "_")
        word = value.lower()
        if word in ("inherit", "unset"):
            continue
        if word == "initial":
            changes[field] = getattr(ROOT_STYLE, field)
            continue
        computed = _computed(name, value, parent)
        if computed is not None:
            changes[field] = computed
    return replace(parent, **changes) if changes else parent


def _computed(name: str, value: str, parent: Style) -> Any:
    """Return the typed value of one property, or None where it cannot be read."""
    if name in _CHOICES:
        return value.lower() if value.lower() in _CHOICES[name] else None
    if name in _NUMBERS:
        read = number(value, -1.0)
        return read if read >= 0 else None
    if name in _TEXTS:
        return value
    if name == "font-size":
        return length(value, whole=parent.font_px, font_px=parent.font_px)
    return read_paint(value)


def _is_css(element: Element) -> bool:
    """Return whether a style element holds CSS for the screen."""
    kind = element.attrib.get("type", "text/css").strip().lower()
    media = element.attrib.get("media", "all").lower()
    return kind in ("", "text/css") and ("all" in media or "screen" in media)
