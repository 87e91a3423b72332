"""The edge a row stands on as the one thing that changes: base or opening at which a count closes with a gap."""

from __future__ import annotations

import math
from dataclasses import replace

from frameforge.frame.base import Edge
from frameforge.frame.model import RowModel
from frameforge.frame.rising import rising_zero
from frameforge.frame.solve import SETTLED_MM, growth_of, size_for
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import PieceSpec, Size

__all__ = ["closing_sizes", "is_on_opening"]

_FAR, _NEAR = 1.6, 1.02
"""Factors by which a width is widened or narrowed until the one looked for lies between: from a width by feet alone,
from a circle that is as long."""


def is_on_opening(model: RowModel) -> bool:
    """Whether the row stands on an opening whose size is stated (one that a rim leaves goes with the base)."""
    row = model.row
    return model.spec.opening is not None and (row.on or ("opening" if row.place == "in" else "base")) == "opening"


def closing_sizes(
    model: RowModel, size: Size, count: int, scale: float, gap_mm: float, *, settled_mm: float = SETTLED_MM
) -> tuple[PieceSpec, Size] | None:
    """Return the piece's order and base size at which ``count`` repeats close with exactly the gap; None if none.

    The edge that the row stands on changes in its proportion: the base, or the opening where its size is stated. On an
    oval a gap within ``settled_mm`` of that will do.
    """
    opening = model.spec.opening
    if opening is None or not is_on_opening(model):
        growth = growth_of(PieceSpec(model.spec.name, "find"), size)
        base = size_for(model, growth, count, scale, gap_mm, settled_mm=settled_mm)
        return None if base is None else (replace(model.spec, size=base), base)
    changed = _opening_for(model, size, opening, count, scale, gap_mm, settled_mm)
    return None if changed is None else (replace(model.spec, opening=changed), size)


def _opening_for(
    model: RowModel, size: Size, given: Size, count: int, scale: float, gap_mm: float, settled_mm: float
) -> Size | None:
    """Return the opening, in the proportion of the given one, at which the row closes with exactly the gap."""

    def found(height: float, guess: float, factor: float, settled: float) -> float | None:
        """Return the width of an opening whose height is so many times that."""

        def excess(width: float) -> float:
            spec = replace(model.spec, opening=Size(width, width * height))
            return RowModel(spec, model.row, model.preset).clearance_mm(size, count, scale) - gap_mm

        return rising_zero(excess, guess, factor=factor, settled=settled)

    widths = [max(ready.foot_mm, ready.box.width_mm / 2) for ready in model.readies(count, scale)]
    around = edge_length_mm(Edge.from_size(given)) / given.width_mm
    length = sum(widths) + count * max(gap_mm, 0.0)
    circle = found(1.0, length / math.pi, _FAR, SETTLED_MM)
    if given.is_circle:
        width = circle
    else:
        # A ring on an oval costs many times one on a circle, and closes at nearly the same length of edge.
        height = given.height_mm / given.width_mm
        near = length if circle is None else circle * math.pi
        width = found(height, near / around, _FAR if circle is None else _NEAR, settled_mm)
    return None if width is None else Size(width, width * given.height_mm / given.width_mm)
