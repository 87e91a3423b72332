"""What a guide is made of: lines and words on paper at full size. Millimetres, y up, 0 at the lower left corner."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment

__all__ = ["Filled", "Marks", "Stroke", "Words", "straight"]

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A drawn line: segments that follow one another, width and dashes in mm (none: full), its grey from 0, black."""

    run: tuple[Segment, ...]
    width_mm: float = 0.2
    dashes_mm: tuple[float, ...] = ()
    grey: float = 0.0

    def moved(self, by: complex) -> Stroke:
        """Return the stroke elsewhere on the paper."""
        return replace(self, run=tuple(segment.transformed(Affine.from_move(by)) for segment in self.run))


@dataclass(frozen=True, slots=True)
class Filled:
    """An area of closed outlines, filled by the even-odd rule with a colour such as "#74844A", its edge a thin line."""

    outlines: tuple[Outline, ...]
    colour: str
    width_mm: float = 0.15

    def moved(self, by: complex) -> Filled:
        """Return the area elsewhere on the paper."""
        return replace(self, outlines=tuple(outline.transformed(Affine.from_move(by)) for outline in self.outlines))


@dataclass(frozen=True, slots=True)
class Words:
    """A line of words on its baseline at ``at``, turned counter-clockwise; ``size_mm`` is the type's size.

    ``grey`` is the share of white in it, 0 for black.
    """

    at: complex
    words: str
    size_mm: float = 3.0
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    is_bold: bool = False
    grey: float = 0.0


@dataclass(frozen=True, slots=True)
class Marks:
    """Areas, lines over them and words over all that belong together, and the room they take."""

    box: Box
    strokes: tuple[Stroke, ...] = ()
    words: tuple[Words, ...] = ()
    areas: tuple[Filled, ...] = ()

    def moved(self, by: complex) -> Marks:
        """Return the same marks elsewhere on the paper."""
        box = Box(self.box.left + by.real, self.box.bottom + by.imag, self.box.right + by.real, self.box.top + by.imag)
        strokes = tuple(stroke.moved(by) for stroke in self.strokes)
        words = tuple(replace(words, at=words.at + by) for words in self.words)
        return Marks(box, strokes, words, tuple(area.moved(by) for area in self.areas))

    def joined(self, other: Marks) -> Marks:
        """Return both together."""
        one, two = self.box, other.box
        box = Box(
            min(one.left, two.left), min(one.bottom, two.bottom), max(one.right, two.right), max(one.top, two.top)
        )
        return Marks(box, (*self.strokes, *other.strokes), (*self.words, *other.words), (*self.areas, *other.areas))


def straight(
    start: complex, end: complex, width_mm: float = 0.2, *, grey: float = 0.0, dashes_mm: tuple[float, ...] = ()
) -> Stroke:
    """Return a straight line; ``grey`` is its share of white, 0 for black."""
    return Stroke((Line(start, end),), width_mm, dashes_mm, grey)
