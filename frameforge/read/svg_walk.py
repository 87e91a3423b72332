"""The walk through a drawing's tree: every shape with its curves, its map to millimetres, style, part and clips.

Groups, nested svg, symbol and use, switch and conditions are resolved here (SVG 2 chapter 5); what is painted of a
shape is ``svg_paint``'s question.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final
from xml.etree.ElementTree import Element

from frameforge.errors import InputError
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.line import Line
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_shapes import SHAPES, shape_subpaths
from frameforge.read.svg_style import ROOT_STYLE, Cascade, Style, inherit
from frameforge.read.svg_transform import read_origin, read_transform
from frameforge.read.svg_tree import local_name
from frameforge.read.svg_units import length, number
from frameforge.read.svg_viewport import Page, Rectangle, fit_view_box, read_view_box

__all__ = ["PARTS", "Clip", "Context", "Shape", "Walk"]

PARTS: Final = ("join", "cut-away", "window")
"""Names of a motif's parts, as ids (or their beginning) and as values of ``data-part``."""

_GUIDES: Final = ("foot", "axis")
_GREATEST_WALK: Final = 60_000
"""Elements met, those of uses counted each time."""
_GREATEST_DEPTH: Final = 220
_GREATEST_SPAN_MM: Final = 1e5
_NAMED_ONLY: Final = {"mask": "a mask", "filter": "a filter"}
_HREF: Final = ("href", "{http://www.w3.org/1999/xlink}href")


