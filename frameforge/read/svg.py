"""Any open SVG read into a drawing of true curves."""

from __future__ import annotations

from typing import Final, Literal

from frameforge.errors import InputError
from frameforge.geometry.combine import evaluate
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.read.drawing import Drawing
from frameforge.read.svg_crowd import refuse_crowd
from frameforge.read.svg_findings import note_spill, note_white
from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import LETTERS, Notes
from frameforge.read.svg_paint import Painted, paint
from frameforge.read.svg_scene import PARTS
from frameforge.read.svg_tree import read_tree
from frameforge.read.svg_unite import united
from frameforge.read.svg_viewport import read_page
from frameforge.read.svg_walk import Walk
from frameforge.read.white_box import white_boxes

__all__ = ["read_drawing"]

_LEAST_MM: Final = 0.01
"""A drawing smaller than this is a slip; a hundredth of what a knife can follow."""


def read_drawing(data: bytes, *, where: str, white: Literal["keep", "cuts"] = "keep", lenient: bool = False) -> Drawing:
    """Return the drawing in an SVG file's bytes, in mm, y up.

    ``where`` names the file in messages. ``white`` says whether near-white shapes on top of others are card like all
    else, or are cut out of it. ``lenient`` takes what stands before the fault of a path.
    Raises InputError, one line, where the file is no SVG or holds nothing that can be cut.
    """
    root = read_tree(data, where=where)
    page = read_page(root, where=where)
    notes = Notes()
    index = Index(root, notes, where=where)
    walk = Walk(index, where=where, notes=notes, is_lenient=lenient)
    walk.root(page)
    refuse_crowd(walk.finds.shapes, where=where)
    painted = paint(walk.finds.shapes, index, notes, where=where)
    white_cuts = white == "cuts"
    note_white(painted, notes, white_cuts=white_cuts)
    parts = {part: _part(part, painted, notes, white_cuts=white_cuts) for part in PARTS}
    if not any(parts.values()):
        raise _nothing_to_cut(painted, notes, where)
    _refuse_speck([region for regions in parts.values() for region in regions], where)
    note_spill([region for regions in parts.values() for region in regions], page, notes)
    return Drawing(
        page.width_mm,
        page.height_mm,
        join=parts["join"],
        cut_away=parts["cut-away"],
        window=parts["window"],
        foot=walk.finds.guides.get("foot"),
        axis=walk.finds.guides.get("axis"),
        notes=notes.to_tuple(),
        findings=white_boxes(painted, page, white_cuts=white_cuts),
    )


def _refuse_speck(regions: list[Region], where: str) -> None:
    """Refuse a drawing too small to be seen: its page or a transform shrank it to nothing."""
    box = bounds(regions)
    across = max(box.width_mm, box.height_mm)
    if across < _LEAST_MM:
        raise InputError(
            f"the drawing is {across:.1g} mm across, too small to cut. Set the size of its page and save it again.",
            where=where, code="no-size", found=across,
        )  # fmt: skip


def _part(part: str, painted: tuple[Painted, ...], notes: Notes, *, white_cuts: bool) -> tuple[Region, ...]:
    """Return the regions of one part; what could not be made exact is noted."""
    expression = united((item for item in painted if item.part == part), white_cuts=white_cuts)
    if expression is None:
        return ()
    combined = evaluate(expression)
    for place in (*combined.report.lost, *combined.report.patched):
        notes.add(f"a crossing at {place.real:.2f}, {place.imag:.2f} mm could not be made exact.")
    return combined.regions


def _nothing_to_cut(painted: tuple[Painted, ...], notes: Notes, where: str) -> InputError:
    """Return the refusal of a drawing without anything to cut, with the likeliest reason."""
    if notes.letters:
        return InputError(LETTERS, where=f"{where}, {notes.letters}", code="letters-only")
    if painted and all(item.is_white for item in painted):
        say = "all its shapes are near white, so --white cuts leaves nothing. Leave that option out."
    elif painted:
        say = "its shapes enclose no area. Draw a closed outline, or give its lines a stroke."
    else:
        told = "".join(f" {note[0].upper()}{note[1:]}" for note in notes.to_tuple()[:1])
        say = f"the drawing holds nothing that can be cut.{told} Draw a filled shape or a stroke."
    return InputError(say, where=where, code="nothing-to-cut")
