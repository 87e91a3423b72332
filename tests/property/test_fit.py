"""What fit answers for bare feet is chord geometry, on any size, for any count."""

from __future__ import annotations

import math
from pathlib import Path

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitOrder, read_question
from frameforge.job.fit_solve import answer_all

FEET = st.floats(2.0, 40.0)
SIZES = st.floats(45.0, 400.0)
GAPS = st.one_of(st.just(0.0), st.floats(0.5, 12.0))
COUNTS = st.integers(3, 90)
SETS = settings(max_examples=3)


def told(**options: object) -> FitAnswer:
    texts = {key: repr(value) if isinstance(value, float) else value for key, value in options.items()}
    (answer,) = answer_all(read_question(FitOrder(texts, Path("out"))))
    return answer


def gap_of(size: float, foot: float, count: int) -> float:
    """D sin(pi/n - asin(w/D)): the straight line between neighbouring foot ends."""
    return size * math.sin(math.pi / count - math.asin(foot / size))


@SETS
@given(FEET, SIZES, GAPS)
def test_as_many_go_round_as_leave_the_gap(foot: float, size: float, gap: float) -> None:
    assume(gap_of(size, foot, 2) > gap + 1)
    answer = told(foot=foot, size=(repr(size),), gap=gap)
    most = max(n for n in range(2, 700) if math.pi / n > math.asin(foot / size) and gap_of(size, foot, n) >= gap - 1e-9)
    assert answer.count == most
    assert answer.gap_mm is not None
    assert abs(answer.gap_mm - gap_of(size, foot, most)) < 1e-8


@SETS
@given(FEET, COUNTS, GAPS)
def test_the_size_for_a_count_is_the_closed_form(foot: float, count: int, gap: float) -> None:
    """sqrt(w^2 + g^2 + 2wg cos(pi/n)) / sin(pi/n)."""
    turn = math.pi / count
    wanted = math.sqrt(foot**2 + gap**2 + 2 * foot * gap * math.cos(turn)) / math.sin(turn)
    answer = told(foot=foot, count=(str(count),), gap=gap)
    assert answer.size is not None
    assert abs(answer.size.width_mm - wanted) < 1e-7 * wanted


@SETS
@given(SIZES, COUNTS, GAPS)
def test_the_foot_that_fills_the_edge_is_found_by_bisection(size: float, count: int, gap: float) -> None:
    assume(size * math.sin(math.pi / count) > gap + 0.5)
    low, high = 0.0, size * math.sin(math.pi / count)
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if gap_of(size, middle, count) > gap else (low, middle)
    answer = told(foot="find", size=(repr(size),), count=(str(count),), gap=gap)
    assert answer.scale is not None
    assert abs(answer.scale - low) < 1e-7 * size
