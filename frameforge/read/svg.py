"""Any open SVG read into a drawing of true curves."""

from __future__ import annotations

from typing import Literal

from frameforge.errors import InputError
from frameforge.geometry.combine import evaluate
from frameforge.geometry.region import Region
from frameforge.read.drawing import Drawing
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_paint import Painted, paint
from frameforge.read.svg_scene import PARTS
from frameforge.read.svg_tree import read_tree
from frameforge.read.svg_unite import united
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
    index = Index(root, notes)
    walk = Walk(index, where=where, notes=notes, is_lenient=lenient)
    walk.root(page)
    painted = paint(walk.finds.shapes, index, notes)
    if not painted:
        raise InputError("the drawing holds nothing that can be cut.", where=where, code="nothing-to-cut")
    parts = {part: _part(part, painted, white == "cuts") for part in PARTS}
    if not any(parts.values()):
        raise InputError("the drawing holds nothing that can be cut.", where=where, code="nothing-to-cut")
    return Drawing(
        page.width_mm, page.height_mm, parts["join"], parts["cut-away"], parts["window"],
        walk.finds.guides.get("foot"), walk.finds.guides.get("axis"), notes.to_tuple(),
    )  # fmt: skip


def _part(part: str, painted: tuple[Painted, ...], white_cuts: bool) -> tuple[Region, ...]:
    """Return the regions of one part."""
    expression = united((item for item in painted if item.part == part and not item.is_stroke), white_cuts=white_cuts)
    return () if expression is None else evaluate(expression).regions
