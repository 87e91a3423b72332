"""The walk through a drawing's tree: every shape with its curves, its map to millimetres, style, part and clips.

Groups, nested svg, symbol and use, switch and conditions are resolved here (SVG 2 chapter 5); what is painted of a
shape is ``svg_paint``'s question.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final
from xml.etree.ElementTree import Element

from frameforge.errors import InputError
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.measure import bounds
from frameforge.read.svg_index import Index
from frameforge.read.svg_leaf import Finds, add_letters, add_picture, add_shape
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_scene import Clip, Context, Shape, is_off, is_wanted, lengths_of, part_of
from frameforge.read.svg_shapes import SHAPES, shape_subpaths
from frameforge.read.svg_style import ROOT_STYLE, Declarations, Style, inherit
from frameforge.read.svg_transform import read_origin, read_transform
from frameforge.read.svg_tree import local_name
from frameforge.read.svg_units import length
from frameforge.read.svg_viewport import Page, Rectangle, fit_view_box, read_view_box

__all__ = ["Walk"]

_GREATEST_WALK: Final = 20_000
_GREATEST_STRETCH: Final = 1e9
_GREATEST_DEPTH: Final = 220
_LEFT_OUT: Final = {"mask": "a mask", "filter": "a filter"}
_LEAVES: Final = {"text": add_letters, "image": add_picture, "foreignObject": add_picture}
_MARKED: Final = ("path", "line", "polyline", "polygon")
_HREF: Final = ("href", "{http://www.w3.org/1999/xlink}href")


class Walk:
    """One walk over one tree; ``finds`` fills while ``root`` runs."""

    def __init__(self, index: Index, *, where: str, notes: Notes, is_lenient: bool = False) -> None:
        """Start with nothing found."""
        self.finds = Finds(index, where, notes, is_lenient)
        self._index = index
        self._met = 0

    def root(self, page: Page) -> None:
        """Walk the whole drawing. Raises InputError for loops, for what is too deep or too much, and for bad data."""
        tree = self._index.tree
        context = Context(page.to_mm, complex(page.view[2], page.view[3]))
        inner = self._enter(tree, context, self._index.declared(tree))
        if inner is not None:
            self._children(tree, inner)

    def _children(self, element: Element, context: Context) -> None:
        for child in element:
            self._element(child, context)

    def _element(self, element: Element, context: Context) -> None:
        """Walk one element, whatever it is; definitions and what no renderer shows are passed by."""
        name = local_name(element)
        if name not in _SHOWN or not is_wanted(element):
            return
        self._met += 1
        if self._met > _GREATEST_WALK:
            raise InputError(
                f"the drawing unfolds to more than {_GREATEST_WALK} elements. Save only the motif itself.",
                where=self.finds.where, code="too-large", limit=_GREATEST_WALK,
            )  # fmt: skip
        declared = self._index.declared(element)
        inner = self._enter(element, context, declared)
        if inner is not None:
            self._inside(element, inner, declared)

    def _inside(self, element: Element, context: Context, declared: Declarations) -> None:
        """Walk what an element shows, its own style and transform being in ``context``."""
        name = local_name(element)
        if name in SHAPES:
            shape = add_shape(self.finds, element, context, declared)
            if shape is not None and name in _MARKED and not context.is_clip:
                self._markers(shape, context)
        elif name in _LEAVES:
            _LEAVES[name](self.finds, element, context, declared)
        elif name in _BRANCHES:
            _BRANCHES[name](self, element, context, declared)

    def _enter(self, element: Element, context: Context, declared: Declarations) -> Context | None:
        """Return the context inside an element; None where its map flattens it to nothing."""
        if context.depth > _GREATEST_DEPTH:
            raise InputError(
                f"groups lie inside groups more than {_GREATEST_DEPTH} deep. Ungroup the drawing and save it again.",
                where=self.finds.where, code="too-deep", limit=_GREATEST_DEPTH,
            )  # fmt: skip
        affine = context.affine
        if affine.greatest_stretch > _GREATEST_STRETCH:
            raise InputError(
                f"{self._index.label(element)} is enlarged beyond all bounds. Take it out and save the drawing again.",
                where=self.finds.where, code="too-large",
            )  # fmt: skip
        style = inherit(context.style, declared)
        transform = declared.get("transform") or element.get("transform")
        if transform and element is not self._index.tree:
            affine = self._moved(element, transform, declared, replace(context, style=style))
            if affine.determinant == 0:
                return None
        inner = replace(
            context, affine=affine, style=style, is_hidden=context.is_hidden or is_off(declared),
            depth=context.depth + 1, part=part_of(element) or context.part,
        )  # fmt: skip
        if inner.is_hidden:
            return inner
        for name, words in _LEFT_OUT.items():
            if declared.get(name, "none") != "none":
                label = self._index.label(element)
                self.finds.notes.add(f"{label} has {words}, which cannot be a cut line and was left out.")
        return self._clipped(element, inner, declared.get("clip-path", "none").strip())

    def _moved(self, element: Element, text: str, declared: Declarations, context: Context) -> Affine:
        """Return the map inside an element that has a transform."""
        try:
            own = read_transform(text)
            origin = declared.get("transform-origin")
            if origin:
                about = read_origin(origin, self._origin_box(element, declared, context), context.style.font_px)
                own = Affine.from_move(about).after(own).after(Affine.from_move(-about))
            moved = context.affine.after(own)
            if moved.greatest_stretch > _GREATEST_STRETCH:
                raise ValueError("it enlarges the drawing beyond all bounds")
            return moved
        except (ValueError, OverflowError) as fault:
            if self.finds.is_lenient:
                self.finds.notes.add(f"the transform of {self._index.label(element)} was left out: {fault}.")
                return context.affine
            raise InputError(
                f"its transform cannot be read: {fault}. Repair it in a text editor, or leave it out with --lenient.",
                where=self.finds.named(element), code="bad-transform",
            ) from None  # fmt: skip

    def _origin_box(self, element: Element, declared: Declarations, context: Context) -> Rectangle:
        """Return the box that a transform origin is measured in (CSS Transforms 1, ``transform-box``)."""
        whole = (0.0, 0.0, context.viewport.real, context.viewport.imag)
        if declared.get("transform-box", "view-box") == "view-box":
            return whole
        return self._box(element, context) or whole

    def _clipped(self, element: Element, context: Context, text: str) -> Context:
        """Return the context with the clip-path added; a reference that leads nowhere clips nothing."""
        if text in ("", "none", "inherit", "initial", "unset"):
            return context
        if not text.startswith("url("):
            label = self._index.label(element)
            self.finds.notes.add(f"{label} is clipped by a CSS shape, which was left out.")
            return context
        target = self._index.target(text, "clipPath")
        if target is None:
            return context
        return replace(context, clips=(*context.clips, self._clip(target, element, context)))

    def _clip(self, target: Element, element: Element, context: Context) -> Clip:
        """Return what a clipPath element lets through, at the place of ``element`` (CSS Masking 1 section 5)."""
        self._refuse_loop(target, context)
        declared = self._index.declared(target)
        inside = (*context.inside, target)
        base = replace(context, clips=(), style=ROOT_STYLE, part="join", inside=inside, is_clip=True)
        inner = self._enter(target, base, declared)
        if inner is None:
            return Clip(())
        if target.get("clipPathUnits") == "objectBoundingBox":
            box = self._box(element, context)
            if box is None or box[2] <= 0 or box[3] <= 0:
                return Clip(())
            unit = Affine.from_matrix(box[2], 0, 0, box[3], box[0], box[1])
            inner = replace(inner, affine=inner.affine.after(unit), viewport=1 + 1j)
        plain = replace(inner, clips=())
        shapes = self._apart(lambda: self._children(target, plain))
        return Clip(tuple(shapes), inner.clips)

    def _box(self, element: Element, context: Context) -> Rectangle | None:
        """Return the box of an element's fills in its own user units, strokes and clips left aside."""
        plain = replace(context, affine=IDENTITY, clips=(), is_clip=False, depth=context.depth + 1)
        shapes = self._apart(lambda: self._inside(element, plain, self._index.declared(element)))
        placed = [path.transformed(shape.affine) for shape in shapes for path in shape.subpaths]
        segments = [segment for path in placed for segment in path.segments]
        if not segments:
            return None
        found = bounds(segments)
        return found.left, found.bottom, found.right - found.left, found.top - found.bottom

    def _apart(self, run: Callable[[], None]) -> list[Shape]:
        """Return the shapes that ``run`` finds, without adding them, its guides or its notes to the drawing."""
        ours = self.finds
        self.finds = Finds(self._index, ours.where, Notes(), ours.is_lenient)
        try:
            run()
            return self.finds.shapes
        finally:
            self.finds = ours

    def _refuse_loop(self, target: Element, context: Context) -> None:
        if target in context.inside:
            raise InputError(
                f"{self._index.label(target)} is used inside itself. "
                "Take that copy out and save the drawing again.", where=self.finds.where, code="use-loop",
            )  # fmt: skip

    def _group(self, element: Element, context: Context, declared: Declarations) -> None:
        """Walk a group; in a clipPath groups count for nothing."""
        if not context.is_clip:
            self._children(element, context)

    def _switch(self, element: Element, context: Context, declared: Declarations) -> None:
        """Walk the first child whose conditions hold."""
        for child in element:
            name = local_name(child)
            if name in _SHOWN and is_wanted(child):
                self._element(child, context)
                return

    def _nested(self, element: Element, context: Context, declared: Declarations) -> None:
        """Walk an svg element inside the drawing."""
        width, height = (declared.get(name) or element.get(name) for name in ("width", "height"))
        self._viewport(element, context, declared, (width, height))

    def _viewport(
        self, element: Element, context: Context, declared: Declarations, sides: tuple[str | None, str | None]
    ) -> None:
        """Walk an svg or symbol in a viewport of its own, clipped to it unless it overflows (SVG 2 chapter 8)."""
        width = _side(sides[0], context.viewport.real, context.style)
        height = _side(sides[1], context.viewport.imag, context.style)
        if width <= 0 or height <= 0:
            return
        lengths = lengths_of(element, declared, context)
        is_symbol = local_name(element) == "symbol"
        corner = 0j if is_symbol else complex(lengths("x", "x") or 0.0, lengths("y", "y") or 0.0)
        outside = inside = context.affine.after(Affine.from_move(corner))
        view = read_view_box(element.get("viewBox"))
        viewport = complex(width, height)
        if view is not None:
            inside = outside.after(fit_view_box(view, width, height, element.get("preserveAspectRatio")))
            viewport = complex(view[2], view[3])
        clips = context.clips
        if declared.get("overflow", "hidden").strip() not in ("visible", "auto"):
            clips = (*clips, Clip((_rectangle(width, height, outside),), is_viewport=True))
        self._children(element, replace(context, affine=inside, viewport=viewport, clips=clips))

    def _use(self, element: Element, context: Context, declared: Declarations) -> None:
        """Walk what a use element names, as its child, at its x and y (SVG 2 section 5.6)."""
        reference = next((element.attrib[key] for key in _HREF if key in element.attrib), "")
        target = self._index.target(reference)
        if target is None or (context.is_clip and local_name(target) not in (*SHAPES, "text")):
            return
        self._refuse_loop(target, context)
        lengths = lengths_of(element, declared, context)
        corner = complex(lengths("x", "x") or 0.0, lengths("y", "y") or 0.0)
        moved = context.affine.after(Affine.from_move(corner))
        inner = replace(context, affine=moved, inside=(*context.inside, target))
        if local_name(target) not in ("svg", "symbol"):
            self._element(target, inner)
            return
        theirs = self._index.declared(target)
        entered = self._enter(target, inner, theirs)
        if entered is not None:
            width, height = (self._used_side(name, element, target) for name in ("width", "height"))
            self._viewport(target, entered, theirs, (width, height))

    def _markers(self, shape: Shape, context: Context) -> None:
        """Walk the markers on a shape's vertices; those on shapes inside a marker are left out."""
        style = shape.style
        named = {"start": style.marker_start, "mid": style.marker_mid, "end": style.marker_end}
        if all(text == "none" for text in named.values()) or style.visibility != "visible":
            return
        from frameforge.read.svg_markers import marker_map, marker_places, marker_view  # here, since hardly any
        from frameforge.read.svg_stroke import stroke_width  # drawing has markers

        markers = {which: self._index.target(text, "marker") for which, text in named.items()}
        width = stroke_width(style, shape.viewport)
        for place in marker_places(shape.subpaths):
            marker = markers[place[0]]
            if marker is None or marker in context.inside:
                continue
            own = replace(self._index.style_of(marker), marker_start="none", marker_mid="none", marker_end="none")
            across, down, inner = marker_view(marker, own, context.viewport)
            if across <= 0 or down <= 0 or width <= 0:
                continue
            outside = context.affine.after(marker_map(marker, place, width, inner, own))
            clips = (*context.clips, Clip((_rectangle(across, down, outside),), is_viewport=True))
            within = replace(context, affine=outside.after(inner), style=own, inside=(*context.inside, marker),
                             clips=clips if marker.get("overflow", "hidden") == "hidden" else context.clips,
                             viewport=complex(across, down), depth=context.depth + 1)  # fmt: skip
            self._children(marker, within)

    def _used_side(self, name: str, element: Element, target: Element) -> str | None:
        """Return the width or height of a used svg or symbol: the use element's, else the svg's own."""
        own = element.get(name)
        if own not in (None, "auto") or local_name(target) == "symbol":
            return own
        return target.get(name)


_BRANCHES: Final[dict[str, Callable[[Walk, Element, Context, Declarations], None]]] = {
    "g": Walk._group, "a": Walk._group, "svg": Walk._nested, "use": Walk._use, "switch": Walk._switch,
}  # fmt: skip
_SHOWN: Final = frozenset((*SHAPES, *_LEAVES, *_BRANCHES))


def _side(text: str | None, whole: float, style: Style) -> float:
    """Return a side of a viewport in user units; all there is where none is given."""
    side = length(text, whole=whole, font_px=style.font_px) if text else None
    return whole if side is None else side


def _rectangle(width: float, height: float, affine: Affine) -> Shape:
    """Return the shape of a viewport."""
    sides = {"width": width, "height": height}
    subpaths, _ = shape_subpaths("rect", lambda key: None, lambda key, direction: sides.get(key))
    return Shape("viewport", subpaths, affine, ROOT_STYLE)
