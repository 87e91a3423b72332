"""Dimension lines: as long as what they measure, stacked without meeting, arrows inside or out."""

from __future__ import annotations

import itertools
import re

import pytest

from frameforge.picture.dimension_lines import STEP_PX, DimensionLine, Span, Stack, stack_reach
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import TEXT_PX

ABOVE = Stack("above", 100.0, 0.0, 500.0)
LEFT = Stack("left", 50.0, 0.0, 500.0)


def points(path: str) -> list[complex]:
    return [complex(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]


def words_box(line: DimensionLine) -> tuple[float, float, float, float]:
    half, high = text_width(line.words, TEXT_PX) / 2, 0.75 * TEXT_PX
    if line.turn_deg:
        return line.at.real - high, line.at.imag - half, line.at.real, line.at.imag + half
    return line.at.real - half, line.at.imag - high, line.at.real + half, line.at.imag


def test_a_line_is_as_long_as_what_it_measures_and_its_words_stand_over_its_middle() -> None:
    (line,) = ABOVE.lines([Span("base 76 mm", 120 + 200j, 380 + 210j)])
    assert points(line.line) == [120 + 73j, 380 + 73j]
    assert line.at == 250 + 68j
    assert [z.real for z in points(line.arrows)][::3] == [120, 380]
    assert points(line.extensions) == [120 + 198j, 120 + 69j, 380 + 208j, 380 + 69j]
    assert stack_reach([line], ABOVE) == STEP_PX + 5 + TEXT_PX


def test_beside_a_drawing_words_are_read_from_the_right() -> None:
    (line,) = LEFT.lines([Span("across 40 mm", 200 + 300j, 210 + 100j)])
    assert points(line.line) == [23 + 100j, 23 + 300j]
    assert (line.at, line.turn_deg) == (18 + 200j, -90)


@pytest.mark.parametrize("stack", [ABOVE, LEFT, Stack("below", 100.0, 0.0, 500.0)])
def test_no_words_of_a_stack_meet_others_or_a_line(stack: Stack) -> None:
    """Spans within spans, beside one another, tight ones, and one at the very side."""
    ends = [(150, 350), (100, 400), (350, 400), (50, 450), (60, 75), (300, 308), (440, 499)]
    turn = 1j if stack.side == "left" else 1
    lines = stack.lines(
        [Span(f"measure {k} of 12.34 mm (0.49 in)", a * turn, b * turn) for k, (a, b) in enumerate(ends)]
    )
    assert len(lines) == len(ends)
    for one, other in itertools.permutations(lines, 2):
        left, top, right, bottom = words_box(one)
        a, b, c, d = words_box(other)
        assert right <= a or c <= left or bottom <= b or d <= top, (one.words, other.words)
        for start, end in itertools.pairwise(points(other.line)):
            is_clear = max(start.real, end.real) <= left or min(start.real, end.real) >= right
            assert is_clear or max(start.imag, end.imag) <= top or min(start.imag, end.imag) >= bottom
    for line in lines:
        box = words_box(line)
        along = (box[1], box[3]) if stack.side == "left" else (box[0], box[2])
        assert min(along) >= 0
        assert max(along) <= 500


def test_what_is_longer_lies_further_out() -> None:
    lines = ABOVE.lines([Span("across", 50, 450), Span("base", 100, 400), Span("opening", 200, 300)])
    assert [line.words for line in sorted(lines, key=lambda line: -line.at.imag)] == ["opening", "base", "across"]


def test_arrows_without_room_between_stand_outside() -> None:
    wide, tight = (ABOVE.lines([Span("rim", 100, 100 + length)])[0] for length in (40, 12))
    assert [z.real for z in points(wide.line)] == [100, 140]
    assert [z.real for z in points(tight.line)] == [82, 130]
    tip, back, _ = points(tight.arrows)[:3]
    assert tip.real == 100
    assert back.real == 92
