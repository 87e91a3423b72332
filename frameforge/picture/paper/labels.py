"""Numbers round a guide, as many as can be read: where they crowd, every second, fifth or tenth."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from frameforge.geometry.box import Box
from frameforge.picture.letter_widths import text_width
from frameforge.picture.paper.marks import Marks, Words

__all__ = ["CLEAR_MM", "Label", "are_near", "label_marks"]

_NUMBER_MM: Final = 3.4
_BELOW_MM: Final = 2.2
_BELOW_STEP_MM: Final = 2.8
_APART_MM: Final = 1.2
CLEAR_MM: Final = 0.4
"""Left free round words at least: less, and two numbers read as one."""
_STEPS: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True)
class Label:
    """A number outside the end of a line that runs out to ``at`` along ``way``, what is said below it, its position.

    ``way`` is a unit direction; positions count from 1.
    """

    at: complex
    way: complex
    words: str
    below: str
    position: int


def label_marks(labels: Sequence[Label]) -> Iterator[Marks]:
    """Yield the numbers as words, clear of the ends of their lines; the line below where all have room."""
    if not labels:
        return
    ordered = sorted(labels, key=lambda label: label.position)
    nearest = min((abs(b.at - a.at) for a, b in pairwise(ordered)), default=math.inf)
    wide = max(text_width(label.words, _NUMBER_MM, is_bold=True) for label in labels)
    wide_below = max(text_width(label.below, _BELOW_MM) for label in labels)
    for step in _STEPS:
        if nearest * step < max(wide, _NUMBER_MM) + _APART_MM and step != _STEPS[-1]:
            continue
        kept = [label for label in ordered if (label.position - 1) % step == 0]
        for has_below in (True, False):
            if has_below and nearest * step < wide_below + _APART_MM:
                continue
            marks = _clear_of_the_first([_label(label, has_below=has_below) for label in kept], step)
            if not _overlap(marks):
                yield from marks
                return
    yield from marks


def _clear_of_the_first(marks: list[Marks], step: int) -> list[Marks]:
    """Return the marks without the last, where only some are told and it comes too near to the first again."""
    if step > 1 and len(marks) > 2 and are_near(marks[0].box, marks[-1].box):
        return marks[:-1]
    return marks


def _overlap(marks: Sequence[Marks]) -> bool:
    """Return whether two of the marks come too near to each other."""
    boxes = sorted((mark.box for mark in marks), key=lambda box: box.left)
    for k, box in enumerate(boxes):
        for other in boxes[k + 1 :]:
            if other.left > box.right + CLEAR_MM:
                break
            if are_near(box, other):
                return True
    return False


def are_near(a: Box, b: Box) -> bool:
    """Return whether two boxes of words come nearer than can be told apart at a glance."""
    across = max(a.left, b.left) - min(a.right, b.right)
    upright = max(a.bottom, b.bottom) - min(a.top, b.top)
    return max(across, upright) < CLEAR_MM


def _label(label: Label, *, has_below: bool) -> Marks:
    """Return one number, its box touching the end of its line."""
    wide = text_width(label.words, _NUMBER_MM, is_bold=True) / 2
    if has_below:
        wide = max(wide, text_width(label.below, _BELOW_MM) / 2)
    tall = (_NUMBER_MM + (_BELOW_STEP_MM if has_below else 0.0)) / 2
    middle = label.at + label.way * (_APART_MM + _reach(label.way, wide, tall))
    lift = _BELOW_STEP_MM / 2 if has_below else 0.0
    number = middle + 1j * (lift - 0.36 * _NUMBER_MM)
    words = [Words(number, label.words, _NUMBER_MM, "middle", is_bold=True)]
    if has_below:
        words.append(Words(number - 1j * _BELOW_STEP_MM, label.below, _BELOW_MM, "middle", grey=0.2))
    box = Box(middle.real - wide, middle.imag - tall, middle.real + wide, middle.imag + tall)
    return Marks(box, (), tuple(words))


def _reach(way: complex, wide: float, tall: float) -> float:
    """Return how far the ellipse round a box of half-sides ``wide`` and ``tall`` reaches along a direction."""
    return math.hypot(wide * way.real, tall * way.imag)
