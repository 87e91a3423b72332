"""Zeros of rising functions: found, found soon, and not found where there are none."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from frameforge.frame.rising import rising_zero


def counted(f: Callable[[float], float]) -> tuple[Callable[[float], float], list[float]]:
    asked: list[float] = []

    def look(x: float) -> float:
        asked.append(x)
        return f(x)

    return look, asked


# A function, a first guess, its zero, and how often it may be asked: twice as often as Dowell and Jarratt's order of
# 1.44 needs to get from a tenth to 1e-13, and the steps out to the bracket.
CASES = [
    (lambda x: 3 * x - 7, 1.0, 7 / 3, 6),
    (lambda x: x**3 - 20, 1.0, 20 ** (1 / 3), 16),
    (lambda x: math.log(x / 5), 40.0, 5.0, 18),
    (lambda x: math.sin(x / 10) - 0.3, 2.0, 10 * math.asin(0.3), 12),
    (lambda x: x - 4 if x >= 2 else -math.inf, 1.0, 4.0, 8),
    (lambda x: math.sinh(3 * (x - 2)), 1.0, 2.0, 9),
    (lambda x: 1 - math.exp(4 * (2 - x)), 1.0, 2.0, 16),
]


@pytest.mark.parametrize(("f", "guess", "zero", "most"), CASES)
def test_a_zero_is_found_in_few_steps(f: Callable[[float], float], guess: float, zero: float, most: int) -> None:
    look, asked = counted(f)
    found = rising_zero(look, guess, settled=1e-13)
    assert found == pytest.approx(zero, rel=1e-12)
    assert len(asked) <= most


def test_with_a_slope_that_changes_at_the_zero_it_is_found_all_the_same() -> None:
    """As the gap has that changes from a distance to a depth."""
    look, asked = counted(lambda x: (x - 2) * (1.0 if x > 2 else 1.6))
    assert rising_zero(look, 1.0, settled=1e-12) == pytest.approx(2, abs=1e-12)
    assert len(asked) <= 9


def test_where_nothing_rises_past_0_there_is_none() -> None:
    assert rising_zero(lambda x: -1.0, 1.0) is None
    assert rising_zero(lambda x: 1.0, 1.0) is None


def test_a_stop_is_the_end_that_is_nearer() -> None:
    assert rising_zero(lambda x: x - 2, 2.0 + 1e-9, settled=1e-6) == pytest.approx(2.0, abs=2e-9)


def test_where_the_function_jumps_over_0_the_nearer_side_is_soon_told() -> None:
    """As a gap between feet does where what stands above them meets first."""
    look, asked = counted(lambda x: 2.0 + x if x > 3 else -0.1 - (3 - x) ** 2 / 1e4)
    assert rising_zero(look, 1.0, settled=1e-11) == pytest.approx(3, rel=1e-5)
    assert len(asked) <= 40


def test_a_jump_from_just_0_is_found_to_the_last_place() -> None:
    assert rising_zero(lambda x: x - 3.0 if x >= 3 else -2.0, 1.0, settled=1e-12) == pytest.approx(3, abs=1e-12)


def test_far_from_the_first_guess_the_steps_outwards_grow() -> None:
    look, asked = counted(lambda x: x - 50.0)
    assert rising_zero(look, 1.0, factor=1.002, settled=1e-9) == pytest.approx(50, abs=1e-9)
    assert len(asked) <= 32


def test_nothing_is_asked_at_the_least_itself_however_near_to_it_the_search_comes() -> None:
    look, asked = counted(lambda x: 1.0)
    assert rising_zero(look, 60.0, least=50.0) is None
    assert min(asked) > 50.0
    assert min(asked) == pytest.approx(50.0, abs=1e-13)
