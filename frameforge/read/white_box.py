"""white-box: a filled box behind a drawing, as large as its page; it makes one plain box of all the rest."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

from frameforge.finding import Finding
from frameforge.geometry.box import Box
from frameforge.geometry.line import Line
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.read.svg_paint import Painted, fill_outlines
from frameforge.read.svg_scene import Clip, Shape
from frameforge.read.svg_viewport import Page
from frameforge.tolerances import PAGE_MM

__all__ = ["boxes_behind", "white_boxes"]


def white_boxes(painted: Sequence[Painted], page: Page, *, white_cuts: bool) -> tuple[Finding, ...]:
    """Return the finding of every painted box behind other shapes that fills the whole page.

    Where the drawing states no page, a box that holds all the rest counts as one. With ``white_cuts`` a near-white box
    is no card and gives no finding.
    """
    cards = [item for item in painted if item.part == "join" and not (item.is_white and white_cuts)]
    if len(cards) < 2:
        return ()
    return tuple(
        Finding("white-box", "note", "it fills the whole page, so all the rest is lost in one plain box. Take it out "
                "of the drawing" + (", or use --white cuts." if item.is_white else "."), where=item.shape.label)
        for item in cards
        if _is_box(item) and _fills_page(item, page, cards)
    )  # fmt: skip


def boxes_behind(shapes: Sequence[Shape], page: Page) -> tuple[Finding, ...]:
    """Return the finding of every shape of a cut file that is filled, without a line of its own, and fills the page.

    A cutter follows it as well, and so it makes a plain box of all the rest.
    """
    seen = [Painted(shape, outlines) for shape in shapes if (outlines := fill_outlines(shape))]
    return tuple(
        Finding("white-box", "note", "it fills the whole page and would be cut as well, a plain box round all the "
                "rest. Take it out of the drawing.", where=item.shape.label)
        for item in seen
        if len(seen) > 1 and item.shape.style.fill.kind != "none" and item.shape.style.stroke.kind == "none"
        and _is_box(item) and _fills_page(item, page, seen)
    )  # fmt: skip


def _fills_page(box: Painted, page: Page, cards: Sequence[Painted]) -> bool:
    """Return whether a box, clipped as it is, leaves nothing of the page free."""
    own = bounds(box.outlines)
    if page.is_bounded:
        whole = _shown_box(page)
    else:
        whole = reduce(Box.union, (other for item in cards if item is not box for other in item.boxes()))
    return _covers(own, whole) and all(_lets_through(clip, whole) for clip in box.clips)


def _lets_through(clip: Clip, whole: Box) -> bool:
    """Return whether a clip is a plain box that takes nothing of the page away."""
    outlines = [outline for shape in clip.shapes for outline in fill_outlines(shape)]
    is_plain = len(outlines) == 1 and _is_upright(outlines[0]) and _covers(bounds(outlines), whole)
    return is_plain and all(_lets_through(other, whole) for other in clip.clips)


def _shown_box(page: Page) -> Box:
    """Return what of the page the view box fills, in millimetres, y up."""
    left, top, width, height = page.view
    shown = Box.from_points(page.to_mm.apply(z) for z in (complex(left, top), complex(left + width, top + height)))
    across, down = page.width_mm, page.height_mm
    if across is None or down is None:
        return shown
    return Box(max(shown.left, 0.0), max(shown.bottom, 0.0), min(shown.right, across), min(shown.top, down))


def _is_box(item: Painted) -> bool:
    """Return whether an item is the fill of an upright box."""
    return len(item.outlines) == 1 and _is_upright(item.outlines[0])


def _is_upright(outline: Outline) -> bool:
    """Return whether an outline runs along the axes of the page only."""
    steps = [segment.end - segment.start for segment in outline.segments]
    return all(isinstance(segment, Line) for segment in outline.segments) and all(
        min(abs(step.real), abs(step.imag)) <= PAGE_MM for step in steps
    )


def _covers(box: Box, whole: Box) -> bool:
    """Return whether a box leaves nothing of the page free, to the tolerance of a page."""
    return (
        box.left <= whole.left + PAGE_MM and box.bottom <= whole.bottom + PAGE_MM
        and box.right >= whole.right - PAGE_MM and box.top >= whole.top - PAGE_MM
    )  # fmt: skip