@dataclass(frozen=True, slots=True)
class Clip:
    """What a clip-path or a viewport lets through: the fills of ``shapes`` united, clipped by ``clips`` in turn."""

    shapes: tuple[Shape, ...]
    clips: tuple[Clip, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """One shape element where it is shown; ``affine`` takes its own user units (y down) to millimetres, y up."""

    label: str
    subpaths: tuple[Subpath, ...]
    affine: Affine
    style: Style
    part: str = "join"
    clips: tuple[Clip, ...] = ()
    viewport: complex = 0j
    is_line: bool = False
    has_fixed_stroke: bool = False


@dataclass(frozen=True, slots=True)
class Context:
    """What an element gets from those around it. ``viewport`` is width + i height in user units."""

    affine: Affine
    viewport: complex
    style: Style = ROOT_STYLE
    part: str = "join"
    clips: tuple[Clip, ...] = ()
    is_hidden: bool = False
    inside: tuple[Element, ...] = ()
    depth: int = 0
    is_clip: bool = False


@dataclass(slots=True)
class Walk:
    """One walk; ``shapes`` and ``guides`` fill while ``root`` runs."""

    tree: Element
    where: str
    notes: Notes
    is_lenient: bool = False
    shapes: list[Shape] = field(default_factory=list)
    guides: dict[str, tuple[complex, complex]] = field(default_factory=dict)
    _met: int = 0
    _cascade: Cascade = field(init=False)
    _ids: dict[str, Element] = field(init=False)

    def __post_init__(self) -> None:
        """Index the tree."""
        self._cascade = Cascade(self.tree)
        self._ids = {}
        for element in self.tree.iter():
            name = element.get("id")
            if name is not None:
                self._ids.setdefault(name, element)
        for note in self._cascade.notes:
            self.notes.add(note)

    def root(self, page: Page) -> None:
        """Walk the whole drawing."""
        context = Context(page.to_mm, complex(page.view[2], page.view[3]))
        inner = self._enter(self.tree, context, self._cascade.declared(self.tree))
        if inner is not None:
            self._children(self.tree, inner)

    def _element(self, element: Element, context: Context) -> None:
        """Walk one element, whatever it is."""
        name = local_name(element)
        handler = _HANDLERS.get(name)
        if handler is None or not _is_wanted(element):
            return
        self._met += 1
        if self._met > _GREATEST_WALK:
            raise InputError(
                f"the drawing unfolds to more than {_GREATEST_WALK} elements. Save only the motif itself.",
                where=self.where, code="too-large", limit=_GREATEST_WALK,
            )  # fmt: skip
        declared = self._cascade.declared(element)
        inner = self._enter(element, context, declared)
        if inner is not None:
            handler(self, element, inner, declared)

    def _children(self, element: Element, context: Context) -> None:
        for child in element:
            self._element(child, context)

    def _enter(self, element: Element, context: Context, declared: dict[str, str]) -> Context | None:
        """Return the context inside an element; None where it shows nothing at all."""
        if context.depth > _GREATEST_DEPTH:
            raise InputError(
                f"groups lie inside groups more than {_GREATEST_DEPTH} deep. Ungroup the drawing and save it again.",
                where=self.where, code="too-deep", limit=_GREATEST_DEPTH,
            )  # fmt: skip
        style = inherit(context.style, declared)
        is_hidden = context.is_hidden or _is_off(declared)
        affine = context.affine
        transform = declared.get("transform") or element.get("transform")
        if transform and element is not self.tree:
            affine = self._moved(affine, element, transform, declared, context, style)
            if affine.determinant == 0:
                return None
        inner = replace(
            context, affine=affine, style=style, is_hidden=is_hidden, depth=context.depth + 1,
            part=_part(element) or context.part,
        )  # fmt: skip
        for name, words in _NAMED_ONLY.items():
            if not is_hidden and declared.get(name, "none") != "none":
                self.notes.add(f"{self.label(element)} has {words}, which cannot be a cut line and was left out.")
        clip = declared.get("clip-path", "none")
        if clip != "none" and not is_hidden:
            return self._clipped(element, inner, clip)
        return inner

    def _moved(
        self, affine: Affine, element: Element, text: str, declared: dict[str, str], context: Context, style: Style
    ) -> Affine:
        """Return the map inside an element that has a transform."""
        try:
            own = read_transform(text)
            origin = declared.get("transform-origin")
            if origin:
                box = (0.0, 0.0, context.viewport.real, context.viewport.imag)
                if declared.get("transform-box", "view-box") not in ("view-box", "border-box"):
                    box = self.box(element, context) or box
                about = read_origin(origin, box, style.font_px)
                own = Affine.from_move(about).after(own).after(Affine.from_move(-about))
            return affine.after(own)
        except (ValueError, OverflowError) as fault:
            if self.is_lenient:
                return affine
            raise InputError(
                f"its transform cannot be read: {fault}. Repair it in a text editor, or leave it out with --lenient.",
                where=f"{self.where}, {self.label(element)}", code="bad-transform",
            ) from None  # fmt: skip

    def _clipped(self, element: Element, context: Context, text: str) -> Context | None:
        """Return the context with the clip-path added; None for a clip-path that names nothing it can find."""
        target = self.target(text.strip().removeprefix("url(").removesuffix(")").strip(" \"'"))
        if target is None or local_name(target) != "clipPath":
            if not text.strip().startswith("url("):
                self.notes.add(f"{self.label(element)} is clipped by a CSS shape, which was left out.")
            return context
        return replace(context, clips=(*context.clips, self._clip(target, element, context)))

    def _clip(self, target: Element, element: Element, context: Context) -> Clip:
        """Return what a clipPath element lets through, at the place of ``element``."""
        self._refuse_loop(target, context)
        declared = self._cascade.declared(target)
        base = replace(context, clips=(), style=ROOT_STYLE, inside=(*context.inside, target), is_clip=True)
        inner = self._enter(target, base, declared)
        if inner is None:
            return Clip(())
        if target.get("clipPathUnits") == "objectBoundingBox":
            box = self.box(element, context)
            if box is None or box[2] <= 0 or box[3] <= 0:
                return Clip(())
            unit = Affine.from_matrix(box[2], 0, 0, box[3], box[0], box[1])
            inner = replace(inner, affine=inner.affine.after(unit), viewport=1 + 1j)
        own_clips = inner.clips
        collector = self._apart()
        collector._children(target, replace(inner, clips=()))
        self._met = collector._met
        return Clip(tuple(collector.shapes), own_clips)

    def _apart(self) -> Walk:
        """Return a walk over the same tree that gathers its shapes apart and notes nothing."""
        other: Walk = object.__new__(Walk)
        other.tree, other.where, other.notes, other.is_lenient = self.tree, self.where, Notes(), self.is_lenient
        other.shapes, other.guides, other._met = [], {}, self._met
        other._cascade, other._ids = self._cascade, self._ids
        return other

    def box(self, element: Element, context: Context) -> Rectangle | None:
        """Return the box of an element's fills in its own user units, strokes and clips left aside."""
        from frameforge.geometry.measure import bounds

        collector = self._apart()
        plain = replace(context, affine=IDENTITY, clips=(), is_clip=False, depth=context.depth + 1)
        handler = _HANDLERS.get(local_name(element))
        if handler is not None:
            handler(collector, element, plain, self._cascade.declared(element))
        self._met = collector._met
        segments = [
            s for shape in collector.shapes for p in shape.subpaths for s in p.transformed(shape.affine).segments
        ]
        if not segments:
            return None
        found = bounds(segments)
        return found.left, found.bottom, found.right - found.left, found.top - found.bottom

    def target(self, reference: str) -> Element | None:
        """Return the element that a reference names; other files are never opened."""
        if reference.startswith("#"):
            return self._ids.get(reference[1:])
        if reference and not reference.startswith("data:"):
            self.notes.add(f'the drawing asks for "{reference[:60]}", another file, which is never opened.')
        return None

    def label(self, element: Element) -> str:
        """Return how a note calls an element: ``path "leaf"`` by its id, or ``path 3`` by its place among its kind."""
        name = local_name(element)
        if element.get("id"):
            return f'{name} "{str(element.get("id"))[:40]}"'
        alike = (other for other in self.tree.iter() if local_name(other) == name)
        return f"{name} {next((i for i, other in enumerate(alike, 1) if other is element), 0)}"

    def _refuse_loop(self, target: Element, context: Context) -> None:
        if target in context.inside:
            raise InputError(
                f"{self.label(target)} is used inside itself. Take that copy out and save the drawing again.",
                where=self.where, code="use-loop",
            )  # fmt: skip

    def _shape(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Add a shape element."""
        lengths = _lengths(element, declared, context)
        name = local_name(element)
        subpaths, fault = shape_subpaths(name, lambda key: declared.get(key, element.get(key)), lengths)
        if fault is not None and not self.is_lenient and not context.is_hidden:
            raise InputError(
                f"character {fault.position} of its {'d' if name == 'path' else 'points'}: {fault.say}. "
                "Repair it in a text editor, or take what stands before it with --lenient.",
                where=f"{self.where}, {self.label(element)}", code="bad-path", position=fault.position,
            )  # fmt: skip
        if element.get("id") in _GUIDES and not context.is_clip:
            line = _guide(subpaths)
            if line is not None:
                self.guides.setdefault(str(element.get("id")), _mapped(line, context.affine))
                return
        if context.is_hidden or not subpaths:
            return
        _refuse_far(subpaths, context.affine, f"{self.where}, {self.label(element)}")
        if any(declared.get(f"marker{end}", "none") != "none" for end in ("", "-start", "-mid", "-end")):
            self.notes.add(f"{self.label(element)} carries markers, which were left out.")
        self.shapes.append(
            Shape(
                self.label(element), subpaths, context.affine, context.style, context.part, context.clips,
                context.viewport, name == "line", declared.get("vector-effect") == "non-scaling-stroke",
            )
        )  # fmt: skip

    def _group(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        if not context.is_clip:
            self._children(element, context)

    def _switch(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Walk the first child whose conditions hold."""
        for child in element:
            if _is_wanted(child) and local_name(child) in _HANDLERS:
                self._element(child, context)
                return

    def _nested(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Walk an svg element inside the drawing."""
        self._viewport(element, context, declared, lambda name: declared.get(name) or element.get(name))

    def _viewport(
        self, element: Element, context: Context, declared: dict[str, str], size: Callable[[str], str | None]
    ) -> None:
        """Walk the children of an svg or symbol in a viewport of their own, clipped to it unless it overflows."""
        lengths = _lengths(element, declared, context)
        width = _side(size("width"), context.viewport.real, context)
        height = _side(size("height"), context.viewport.imag, context)
        if width <= 0 or height <= 0:
            return
        is_symbol = local_name(element) == "symbol"
        corner = 0j if is_symbol else complex(lengths("x", "x") or 0.0, lengths("y", "y") or 0.0)
        outside = context.affine.after(Affine.from_move(corner))
        view = read_view_box(element.get("viewBox"))
        inside = outside
        if view is not None:
            inside = outside.after(fit_view_box(view, width, height, element.get("preserveAspectRatio")))
        clips = context.clips
        if declared.get("overflow", "hidden") not in ("visible", "auto"):
            clips = (*clips, Clip((_rectangle(width, height, outside),)))
        viewport = complex(view[2], view[3]) if view is not None else complex(width, height)
        self._children(element, replace(context, affine=inside, viewport=viewport, clips=clips))

    def _use(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Walk what a use element names, as its child, at its x and y."""
        reference = next((element.attrib[key] for key in _HREF if key in element.attrib), "")
        target = self.target(reference.strip())
        if target is None or (context.is_clip and local_name(target) not in SHAPES):
            return
        self._refuse_loop(target, context)
        lengths = _lengths(element, declared, context)
        corner = complex(lengths("x", "x") or 0.0, lengths("y", "y") or 0.0)
        inner = replace(
            context, affine=context.affine.after(Affine.from_move(corner)), inside=(*context.inside, target)
        )
        if local_name(target) not in ("svg", "symbol"):
            self._element(target, inner)
            return
        theirs = self._cascade.declared(target)
        entered = self._enter(target, inner, theirs)
        if entered is not None:
            own = {name: declared.get(name) or element.get(name) for name in ("width", "height")}
            of_target = {name: None if local_name(target) == "symbol" else target.get(name) for name in own}
            self._viewport(target, entered, theirs, lambda name: own[name] or of_target[name])

    def _letters(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Note lettering."""
        words = " ".join("".join(element.itertext()).split())
        if words and not context.is_hidden and context.style.visibility == "visible":
            short = words if len(words) <= 40 else words[:39] + "…"
            self.notes.add_letters(short)

    def _picture(self, element: Element, context: Context, declared: dict[str, str]) -> None:
        """Note what is no line at all."""
        if not context.is_hidden:
            words = "a picture" if local_name(element) == "image" else "a foreign object"
            self.notes.add(f"{self.label(element)} is {words}, which cannot be a cut line and was left out.")


Handler = Callable[[Walk, Element, Context, dict[str, str]], None]

_HANDLERS: Final[dict[str, Handler]] = {
    **dict.fromkeys(SHAPES, Walk._shape),
    "g": Walk._group, "a": Walk._group, "svg": Walk._nested, "use": Walk._use, "switch": Walk._switch,
    "text": Walk._letters, "image": Walk._picture, "foreignObject": Walk._picture,
}  # fmt: skip


def _part(element: Element) -> str | None:
    """Return the part an element is labelled with, or None."""
    stated = element.get("data-part")
    if stated in PARTS:
        return stated
    name = element.get("id", "")
    for part in PARTS:
        if name.startswith(part) and not name[len(part) : len(part) + 1].isalpha():
            return part
    return None


def _is_off(declared: dict[str, str]) -> bool:
    """Return whether an element and all in it is not shown."""
    return declared.get("display", "").strip() == "none" or number(declared.get("opacity", "1"), 1.0) <= 0


def _is_wanted(element: Element) -> bool:
    """Return whether the conditions of an element hold: English, and nothing beyond SVG (SVG 2 section 5.8)."""
    get = element.get
    if get("requiredExtensions") is not None or get("requiredFeatures") == "":
        return False
    languages = get("systemLanguage")
    return languages is None or any(tag.strip().lower().split("-")[0] == "en" for tag in languages.split(","))


def _lengths(element: Element, declared: dict[str, str], context: Context) -> Callable[[str, str], float | None]:
    """Return the reader of an element's length properties."""
    width, height = context.viewport.real, context.viewport.imag
    wholes = {"x": width, "y": height, "r": math.sqrt((width * width + height * height) / 2)}

    def read(name: str, direction: str) -> float | None:
        text = declared.get(name) or element.get(name)
        return None if text is None else length(text, whole=wholes[direction], font_px=context.style.font_px)

    return read


def _side(text: str | None, whole: float, context: Context) -> float:
    """Return a side of a viewport; all there is where none is given."""
    side = length(text, whole=whole, font_px=context.style.font_px) if text else None
    return whole if side is None else side


def _rectangle(width: float, height: float, affine: Affine) -> Shape:
    """Return the shape of a viewport."""
    lengths = {"width": width, "height": height}
    subpaths, _ = shape_subpaths("rect", lambda key: None, lambda key, direction: lengths.get(key))
    return Shape("viewport", subpaths, affine, ROOT_STYLE)


def _guide(subpaths: tuple[Subpath, ...]) -> Line | None:
    """Return the one straight line that a guide consists of, or None."""
    if len(subpaths) == 1 and len(subpaths[0].segments) == 1 and isinstance(subpaths[0].segments[0], Line):
        return subpaths[0].segments[0]
    return None


def _mapped(line: Line, affine: Affine) -> tuple[complex, complex]:
    return affine.apply(line.start), affine.apply(line.end)


def _refuse_far(subpaths: tuple[Subpath, ...], affine: Affine, where: str) -> None:
    """Refuse curves beyond what double precision holds to a nanometre."""
    for subpath in subpaths:
        for z in (subpath.start, *(segment.end for segment in subpath.segments)):
            place = affine.apply(z)
            if max(abs(place.real), abs(place.imag)) > _GREATEST_SPAN_MM:
                raise InputError(
                    f"it lies {max(abs(place.real), abs(place.imag)) / 1000:.0f} m off the page, "
                    f"{_GREATEST_SPAN_MM / 1000:.0f} m is the most. Move it back or take it out.",
                    where=where, code="too-large",
                )  # fmt: skip
