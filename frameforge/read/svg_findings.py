"""What a maker should know of a drawing before it is cut: white shapes, a box behind it all, parts beyond the page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_paint import Painted
from frameforge.read.svg_viewport import Page
from frameforge.tolerances import PAGE_MM

__all__ = ["note_spill", "note_white"]

_SIDES: Final = ("left", "bottom", "right", "top")


def note_white(painted: Sequence[Painted], notes: Notes, *, white_cuts: bool) -> None:
    """Name near-white shapes that lie on others: they count as card, or are cut out where that was asked."""
    if not any(item.is_white for item in painted):
        return
    below: list[Box] = []
    for item in painted:
        boxes = item.boxes()
        if item.is_white and any(_overlap(box, other) for box in boxes for other in below):
            if white_cuts:
                notes.add(f"{item.shape.label} is near white and was cut out of what lies below it.")
            else:
                notes.add(f"{item.shape.label} is near white and lies on top of others; it counts as card. "
                          "To cut it out take --white cuts.")  # fmt: skip
        elif not item.is_white:
            below += boxes


def note_spill(regions: Iterable[Region], page: Page, notes: Notes) -> None:
    """Note how far a drawing reaches beyond its page; all of it is kept."""
    regions = tuple(regions)
    if not page.is_bounded or not regions:
        return
    box, whole = bounds(regions), _page_box(page)
    beyond = (whole.left - box.left, whole.bottom - box.bottom, box.right - whole.right, box.top - whole.top)
    farthest = max(beyond)
    if farthest > PAGE_MM:
        side = _SIDES[beyond.index(farthest)]
        notes.add(f"the drawing reaches {farthest:.2f} mm beyond its page at the {side}; all of it was taken.")


def _page_box(page: Page) -> Box:
    """Return the page in millimetres, y up: what of it the view box fills where it states no size."""
    left, top, width, height = page.view
    a, b = page.to_mm.apply(complex(left, top)), page.to_mm.apply(complex(left + width, top + height))
    right, upper = max(a.real, b.real, page.width_mm or 0.0), max(a.imag, b.imag, page.height_mm or 0.0)
    return Box(min(a.real, b.real, 0.0), min(a.imag, b.imag, 0.0), right, upper)


def _overlap(a: Box, b: Box) -> bool:
    """Return whether two boxes share an area."""
    return min(a.right, b.right) > max(a.left, b.left) and min(a.top, b.top) > max(a.bottom, b.bottom)
