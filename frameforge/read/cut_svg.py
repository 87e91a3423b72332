"""The lines of an SVG cut file: every shape that is shown, followed and not filled."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from frameforge.errors import InputError
from frameforge.geometry.outline import Segment
from frameforge.read.cut_drawing import CutDrawing, FileLine, chained
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import LETTERS, Notes
from frameforge.read.svg_scene import Shape
from frameforge.read.svg_tree import local_name, read_tree
from frameforge.read.svg_viewport import read_page
from frameforge.read.svg_walk import Walk
from frameforge.read.white_box import boxes_behind

__all__ = ["read_cut_svg"]

_OTHER_KINDS = ("crease", "mark")
"""Groups that hold other lines than cuts, by id, as frameforge writes them."""


def read_cut_svg(data: bytes, *, where: str) -> CutDrawing:
    """Return the lines of an SVG in mm, y up, whatever colour they have; fills are followed along their edge.

    Raises InputError, one line, where the file is no SVG or holds no line.
    """
    root = read_tree(data, where=where)
    page = read_page(root, where=where)
    others = _without_other_kinds(root)
    notes = Notes()
    walk = Walk(Index(root, notes, where=where), where=where, notes=notes)
    try:
        walk.root(page)
    except InputError as fault:
        raise _without_lenient(fault) from fault
    lines = [line for shape in walk.finds.shapes for line in _lines(shape, notes)]
    if not lines:
        if notes.letters:
            raise InputError(LETTERS, where=f"{where}, {notes.letters}", code="letters-only")
        told = "".join(f" {note[0].upper()}{note[1:]}" for note in notes.to_tuple()[:1])
        raise InputError(
            f"the file holds no line to cut.{told} Draw one, or name another file.", where=where, code="nothing-to-cut"
        )
    has_size = page.width_mm is not None or page.height_mm is not None
    return CutDrawing(chained(lines), notes.to_tuple(), has_size, others, boxes_behind(walk.finds.shapes, page))


def _without_lenient(fault: InputError) -> InputError:
    """Return a refusal without its offer to take half a line: nobody may cut half a piece unawares."""
    say = fault.say
    for offer in (", or take what stands before it with --lenient.", ", or leave it out with --lenient."):
        say = say.replace(offer, ", or save the drawing again.")
    return InputError(say, where=fault.where, code=fault.code, **fault.numbers)


def _without_other_kinds(root: Element) -> int:
    """Take the groups of other lines out of the tree; return how many paths they held."""
    taken = 0
    for parent in list(root.iter()):
        for child in list(parent):
            if isinstance(child.tag, str) and local_name(child) == "g" and child.get("id") in _OTHER_KINDS:
                taken += sum(1 for _ in child.iter()) - 1
                parent.remove(child)
    return taken


def _lines(shape: Shape, notes: Notes) -> Iterator[FileLine]:
    """Yield the lines of a shape; one that nobody sees is noted and left out."""
    style = shape.style
    if style.fill.kind == style.stroke.kind == "none":
        notes.add(f"{shape.label} has neither fill nor stroke, so nobody sees it; it was left out.")
        return
    if any(not clip.is_viewport for clip in shape.clips):
        notes.add(f"{shape.label} is clipped. A cutter follows the whole line, and so it was taken.")
    for subpath in shape.subpaths:
        if chain := _chain(subpath.transformed(shape.affine)):
            yield FileLine(chain, shape.label)


def _chain(subpath: Subpath) -> tuple[Segment, ...]:
    """Return the segments of a subpath that have any length, joined to the bit, closed where it was closed."""
    chain: list[Segment] = []
    for segment in subpath.segments:
        if chain and segment.start != chain[-1].end:
            segment = segment.with_ends(chain[-1].end, segment.end)
        chain.append(segment)
    if chain and subpath.is_closed and chain[-1].end != chain[0].start:
        chain[-1] = chain[-1].with_ends(chain[-1].start, chain[0].start)
    return tuple(chain)
