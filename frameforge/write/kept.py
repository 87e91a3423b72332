"""What a file keeps beside its lines: the recipe that made it."""

from __future__ import annotations

import re
from typing import Final
from xml.etree.ElementTree import Element, SubElement

from frameforge.read.kept_recipe import KEPT_NAMESPACE, RECIPE_LINE
from frameforge.write.marker import BLANK_MARKER

__all__ = ["LINE_BYTES", "kept_element", "kept_lines"]

LINE_BYTES: Final = 250
"""Longest line of text in a DXF tag; older readers cut off behind 255 bytes."""

# XML 1.0, production [2] Char, less the carriage return, which every reader turns into a line feed.
_NOT_IN_XML: Final = re.compile("[^\t\n\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def kept_element(recipe: str) -> Element:
    """Return the element that goes into the ``<metadata>`` of an SVG: the recipe, and the marker still blank.

    Raises ValueError when the recipe holds a sign that XML cannot carry; TOML forbids the same signs.
    """
    if found := _NOT_IN_XML.search(recipe):
        raise ValueError(f"the recipe holds U+{ord(found[0]):04X}, which cannot be kept in a file")
    kept = Element("kept", {"xmlns": KEPT_NAMESPACE})
    if recipe:
        SubElement(kept, "recipe").text = recipe
    SubElement(kept, "proof").text = BLANK_MARKER
    return kept


def kept_lines(recipe: str) -> tuple[str, ...]:
    """Return the same for a DXF: lines of ASCII, each at most ``LINE_BYTES`` long, the blank marker last.

    Each line of the recipe begins a new one, so that it can be read in a plain editor.
    """
    lines: list[str] = []
    line = ""
    for sign in map(_escaped, recipe):
        if len(RECIPE_LINE) + len(line) + len(sign) + 2 > LINE_BYTES:
            lines.append(line)
            line = ""
        line += sign
        if sign == _SHORT["\n"]:
            lines.append(line)
            line = ""
    if line:
        lines.append(line)
    return (*(f'{RECIPE_LINE}"{line}"' for line in lines), BLANK_MARKER)


_SHORT: Final = {"\n": "\\n", "\t": "\\t", '"': '\\"'}


def _escaped(sign: str) -> str:
    r"""Return a sign as JSON writes it in a string.

    Backslashes and carets go by number, since DXF readers give a meaning to ``\U+`` and to ``^J``.
    """
    if " " <= sign <= "~" and sign not in '"\\^':
        return sign
    units = sign.encode("utf-16-be", "surrogatepass")
    return _SHORT.get(sign) or "".join(f"\\u{units[i]:02x}{units[i + 1]:02x}" for i in range(0, len(units), 2))
