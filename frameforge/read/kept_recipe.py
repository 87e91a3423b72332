"""The recipe that made a file, out of the file itself.

SVG: ``<metadata>`` holds one element ``kept`` of ``KEPT_NAMESPACE`` with the recipe as its text. DXF: lines that begin
with ``RECIPE_LINE``, in an XRECORD or (R12) in comments; each holds a JSON string, together they are the recipe.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Final
from xml.etree.ElementTree import ParseError

from defusedxml import ElementTree
from defusedxml.common import DefusedXmlException

from frameforge.errors import InputError

__all__ = ["KEPT_NAMESPACE", "RECIPE_LINE", "kept_recipe"]

KEPT_NAMESPACE: Final = "urn:frameforge:kept"
"""XML name space of what we keep inside an SVG file."""

RECIPE_LINE: Final = "frameforge recipe "
"""How each line of a DXF file begins that carries a part of the recipe."""

_LINE: Final = re.compile(rb"^[ \t]*" + RECIPE_LINE.encode("ascii") + rb"(.*)$", re.MULTILINE)


def kept_recipe(data: bytes, *, where: str) -> str:
    """Return the recipe kept in the bytes of an SVG or DXF file, letter for letter as it was given to the writer.

    ``where`` names the file in messages. Which format it is, its first sign tells: ``<`` opens an SVG.
    Raises InputError when the file holds no recipe or only a damaged one.
    """
    is_svg = data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<")
    found = _from_svg(data, where) if is_svg else _from_dxf(data, where)
    if not found:
        say = "no recipe is kept in this file. Give a recipe (.toml), or an SVG or DXF that frameforge wrote."
        raise InputError(say, where=where, code="no-recipe")
    return found


def _from_svg(data: bytes, where: str) -> str:
    """Return the text of the recipe element, empty when there is none."""
    try:
        root = ElementTree.fromstring(data)
    except (ParseError, DefusedXmlException) as fault:
        say = "not an SVG that can be read, so no recipe was found in it. Give a recipe (.toml) instead."
        raise InputError(say, where=where, code="not-svg") from fault
    return root.findtext(f".//{{{KEPT_NAMESPACE}}}recipe") or ""


def _from_dxf(data: bytes, where: str) -> str:
    """Return the parts of the recipe put together, empty when there are none."""
    return "".join(_parts(data, where))


def _parts(data: bytes, where: str) -> Iterator[str]:
    """Yield the recipe's parts in the order of the lines that carry them."""
    for line in _LINE.finditer(data):
        try:
            part = json.loads(line[1])
        except ValueError:
            part = None
        if not isinstance(part, str):
            say = "the recipe kept in this file is damaged. Give the recipe (.toml) instead."
            raise InputError(say, where=where, code="no-recipe")
        yield part
