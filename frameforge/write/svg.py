"""SVG cut files; the only module that calls svgwrite.

What a file holds: width and height in mm and a viewBox in the same mm; a title; what is kept in ``<metadata>``; one
group ``cut`` (then ``crease``, ``mark``) with one path a piece, holes first and opposite to the outside, no fill, black
hairlines. No transform, style sheet, class, clip, mask, text, image or script.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final
from xml.etree import ElementTree

import svgwrite  # type: ignore[import-untyped]

from frameforge.geometry.box import Box
from frameforge.tolerances import SVG_DECIMALS
from frameforge.write.kept import kept_element
from frameforge.write.marker import marked_text
from frameforge.write.numbers import decimal, steps
from frameforge.write.page import CutPage, LineKind
from frameforge.write.svg_path import path_data

__all__ = ["HAIRLINE_MM", "to_svg"]

HAIRLINE_MM: Final = 0.1
"""Width of every line: thin enough that each cutter takes it for a cut, thick enough to be seen on paper."""

_NEEDLESS: Final = ("xmlns:xlink", "xmlns:ev", "baseProfile")


def to_svg(page: CutPage, *, recipe: str = "", one_path: bool = False, kinds: Iterable[LineKind] | None = None) -> str:
    """Return the page as SVG text: coordinates within 2e-4 mm of the curves, y down from the page's upper edge.

    ``recipe`` is kept in the file when not empty. ``one_path`` joins all pieces in a single path of each kind.
    ``kinds`` leaves only those kinds of line, on the same page, for cutters that do not look at groups.
    Same input, same text. Raises ValueError when a number is not finite or the recipe holds a sign XML cannot carry.
    """
    box = page.box
    width, height = _text(box.width_mm), _text(box.height_mm)
    drawing = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing.set_desc(title=page.title)
    drawing.set_metadata(kept_element(recipe))
    for kind in page.kinds() if kinds is None else kinds:
        drawing.add(_group(page, kind, box, one_path))
    return marked_text(_serialized(drawing))


def _group(page: CutPage, kind: LineKind, box: Box, one_path: bool) -> Any:
    """Return the group of one kind of line."""
    group = svgwrite.container.Group(id=kind, debug=False)
    if one_path:
        data = [path_data((run for piece in page.pieces for run in piece.runs(kind)), box)]
    else:
        data = [path_data(piece.runs(kind), box) for piece in page.pieces]
    for d in filter(None, data):
        group.add(svgwrite.path.Path(d, fill="none", stroke="#000000", stroke_width=HAIRLINE_MM, debug=False))
    return group


def _serialized(drawing: Any) -> str:
    """Return the text of the document, one element a line."""
    root: Any = drawing.get_xml()
    for name in _NEEDLESS:
        root.attrib.pop(name, None)
    for unused in root.findall("defs"):
        root.remove(unused)
    root.text = "\n"
    for element in root:
        element.tail = "\n"
        if element.tag == "g":
            element.text = "\n"
            for path in element:
                path.tail = "\n"
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ElementTree.tostring(root, encoding="unicode")}\n'


def _text(mm: float) -> str:
    """Return a length of the page."""
    return decimal(steps(mm, SVG_DECIMALS), SVG_DECIMALS)
