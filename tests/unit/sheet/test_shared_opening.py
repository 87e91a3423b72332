"""Discs from the waste of an opening, against a worked example and against known packings of circles in a circle."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.sheet.shared_opening import MOST_SHARED, discs_from_opening


def test_seven_discs_from_an_opening_of_120() -> None:
    """Three across: 2 + d + 2 + d + 2 + d + 2 = 120, worked out by hand."""
    assert discs_from_opening(120, 7, apart_mm=2, margin_mm=2) == pytest.approx(37.333, abs=5e-4)


@pytest.mark.parametrize(
    ("count", "ratio"),
    [(1, 1), (2, 2), (3, 2.154700538379), (4, 2.414213562373), (5, 2.701301616704), (6, 3), (7, 3)],
)
def test_ratios_are_those_of_the_best_known_packings(count: int, ratio: float) -> None:
    """E. Specht, "The best known packings of equal circles in a circle", packomania.com."""
    assert discs_from_opening(2 * ratio, count, apart_mm=0, margin_mm=0) == pytest.approx(2)


@pytest.mark.parametrize("count", range(2, 7))
def test_a_ring_of_discs_keeps_its_distances(count: int) -> None:
    across = discs_from_opening(90, count, apart_mm=3, margin_mm=4)
    middles = [cmath.rect(45 - 4 - across / 2, math.tau * k / count) for k in range(count)]
    nearest = min(abs(a - b) for k, a in enumerate(middles) for b in middles[:k])
    assert nearest - across == pytest.approx(3)


def test_unknown_counts_are_refused_and_small_openings_yield_nothing() -> None:
    with pytest.raises(ValueError, match="8 discs"):
        discs_from_opening(100, MOST_SHARED + 1, apart_mm=2, margin_mm=2)
    assert discs_from_opening(6, 3, apart_mm=3, margin_mm=3) == 0
