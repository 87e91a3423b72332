"""How large the page of an SVG is."""

from __future__ import annotations

from frameforge.read.svg_tree import read_tree
from frameforge.read.svg_viewport import read_page

__all__ = ["svg_page_mm"]


def svg_page_mm(data: bytes, *, where: str) -> tuple[float, float] | None:
    """Return width and height of an SVG's page in mm, its lower left corner being 0; None where it states no size.

    Raises InputError where the data is no SVG.
    """
    page = read_page(read_tree(data, where=where), where=where)
    if page.width_mm is None or page.height_mm is None:
        return None
    return page.width_mm, page.height_mm
