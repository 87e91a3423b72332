"""Spokes by hand: rounded to whole degrees, and off squared paper."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from frameforge.frame.base import Edge
from frameforge.frame.hand_spokes import grid_spokes, protractor_miss_mm


@pytest.mark.parametrize(("count", "size", "miss"), [(7, 165.1, 0.62), (16, 165.1, 0.72)])
def test_whole_degrees_miss_by_the_known_measure(count: int, size: float, miss: float) -> None:
    """7 and 16 spokes on 165.1 mm (6 1/2 in), computed twice, no printed source."""
    assert round(protractor_miss_mm(count, size), 2) == miss


def test_the_miss_is_that_of_the_worst_spoke() -> None:
    """Second road: round every direction and measure."""
    for count in range(1, 120):
        off = [abs(k * 360 / count - round(k * 360 / count)) for k in range(count)]
        assert protractor_miss_mm(count, 100.0) == pytest.approx(50 * math.radians(max(off)), abs=1e-9)


def test_counts_that_divide_a_turn_miss_nothing() -> None:
    misses = {count for count in range(1, 361) if protractor_miss_mm(count, 100.0) == 0}
    assert misses == {count for count in range(1, 361) if 360 % count == 0}


def test_squared_paper_is_even_on_a_circle_only() -> None:
    """150 x 100: 56.413 / 42.746 by 45 degrees, 43.371 / 55.788 by the diagonals, even 49.579 (no printed source)."""
    circle = grid_spokes(Edge(50, 50))
    assert {round(arc, 9) for arc in (*circle.slanted_mm, *circle.diagonal_mm)} == {round(math.pi * 100 / 8, 9)}
    oval = grid_spokes(Edge(75, 50))
    assert oval.slanted_mm == pytest.approx((42.746, 56.413), abs=5e-4)
    assert oval.diagonal_mm == pytest.approx((55.788, 43.371), abs=5e-4)
    assert oval.even_mm == pytest.approx(49.579, abs=5e-4)
    assert sum(oval.slanted_mm) == pytest.approx(2 * oval.even_mm)


@pytest.mark.parametrize("seed", range(20))
def test_squared_paper_on_any_oval(seed: int) -> None:
    """Second road: the edge walked in 20000 chords, and cut where it passes the spoke's direction."""
    chance = random.Random(seed)
    a, b = chance.uniform(20, 100), chance.uniform(20, 100)
    t = np.linspace(0, math.pi / 2, 20_001)
    edge = a * np.cos(t) + 1j * b * np.sin(t)
    walked = np.concatenate([[0], np.cumsum(np.abs(np.diff(edge)))])

    def parts(direction_rad: float) -> list[float]:
        first = float(np.interp(direction_rad, np.angle(edge), walked))
        return sorted([first, float(walked[-1]) - first])

    spokes = grid_spokes(Edge(a, b))
    assert sorted(spokes.slanted_mm) == pytest.approx(parts(math.pi / 4), abs=1e-5)
    assert sorted(spokes.diagonal_mm) == pytest.approx(parts(math.atan2(b, a)), abs=1e-5)
    assert spokes.even_mm == pytest.approx(walked[-1] / 2, abs=1e-5)
