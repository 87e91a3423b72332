"""The check of a written SVG: every way in which its text breaks what we promise of it."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Iterator
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.read.kept_recipe import KEPT_NAMESPACE
from frameforge.tolerances import SVG_DECIMALS, SVG_MM
from frameforge.write.compare import Lines, PageLines, differences, measured_page, read_lines
from frameforge.write.marker import is_marked
from frameforge.write.page import CutPage, LineKind, Run
from frameforge.write.spikes import spikes
from frameforge.write.svg_text import NUMBER, PathDataError, read_path

__all__ = ["check_svg"]

Path = tuple[tuple[Run, bool], ...]
"""One path as read: its lines, each with whether Z closed it."""

_SVG: Final = "{http://www.w3.org/2000/svg}"
_KEPT: Final = f"{{{KEPT_NAMESPACE}}}"
_ATTRIBUTES: Final = {
    "svg": {"width", "height", "viewBox", "version"},
    "title": set[str](),
    "metadata": set[str](),
    "g": {"id"},
    "path": {"d", "fill", "stroke", "stroke-width"},
}
_PAINT: Final = {"fill": "none", "stroke": "#000000", "stroke-width": "0.1"}


def check_svg(
    text: str,
    page: CutPage,
    *,
    recipe: str = "",
    one_path: bool = False,
    kinds: Iterable[LineKind] | None = None,
    lines: PageLines | None = None,
) -> tuple[str, ...]:
    """Return every violation of the output contract in a written SVG text, a sentence each; empty when it is good.

    The text is read by a reader of its own. ``recipe``, ``one_path`` and ``kinds`` are those given to ``to_svg``;
    ``lines`` is ``measured_page(page)`` where the caller has it already. Distances from the page's curves may be
    ``SVG_MM`` at most.
    """
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as fault:
        return (f"not well-formed XML: {fault}",)
    wanted, box = tuple(page.kinds() if kinds is None else kinds), page.box
    return (
        *_document_faults(text, root, box, page.title, recipe),
        *_element_faults(root),
        *_line_faults(root, page, box, wanted, one_path, measured_page(page) if lines is None else lines),
    )


def _document_faults(text: str, root: Element, box: Box, title: str, recipe: str) -> Iterator[str]:
    """Yield what is wrong with size, title, recipe and marker."""
    if root.tag != f"{_SVG}svg":
        yield f"the root is {root.tag}"
    view = root.get("viewBox", "")
    if not re.fullmatch(rf"0 0 {NUMBER} {NUMBER}", view):
        yield f'viewBox "{view}" does not begin at 0 0 with plain numbers'
    elif [root.get("width"), root.get("height")] != [f"{side}mm" for side in view.split()[2:]]:
        yield f"width {root.get('width')} and height {root.get('height')} are not those of the viewBox in mm"
    elif any(
        abs(float(side) - mm) > 10**-SVG_DECIMALS
        for side, mm in zip(view.split()[2:], (box.width_mm, box.height_mm), strict=True)
    ):
        yield f"viewBox {view}: the page is {box.width_mm:.4f} x {box.height_mm:.4f} mm"
    if root.findtext(f"{_SVG}title") != title:
        yield f"the title is not {title!r}"
    if (root.findtext(f"{_SVG}metadata/{_KEPT}kept/{_KEPT}recipe") or "") != recipe:
        yield "the recipe kept inside is not the one that made the file"
    if not is_marked(text.encode("utf-8")):
        yield "the marker does not agree with the text"
    if text.count("<?") != 1 or "<!" in text:
        yield "there is a comment, a document type or a processing instruction"


def _element_faults(root: Element) -> Iterator[str]:
    """Yield elements and attributes that do not belong there."""
    for element in root.iter():
        if element.tag.startswith(_KEPT):
            continue
        name = element.tag.removeprefix(_SVG)
        if name not in _ATTRIBUTES:
            yield f"an element {element.tag}"
            continue
        for attribute in sorted(set(element.keys()) ^ _ATTRIBUTES[name]):
            yield f"{name}: attribute {attribute} is {'not allowed' if element.get(attribute) else 'missing'}"
        if name == "path" and any(element.get(key) != value for key, value in _PAINT.items()):
            yield f"path: painted {[element.get(key) for key in _PAINT]}, wanted {list(_PAINT.values())}"


def _line_faults(
    root: Element, page: CutPage, box: Box, kinds: tuple[LineKind, ...], one_path: bool, lines: PageLines
) -> Iterator[str]:
    """Yield what is wrong with the groups and the lines in them."""
    groups = root.findall(f"{_SVG}g")
    if [group.get("id") for group in groups] != list(kinds):
        yield f"groups {[group.get('id') for group in groups]}, wanted {list(kinds)}"
        return
    for kind, group in zip(kinds, groups, strict=True):
        pieces = [piece for piece in page.pieces if piece.runs(kind)]
        if len(group) != (1 if one_path else len(pieces)):
            yield f"{kind}: {len(group)} paths for {len(pieces)} pieces"
        try:
            paths = [read_path(path.get("d", ""), box.height_mm) for path in group]
        except PathDataError as fault:
            yield f"{kind}: {fault}"
            continue
        yield from _path_faults(
            kind, paths, lines[kind], are_outlines=kind == "cut" and not page.has_machine_cuts, one_path=one_path
        )


def _path_faults(kind: LineKind, paths: list[Path], own: Lines, *, are_outlines: bool, one_path: bool) -> Iterator[str]:
    """Yield what is wrong with the paths of one kind; ``are_outlines``: all are closed, holes before the outside."""
    if not paths or not all(paths):
        yield f"{kind}: an empty path"
        return
    for run, is_closed in (line for path in paths for line in path):
        if are_outlines and not is_closed:
            yield f"cut: a subpath from {run[0].start:.4f} is not closed"
        for segment in run:
            if isinstance(segment, Arc) and abs(segment.sweep_rad) > math.pi / 2 + _play_rad(segment):
                yield f"{kind}: an arc of {math.degrees(segment.sweep_rad):.2f} deg, 90 allowed"
        for point in spikes(run):
            yield f"{kind}: the line runs back over itself at {point:.4f}"
    read = read_lines([run for path in paths for run, _ in path])
    if are_outlines and not one_path:
        ends = itertools.accumulate(map(len, paths))
        for areas in (read.areas_mm2[end - len(path) : end] for path, end in zip(paths, ends, strict=True)):
            if areas[-1] <= 0 or any(areas[:-1] > SVG_MM):
                yield "cut: a path does not hold its holes first, opposite to the outside"
    yield from differences(kind, read, own, SVG_MM)


def _play_rad(arc: Arc) -> float:
    """Return by how much rounding of the ends and the radii may widen a quarter."""
    return 4 * 10**-SVG_DECIMALS / min(abs(arc.u), abs(arc.v))
