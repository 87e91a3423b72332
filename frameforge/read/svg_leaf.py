"""The leaves of a drawing's tree: shapes and guides taken, lettering and pictures noted."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final
from xml.etree.ElementTree import Element

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.read.path_grammar import Fault
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import Notes
from frameforge.read.svg_scene import Context, Shape, lengths_of
from frameforge.read.svg_shapes import shape_subpaths
from frameforge.read.svg_style import Declarations
from frameforge.read.svg_tree import local_name

__all__ = ["Finds", "add_letters", "add_picture", "add_shape"]

_GUIDES: Final = ("foot", "axis")

_GREATEST_SPAN_MM: Final = 1e5
_LOOKED_AT: Final = (1 / 3, 2 / 3, 1.0)
_GREATEST_DATA: Final = 1_000_000
_GREATEST_SHAPES: Final = 4000
_GREATEST_SEGMENTS: Final = 40_000


@dataclass(slots=True)
class Finds:
    """What the leaves gave: shapes in paint order, guides by name, notes."""

    index: Index
    where: str
    notes: Notes
    is_lenient: bool = False
    shapes: list[Shape] = field(default_factory=list)
    guides: dict[str, tuple[complex, complex]] = field(default_factory=dict)
    segments: int = 0

    def named(self, element: Element) -> str:
        """Return the file and the element, as messages put them in front."""
        return f"{self.where}, {self.index.label(element)}"


def add_shape(finds: Finds, element: Element, context: Context, declared: Declarations) -> Shape | None:
    """Take a shape element, or the guide that it is; return the shape, None for a guide and for what is not shown.

    Raises InputError where its data cannot be read.
    """
    name = local_name(element)
    unread: list[str] = []
    lengths = lengths_of(element, declared, context, unread)
    _refuse_long(finds, element)
    subpaths, fault = shape_subpaths(name, lambda key: declared.get(key, element.get(key)), lengths)
    for words in unread if not context.is_hidden else ():
        finds.notes.add(f"{finds.index.label(element)}: its {words} is no length and counts as not given.")
    if fault is not None and not context.is_hidden:
        _refuse_or_note(finds, element, fault)
    if element.get("id") in _GUIDES and not context.is_clip:
        line = _guide(subpaths)
        if line is not None:
            ends = context.affine.apply(line.start), context.affine.apply(line.end)
            finds.guides.setdefault(str(element.get("id")), ends)
            return None
    if context.is_hidden or not subpaths:
        return None
    _refuse_far(finds, element, subpaths, context.affine)
    _refuse_many(finds, subpaths)
    shape = Shape(
        finds.index.label(element), subpaths, context.affine, context.style, context.part, context.clips,
        context.viewport, name == "line", declared.get("vector-effect") == "non-scaling-stroke",
    )  # fmt: skip
    finds.shapes.append(shape)
    return shape


def add_letters(finds: Finds, element: Element, context: Context, declared: Declarations) -> None:
    """Note lettering that is shown."""
    words = " ".join("".join(element.itertext()).split())
    if words and not context.is_hidden and context.style.visibility == "visible":
        finds.notes.add_letters(words)


def add_picture(finds: Finds, element: Element, context: Context, declared: Declarations) -> None:
    """Note what is no line at all."""
    if not context.is_hidden:
        kind = "a picture" if local_name(element) == "image" else "a foreign object"
        finds.notes.add(f"{finds.index.label(element)} is {kind}, which cannot be a cut line and was left out.")


def _refuse_or_note(finds: Finds, element: Element, fault: Fault) -> None:
    """Refuse data with a fault, or note how far it was taken."""
    data = "d" if local_name(element) == "path" else "points"
    if finds.is_lenient or fault.is_harmless:
        label = finds.index.label(element)
        finds.notes.add(f"{label} was taken up to character {fault.position} of its {data}: {fault.say}.")
        return
    raise InputError(
        f"character {fault.position} of its {data}: {fault.say}. "
        "Repair it in a text editor, or take what stands before it with --lenient.",
        where=finds.named(element), code="bad-path", position=fault.position,
    )  # fmt: skip


def _guide(subpaths: tuple[Subpath, ...]) -> Line | None:
    """Return the one straight line that a guide consists of, or None."""
    if len(subpaths) == 1 and len(subpaths[0].segments) == 1 and isinstance(subpaths[0].segments[0], Line):
        return subpaths[0].segments[0]
    return None


def _refuse_long(finds: Finds, element: Element) -> None:
    """Refuse path data that no knife could follow."""
    long = max(len(element.get("d", "")), len(element.get("points", "")))
    if long > _GREATEST_DATA:
        raise InputError(
            f"its path holds {long / 1e6:.1f} MB of numbers, {_GREATEST_DATA / 1e6:.0f} MB is the most. Simplify it.",
            where=finds.named(element), code="too-large", found=long, limit=_GREATEST_DATA,
        )  # fmt: skip


def _refuse_far(finds: Finds, element: Element, subpaths: tuple[Subpath, ...], affine: Affine) -> None:
    """Refuse curves beyond what double precision holds to a nanometre."""
    # A curve may swing out far between ends that lie near.
    passed = [segment.point(t) for subpath in subpaths for segment in subpath.segments for t in _LOOKED_AT]
    places = [affine.apply(z) for z in (*passed, *(subpath.start for subpath in subpaths))]
    far = max(max(abs(place.real), abs(place.imag)) for place in places)
    if far > _GREATEST_SPAN_MM:
        raise InputError(
            f"it lies {far / 1000:.0f} m off the page, {_GREATEST_SPAN_MM / 1000:.0f} m is the most. "
            "Move it back or take it out.", where=finds.named(element), code="too-large", found=far,
        )  # fmt: skip


def _refuse_many(finds: Finds, subpaths: tuple[Subpath, ...]) -> None:
    """Refuse a drawing with more curves than a motif can have."""
    finds.segments += sum(len(subpath.segments) for subpath in subpaths)
    if finds.segments > _GREATEST_SEGMENTS or len(finds.shapes) >= _GREATEST_SHAPES:
        raise InputError(
            f"the drawing holds more than {_GREATEST_SHAPES} shapes or {_GREATEST_SEGMENTS} lines and curves. "
            "Simplify it, or save only the motif itself.", where=finds.where, code="too-large",
        )  # fmt: skip
