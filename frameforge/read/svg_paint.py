"""What is painted of the shapes: fills and strokes as outlines in millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.geometry.outline import Outline
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_walk import Clip, Shape
from frameforge.tolerances import SAME_POINT_MM

__all__ = ["Painted", "paint"]


@dataclass(frozen=True, slots=True)
class Painted:
    """Raw outlines filled by a rule: one fill or one stroke, in paint order."""

    label: str
    part: str
    outlines: tuple[Outline, ...]
    rule: str = "nonzero"
    clips: tuple[Clip, ...] = ()
    is_white: bool = False


def paint(shapes: list[Shape], notes: Notes) -> tuple[Painted, ...]:
    """Return what is painted of the shapes, in paint order."""
    painted = []
    for shape in shapes:
        style = shape.style
        if style.visibility != "visible":
            continue
        fill = style.color if style.fill.kind == "current" else style.fill
        if fill.kind != "none" and style.fill_opacity > 0 and not shape.is_line:
            outlines = fill_outlines(shape)
            if outlines:
                painted.append(
                    Painted(shape.label, shape.part, outlines, style.fill_rule, shape.clips, fill.is_near_white)
                )
    return tuple(painted)


def fill_outlines(shape: Shape) -> tuple[Outline, ...]:
    """Return the outlines a fill sees, open subpaths closed."""
    found = (subpath.to_outline(shape.affine, SAME_POINT_MM) for subpath in shape.subpaths)
    return tuple(outline for outline in found if outline is not None)
