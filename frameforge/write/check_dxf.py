"""The check of a written DXF: every way in which its text breaks what we promise of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.read.kept_recipe import kept_recipe
from frameforge.tolerances import BIARC_MM, DXF_DECIMALS, LINES_MM, SPLINE_MM
from frameforge.units import INCH_MM
from frameforge.write.compare import PageLines, differences, measured_page, read_lines
from frameforge.write.dxf import DxfStyle
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.dxf_text import DxfEntity, DxfText, DxfTextError, read_dxf
from frameforge.write.marker import is_marked
from frameforge.write.page import CutPage, LineKind
from frameforge.write.spikes import spikes

__all__ = ["DXF_MM", "check_dxf"]

_STEP_MM: Final = 10**-DXF_DECIMALS

DXF_MM: Final[dict[DxfStyle, float]] = {
    "bulges": 1.1 * BIARC_MM,
    "r12": 1.1 * BIARC_MM,
    "splines": 1.1 * SPLINE_MM + _STEP_MM,
    "lines": 1.1 * LINES_MM,
}
"""Greatest distance between the page's curves and what each style carries of them."""

_ENTITY: Final[dict[DxfStyle, str]] = {
    "bulges": "LWPOLYLINE",
    "r12": "POLYLINE",
    "splines": "SPLINE",
    "lines": "LWPOLYLINE",
}
_KINDS: Final[dict[str, LineKind]] = {"CUT": "cut", "CREASE": "crease", "MARK": "mark"}
_HEADERS: Final[dict[DxfUnit, tuple[str, str]]] = {"mm": ("4", "1"), "in": ("1", "0")}
"""$INSUNITS and $MEASUREMENT (DXF reference, HEADER section)."""


def check_dxf(
    text: str,
    page: CutPage,
    *,
    recipe: str = "",
    style: DxfStyle = "bulges",
    unit: DxfUnit = "mm",
    lines: PageLines | None = None,
) -> tuple[str, ...]:
    """Return every violation of the output contract in a written DXF text, a sentence each; empty when it is good.

    The text is read by a reader of its own. ``recipe``, ``style`` and ``unit`` are those given to ``to_dxf``;
    ``lines`` is ``measured_page(page)`` where the caller has it already. Distances from the page's curves may be
    ``DXF_MM`` of the style at most.
    """
    try:
        found = read_dxf(text)
    except DxfTextError as fault:
        return (str(fault),)
    return (
        *_text_faults(text, recipe),
        *_header_faults(found, style, unit),
        *_entity_faults(found, style, are_outlines=not page.has_machine_cuts),
        *_line_faults(found.entities, measured_page(page) if lines is None else lines, style, unit),
    )


def _text_faults(text: str, recipe: str) -> Iterator[str]:
    """Yield what is wrong with signs, line length, recipe and marker."""
    if not text.isascii():
        yield "there is a sign that is not ASCII"
        return
    if (longest := max(map(len, text.split("\n")))) > 255:
        yield f"a line of {longest} bytes, 255 allowed"
    data = text.encode("ascii")
    try:
        kept = kept_recipe(data, where="DXF")
    except InputError:
        kept = ""
    if kept != recipe:
        yield "the recipe kept inside is not the one that made the file"
    if not is_marked(data):
        yield "the marker does not agree with the text"


def _header_faults(found: DxfText, style: DxfStyle, unit: DxfUnit) -> Iterator[str]:
    """Yield header variables that are not as wanted."""
    units, measurement = _HEADERS[unit]
    wanted = {"$ACADVER": "AC1009"} if style == "r12" else {
        "$ACADVER": "AC1015", "$INSUNITS": units, "$MEASUREMENT": measurement,
    }  # fmt: skip
    for name, value in wanted.items():
        if found.header.get(name, "").strip() != value:
            yield f"{name} is {found.header.get(name)}, wanted {value}"


def _entity_faults(found: DxfText, style: DxfStyle, *, are_outlines: bool) -> Iterator[str]:
    """Yield what is wrong with type, layer, arcs of each line, and with its closing where cuts are outlines."""
    for entity in found.entities:
        if entity.kind != _ENTITY[style]:
            yield f"an entity {entity.kind}, wanted {_ENTITY[style]}"
        if entity.layer not in _KINDS or entity.layer not in found.layers:
            yield f"a line on layer {entity.layer!r}"
        is_closed = entity.is_closed and entity.run[0].start == entity.run[-1].end
        if are_outlines and entity.layer == "CUT" and not is_closed:
            yield f"CUT: a line from {entity.run[0].start:.6f} is not closed"
        for segment in entity.run:
            if isinstance(segment, Arc) and abs(segment.sweep_rad) > math.pi / 2 + 4 * _STEP_MM / abs(segment.u):
                yield f"{entity.layer}: an arc of {math.degrees(segment.sweep_rad):.2f} deg, 90 allowed"
        for point in spikes(entity.run):
            yield f"{entity.layer}: the line runs back over itself at {point:.6f}"


def _line_faults(entities: Sequence[DxfEntity], lines: PageLines, style: DxfStyle, unit: DxfUnit) -> Iterator[str]:
    """Yield what tells the lines of each layer from the page's, and layers out of order."""
    order = [_KINDS[entity.layer] for entity in entities if entity.layer in _KINDS]
    if list(dict.fromkeys(order)) != list(lines) or order != sorted(order, key=list(lines).index):
        yield f"layers {list(dict.fromkeys(order))}, wanted {list(lines)} one after the other"
        return
    to_mm = Affine.from_scale(INCH_MM if unit == "in" else 1.0)
    for kind, own in lines.items():
        runs = [entity.run for entity in entities if _KINDS.get(entity.layer) == kind]
        if unit == "in":
            runs = [tuple(segment.transformed(to_mm) for segment in run) for run in runs]
        yield from differences(kind, read_lines(runs), own, DXF_MM[style])
