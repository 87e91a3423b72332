"""Any open SVG read into a drawing of true curves."""

from __future__ import annotations

from typing import Literal

from frameforge.errors import InputError
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.read.drawing import Drawing
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_paint import paint
from frameforge.read.svg_tree import read_tree
from frameforge.read.svg_viewport import read_page
from frameforge.read.svg_walk import Walk

__all__ = ["read_drawing"]


def read_drawing(data: bytes, *, where: str, white: Literal["keep", "cuts"] = "keep", lenient: bool = False) -> Drawing:
    """Return the drawing in an SVG file's bytes, in mm, y up.

    ``where`` names the file in messages. ``white`` says whether near-white shapes on top of others are card like all
    else or are cut out of it. ``lenient`` takes what stands before the fault of a path.
    Raises InputError, one line, where the file is no SVG or holds nothing that can be cut.
    """
    root = read_tree(data, where=where)
    page = read_page(root, where=where)
    notes = Notes()
    walk = Walk(root, where, notes, lenient)
    walk.root(page)
    painted = paint(walk.shapes, notes)
    if not painted:
        raise InputError("the drawing holds nothing that can be cut.", where=where, code="nothing-to-cut")
    parts = {
        part: _simple_regions([o for item in painted if item.part == part for o in item.outlines])
        for part in ("join", "cut-away", "window")
    }
    return Drawing(
        page.width_mm, page.height_mm, parts["join"], parts["cut-away"], parts["window"],
        walk.guides.get("foot"), walk.guides.get("axis"), notes.to_tuple(),
    )  # fmt: skip


def _simple_regions(outlines: list[Outline]) -> tuple[Region, ...]:
    """Return outlines that do not cross as regions, every second one inside another being a hole."""
    turned = [outline if area_mm2(outline) > 0 else outline.reversed() for outline in outlines]
    areas = [to_polygon(Region(outline), 0.01) for outline in turned]
    depths = [sum(b is not a and b.contains(a) for b in areas) for a in areas]
    regions = []
    for outline, area, depth in zip(turned, areas, depths, strict=True):
        if depth % 2 == 0:
            holes = (
                other.reversed()
                for other, inner, inner_depth in zip(turned, areas, depths, strict=True)
                if inner_depth == depth + 1 and area.contains(inner)
            )
            regions.append(Region(outline, tuple(holes)))
    return tuple(regions)
