"""The edge a row stands on as the one thing that changes: base or opening at which a count closes with a gap."""

from __future__ import annotations

import math
from dataclasses import replace

from frameforge.frame.base import Edge
from frameforge.frame.model import RowModel
from frameforge.frame.rising import rising_zero
from frameforge.frame.solve import growth_of, size_for
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import PieceSpec, Size

__all__ = ["closing_sizes", "is_on_opening"]


def is_on_opening(model: RowModel) -> bool:
    """Whether the row stands on an opening whose size is stated (one that a rim leaves goes with the base)."""
    row = model.row
    return model.spec.opening is not None and (row.on or ("opening" if row.place == "in" else "base")) == "opening"


def closing_sizes(
    model: RowModel, size: Size, count: int, scale: float, gap_mm: float
) -> tuple[PieceSpec, Size] | None:
    """Return the piece's order and base size at which ``count`` repeats close with exactly the gap; None if none.

    The edge that the row stands on changes in its proportion: the base, or the opening where its size is stated.
    """
    opening = model.spec.opening
    if opening is None or not is_on_opening(model):
        growth = growth_of(PieceSpec(model.spec.name, "find"), size)
        base = size_for(model, growth, count, scale, gap_mm)
        return None if base is None else (replace(model.spec, size=base), base)
    changed = _opening_for(model, size, opening, count, scale, gap_mm)
    return None if changed is None else (replace(model.spec, opening=changed), size)


def _opening_for(model: RowModel, size: Size, given: Size, count: int, scale: float, gap_mm: float) -> Size | None:
    """Return the opening, in the proportion of the given one, at which the row closes with exactly the gap."""
    ratio = given.width_mm / given.height_mm

    def excess(width: float) -> float:
        spec = replace(model.spec, opening=Size(width, width / ratio))
        return RowModel(spec, model.row, model.preset).clearance_mm(size, count, scale) - gap_mm

    widths = [max(ready.foot_mm, ready.box.width_mm / 2, 1e-3) for ready in model.readies(count, scale)]
    around = edge_length_mm(Edge.from_size(given)) / given.width_mm
    guess = (sum(widths) + count * max(gap_mm, 0.0)) / around
    width = rising_zero(excess, guess)
    return None if width is None or not math.isfinite(width) else Size(width, width / ratio)
