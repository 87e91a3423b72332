"""Everything painted, united into regions: one expression a part, evaluated once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from frameforge.geometry.combine import Expression, Loops, difference, intersection, union
from frameforge.read.svg_paint import Painted, fill_outlines
from frameforge.read.svg_scene import Clip, Shape

__all__ = ["united"]


def united(painted: Iterable[Painted], *, white_cuts: bool) -> Expression | None:
    """Return what the painted items cover together, or None where that is nothing.

    With ``white_cuts`` near-white items are taken out of what was painted before them.
    """
    covered: list[Expression] = []
    for (is_white, _), group in groupby(painted, key=lambda item: (item.is_white and white_cuts, _clip_key(item))):
        items = tuple(group)
        expression = _clipped(union(*(_raw(item) for item in items)), items)
        if expression is None:
            continue
        if not is_white:
            covered.append(expression)
        elif covered:
            covered = [difference(union(*covered), expression)]
    return union(*covered) if covered else None


def _raw(item: Painted) -> Expression:
    """Return an item without its clips."""
    return union(*item.stroke) if item.stroke else Loops(item.outlines, item.rule)


def _clip_key(item: Painted) -> tuple[int, ...]:
    """Return what items under the very same clips share."""
    return tuple(id(clip) for clip in item.clips)


def _clipped(expression: Expression, items: tuple[Painted, ...]) -> Expression | None:
    """Return an expression cut down to the clips of its items; None where a clip lets nothing through."""
    for clip in items[0].clips:
        if clip.is_viewport and all(_is_inside(item, clip) for item in items):
            continue
        window = _window(clip)
        if window is None:
            return None
        expression = intersection(expression, window)
    return expression


def _window(clip: Clip) -> Expression | None:
    """Return what a clip lets through, None for nothing: its shapes by their clip-rule, each with its own clips."""
    panes = [pane for shape in clip.shapes if (pane := _pane(shape)) is not None]
    whole: Expression | None = union(*panes) if panes else None
    for other in clip.clips:
        window = _window(other)
        whole = intersection(whole, window) if whole is not None and window is not None else None
    return whole


def _pane(shape: Shape) -> Expression | None:
    """Return the area of one shape in a clip, None where it shows nothing."""
    outlines = fill_outlines(shape) if shape.style.visibility == "visible" and not shape.is_line else ()
    if not outlines:
        return None
    pane: Expression = Loops(outlines, "evenodd" if shape.style.clip_rule == "evenodd" else "nonzero")
    for clip in shape.clips:
        window = _window(clip)
        if window is None:
            return None
        pane = intersection(pane, window)
    return pane


def _is_inside(item: Painted, clip: Clip) -> bool:
    """Return whether an item lies in an upright viewport, so that its edge need not take part."""
    (rectangle,) = fill_outlines(clip.shapes[0])
    sides = {segment.end.real for segment in rectangle.segments}, {segment.end.imag for segment in rectangle.segments}
    if len(sides[0]) != 2 or len(sides[1]) != 2:
        return False
    left, right, bottom, top = min(sides[0]), max(sides[0]), min(sides[1]), max(sides[1])
    return all(
        left <= box.left and box.right <= right and bottom <= box.bottom and box.top <= top for box in item.boxes()
    )
