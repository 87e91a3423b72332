"""Doubled lines taken out, open ends joined, and what is left alone."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.close_up import Strand, closed_up, without_doubled
from frameforge.tolerances import CLOSE_UP_MM


def bent(*points: complex) -> Strand:
    return tuple(Line(a, b) for a, b in pairwise(points))


def is_closed(line: Strand) -> bool:
    return line[0].start == line[-1].end


def test_a_line_drawn_twice_stays_once() -> None:
    square = rectangle(0, 0, 10, 10).segments
    again = tuple(segment.reversed() for segment in reversed(square))
    ordered = without_doubled([square, again, circle(30, 5).segments])
    assert ordered.lines == (square, circle(30, 5).segments)
    assert len(ordered.places) == 1


def test_a_loose_line_in_a_closed_one_goes_whichever_comes_first() -> None:
    square, side = rectangle(0, 0, 10, 10).segments, bent(2, 9)
    assert without_doubled([side, square]).lines == (square,)
    arc = Arc.from_circle(30, 5, 0.3, 1)
    assert without_doubled([circle(30, 5).segments, (arc,)]).lines == (circle(30, 5).segments,)


def test_lines_that_lie_together_in_part_stay() -> None:
    """Two cards side by side, cut apart by a line that both have; lines .02 mm apart; a closed line in no other."""
    cards = [rectangle(0, 0, 10, 10).segments, rectangle(10, 0, 20, 10).segments]
    beside = [bent(40, 50), bent(40 + 0.02j, 50 + 0.02j), bent(45, 55)]
    assert without_doubled([*cards, *beside]).lines == (*cards, *beside)
    assert without_doubled([]).lines == ()


def test_a_line_that_runs_out_and_back_in_itself_stays_once() -> None:
    """Two of a kind whose far ends are nobody else's are read as one line out and back."""
    assert without_doubled([bent(0, 10, 0)]).lines == (bent(0, 10),)
    assert without_doubled([bent(5j, 0, 10, 0)]).lines == (bent(5j, 0, 10),)
    lines = without_doubled([(*bent(4, 10, 0, 4),)]).lines
    assert lines == (bent(10, 0),) or lines == (bent(0, 4, 10),)


def test_of_three_alike_one_stays() -> None:
    assert without_doubled([bent(0, 10), bent(10, 0), bent(0, 10)]).lines == (bent(0, 10),)


@pytest.mark.parametrize("gap", [0.006, 0.2, CLOSE_UP_MM - 0.001])
def test_a_line_that_all_but_comes_back_is_closed_by_a_straight_bit(gap: float) -> None:
    whole = circle(0, 20).segments[0]
    line = (whole.piece(0, 1 - gap / 40 / math.pi),)
    ordered = closed_up([line])
    assert is_closed(ordered.lines[0])
    assert ordered.lines[0][0] == line[0]
    (place,) = ordered.places
    assert abs(place - whole.start) < gap


def test_a_wider_gap_stays_open() -> None:
    whole = circle(0, 20).segments[0]
    line = (whole.piece(0, 1 - (CLOSE_UP_MM + 0.01) / 40 / math.pi),)
    assert closed_up([line]).lines == (line,)


@pytest.mark.parametrize("seed", range(3))
def test_loose_sides_that_miss_each_other_become_one_outline_however_they_run(seed: int) -> None:
    rng = np.random.default_rng(seed)
    corners = [0, 30, 30 + 20j, 20j]
    sides = [
        (Line(a + complex(*rng.uniform(-0.1, 0.1, 2)), b + complex(*rng.uniform(-0.1, 0.1, 2))),)
        for a, b in pairwise([*corners, corners[0]])
    ]
    mixed = [side if rng.random() < 0.5 else (side[0].reversed(),) for side in sides]
    rng.shuffle(mixed)
    ordered = closed_up(mixed)
    assert len(ordered.lines) == 1
    assert is_closed(ordered.lines[0])
    assert len(ordered.lines[0]) == 8
    assert all(a.end == b.start for a, b in pairwise(ordered.lines[0]))
    assert len(ordered.places) == 4


def test_the_nearest_ends_go_together() -> None:
    lines = [bent(0, 10), bent(10.1, 20), bent(10.3j + 10, 10 + 20j)]
    ordered = closed_up(lines)
    assert ordered.lines == (bent(0, 10, 10.1, 20), lines[2])


def test_a_short_dash_is_not_closed_with_itself() -> None:
    dash = bent(0, 0.3)
    assert closed_up([dash]).lines == (dash,)
    assert closed_up([]).lines == ()
