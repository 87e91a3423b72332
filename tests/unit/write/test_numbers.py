"""Rounding once, printing without a rest. No source but the decimal system."""

from __future__ import annotations

import math

import pytest

from frameforge.write.numbers import decimal, step_count, steps


@pytest.mark.parametrize(
    ("value", "wanted"),
    [
        (12.5, 125000),
        (-0.00004, 0),
        (0.00005, 0),
        (0.00025, 2),
        (0.00035, 4),
        (-107.87, -1078700),
        (1e3 + 1e-4, 10000001),
    ],
)
def test_steps_are_whole_ten_thousandths_halves_to_even(value: float, wanted: int) -> None:
    assert steps(value, 4) == wanted


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_only_finite_numbers_can_be_written(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        steps(value, 4)


def test_both_coordinates_are_rounded() -> None:
    assert step_count(1.23456789 - 2j, 6) == (1234568, -2000000)


@pytest.mark.parametrize(
    ("count", "wanted"),
    [(0, "0"), (-1, "-0.0001"), (125000, "12.5"), (-1000000, "-100"), (10001, "1.0001"), (100, "0.01")],
)
def test_decimals_are_as_short_as_they_can_be(count: int, wanted: str) -> None:
    assert decimal(count, 4) == wanted


def test_what_rounds_to_nothing_has_no_minus() -> None:
    assert decimal(steps(-0.00001, 4), 4) == "0"
