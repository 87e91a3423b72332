"""Cubic Bézier segments."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic

CUBIC = Cubic(0.1 + 0.2j, 1 + 3j, 4 - 2j, 6.3 + 1j)


def test_ends_come_back_to_the_bit() -> None:
    assert CUBIC.point(0) == CUBIC.start
    assert CUBIC.point(1) == CUBIC.end


@pytest.mark.parametrize("t", [0.0, 0.2, 0.5, 1.0])
def test_the_blossom_with_three_equal_values_is_the_point(t: float) -> None:
    # Farin, Curves and Surfaces for CAGD, chapter 4.
    assert CUBIC.blossom(t, t, t) == pytest.approx(CUBIC.point(t))
    assert CUBIC.blossom(0.1, 0.4, t) == pytest.approx(CUBIC.blossom(t, 0.1, 0.4))


@pytest.mark.parametrize("t", [0.2, 0.9])
def test_derivatives_against_differences(t: float) -> None:
    h = 1e-5
    assert CUBIC.velocity(t) == pytest.approx((CUBIC.point(t + h) - CUBIC.point(t - h)) / (2 * h), abs=1e-7)
    second = (CUBIC.velocity(t + h) - CUBIC.velocity(t - h)) / (2 * h)
    assert CUBIC.acceleration(t) == pytest.approx(second, abs=1e-7)


@pytest.mark.parametrize(("t0", "t1"), [(0, 1), (0.2, 0.7), (0.7, 0.2), (1, 0)])
def test_pieces_run_along_the_curve(t0: float, t1: float) -> None:
    piece = CUBIC.piece(t0, t1)
    for t in (0, 0.3, 1):
        assert piece.point(t) == pytest.approx(CUBIC.point(t0 + t * (t1 - t0)))


def test_a_quadratic_is_raised_without_change() -> None:
    start, control, end = 0j, 2 + 4j, 5 + 1j
    cubic = Cubic.from_quadratic(start, control, end)
    for t in (0.25, 0.6):
        s = 1 - t
        assert cubic.point(t) == pytest.approx(s * s * start + 2 * s * t * control + t * t * end)


def test_reversal_and_images() -> None:
    map_ = Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6)
    assert CUBIC.reversed().point(0.3) == pytest.approx(CUBIC.point(0.7))
    assert CUBIC.transformed(map_).point(0.3) == pytest.approx(map_.apply(CUBIC.point(0.3)))
    assert CUBIC.with_ends(0, 1) == Cubic(0, CUBIC.c1, CUBIC.c2, 1)


def test_infinite_handles_are_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        Cubic(0, complex(0, math.nan), 1, 2)
