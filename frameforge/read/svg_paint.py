"""What is painted of the shapes: fills as raw outlines in millimetres, strokes as shapes to be widened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.read.svg_colour import Paint
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_scene import Clip, Shape
from frameforge.read.svg_stroke import stroke_width
from frameforge.read.svg_tree import local_name
from frameforge.tolerances import SAME_POINT_MM

__all__ = ["Painted", "fill_outlines", "paint"]


@dataclass(frozen=True, slots=True)
class Painted:
    """One fill (outlines filled by a rule) or one stroke (``outlines`` empty), in paint order."""

    shape: Shape
    outlines: tuple[Outline, ...] = ()
    is_white: bool = False

    @property
    def is_stroke(self) -> bool:
        """Whether it is the stroke of its shape."""
        return not self.outlines

    @property
    def rule(self) -> Literal["nonzero", "evenodd"]:
        """The fill rule of its outlines."""
        return "evenodd" if self.shape.style.fill_rule == "evenodd" else "nonzero"

    @property
    def part(self) -> str:
        """The motif's part it belongs to."""
        return self.shape.part

    @property
    def clips(self) -> tuple[Clip, ...]:
        """What it is clipped by."""
        return self.shape.clips

    def box(self) -> Box:
        """Return the box of what is painted (mm); for a stroke that of its line, grown by half its width."""
        if self.outlines:
            return bounds(self.outlines)
        shape = self.shape
        placed = [segment for path in shape.subpaths for segment in path.transformed(shape.affine).segments]
        starts = Box.from_points(shape.affine.apply(path.start) for path in shape.subpaths)
        box = bounds(placed) if placed else starts
        half = stroke_width(shape.style, shape.viewport) / 2 * shape.affine.greatest_stretch
        return Box(box.left - half, box.bottom - half, box.right + half, box.top + half)


def paint(shapes: list[Shape], index: Index, notes: Notes) -> tuple[Painted, ...]:
    """Return what is painted of the shapes, in paint order: of each its fill, then its stroke."""
    painted: list[Painted] = []
    for shape in shapes:
        style = shape.style
        if style.visibility != "visible":
            continue
        fill = _seen(style.fill, shape, index, notes) if style.fill_opacity > 0 and not shape.is_line else None
        outlines = fill_outlines(shape) if fill is not None else ()
        if fill is not None and outlines:
            painted.append(Painted(shape, outlines, fill.is_near_white))
            _note_open(shape, notes)
        stroke = _seen(style.stroke, shape, index, notes) if style.stroke_opacity > 0 else None
        if stroke is not None and stroke_width(style, shape.viewport) > 0:
            painted.append(Painted(shape, (), stroke.is_near_white))
            if shape.has_fixed_stroke:
                notes.add(f"{shape.label} has a stroke that keeps its width when scaled; taken as wide as on the page.")
    return tuple(painted)


def fill_outlines(shape: Shape) -> tuple[Outline, ...]:
    """Return the outlines a fill sees, open subpaths closed."""
    found = (subpath.to_outline(shape.affine, SAME_POINT_MM) for subpath in shape.subpaths)
    return tuple(outline for outline in found if outline is not None)


def _seen(paint: Paint, shape: Shape, index: Index, notes: Notes) -> Paint | None:
    """Return the paint if it shows anything, the current colour put in; gradients and patterns are noted."""
    if paint.kind == "current":
        paint = shape.style.color
    if paint.kind == "none":
        return None
    if paint.kind != "reference":
        return paint
    server = index.target(f"#{paint.reference.removeprefix('#')}")
    kind = local_name(server) if server is not None else ""
    if kind in ("linearGradient", "radialGradient"):
        notes.add(f"{shape.label} is filled by a gradient, which cannot be a cut line; its outline was taken.")
        return paint
    if kind == "pattern":
        notes.add(f"{shape.label} is filled by a pattern, which cannot be a cut line; its outline was taken.")
        return paint
    return paint if paint.has_fallback else None


def _note_open(shape: Shape, notes: Notes) -> None:
    """Note a filled path that was left open."""
    for subpath in shape.subpaths:
        gap_mm = abs(shape.affine.apply_vector(subpath.end - subpath.start))
        if not subpath.is_closed and len(subpath.segments) > 1 and gap_mm > SAME_POINT_MM:
            notes.add(f"{shape.label} is open by {gap_mm:.2f} mm; a straight line closes it.")
            return
