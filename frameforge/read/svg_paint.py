"""What is painted of the shapes: fills as raw outlines in millimetres, strokes as regions."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.read.svg_colour import Paint
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_scene import Clip, Shape
from frameforge.read.svg_tree import local_name
from frameforge.tolerances import SAME_POINT_MM

if TYPE_CHECKING:
    from frameforge.read.svg_stroke import Stroke

__all__ = ["Painted", "fill_outlines", "paint"]


@dataclass(frozen=True, slots=True)
class Painted:
    """One fill (raw outlines, filled by a rule) or one stroke (regions), in millimetres."""

    shape: Shape
    outlines: tuple[Outline, ...] = ()
    stroke: tuple[Region, ...] = ()
    is_white: bool = False

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

    def boxes(self) -> tuple[Box, ...]:
        """Return the box of a fill, the boxes of a stroke's regions; clips left aside."""
        return tuple(map(bounds, self.stroke)) if self.stroke else (bounds(self.outlines),)


def paint(shapes: list[Shape], index: Index, notes: Notes, *, where: str) -> tuple[Painted, ...]:
    """Return what is painted of the shapes, fills and strokes.

    Paint order is kept between near-white items and all others; among the others it makes no difference, so strokes
    of one pen are widened together, after the fills about them.
    """
    painted: list[Painted] = []
    waiting: dict[Hashable, list[Stroke]] = {}
    for shape in shapes:
        if shape.style.visibility != "visible":
            continue
        fill, is_white = _fill(shape, index, notes)
        if is_white:
            painted += _strokes(waiting, notes)
        painted += fill
        for stroke, is_white_stroke in _stroke(shape, index, notes, where):
            if is_white_stroke:
                from frameforge.read.svg_stroke import widened  # here, since few drawings have strokes

                painted += _strokes(waiting, notes)
                painted += (Painted(shape, stroke=regions, is_white=True) for regions in widened([stroke], notes))
            else:
                waiting.setdefault(stroke.key, []).append(stroke)
    painted += _strokes(waiting, notes)
    return tuple(painted)


def _fill(shape: Shape, index: Index, notes: Notes) -> tuple[list[Painted], bool]:
    """Return the fill of a shape, if it shows, and whether it is near white."""
    style = shape.style
    paint = _seen(style.fill, shape, index, notes) if style.fill_opacity > 0 and not shape.is_line else None
    outlines = fill_outlines(shape) if paint is not None else ()
    if paint is None or not outlines:
        return [], False
    _note_open(shape, notes)
    return [Painted(shape, outlines, is_white=paint.is_near_white)], paint.is_near_white


def _stroke(shape: Shape, index: Index, notes: Notes, where: str) -> Iterator[tuple[Stroke, bool]]:
    """Yield the stroke of a shape, if it shows, and whether it is near white."""
    style = shape.style
    paint = _seen(style.stroke, shape, index, notes) if style.stroke_opacity > 0 else None
    if paint is None:
        return
    from frameforge.read.svg_stroke import stroke_of, stroke_width  # here, as above

    if stroke_width(style, shape.viewport) <= 0:
        return
    if shape.has_fixed_stroke:
        notes.add(f"{shape.label} has a stroke that keeps its width when scaled; taken as wide as on the page.")
    yield stroke_of(shape, where=where), paint.is_near_white


def _strokes(waiting: dict[Hashable, list[Stroke]], notes: Notes) -> list[Painted]:
    """Return the strokes that were waiting to be widened together, and let none wait any longer."""
    if not waiting:
        return []
    from frameforge.read.svg_stroke import widened  # here, as above

    groups = list(waiting.values())
    waiting.clear()
    return [Painted(group[0].shape, stroke=regions) for group in groups for regions in widened(group, notes) if regions]


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
