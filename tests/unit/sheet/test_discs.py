"""Equal discs let go: they come to lie apart inside, the same seed gives the same, and a full rectangle is refused."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.sheet.discs import most_points, spread_points


def nearest(points: np.ndarray) -> float:
    gaps = np.abs(points[:, None] - points)
    return float((gaps + np.diag(np.full(len(points), np.inf))).min())


@pytest.mark.parametrize(("count", "width", "height"), [(5, 1.45, 1.45), (7, 2.0, 1.9), (13, 3.0, 2.8)])
def test_points_are_apart_and_inside(count: int, width: float, height: float) -> None:
    points = spread_points(count, width, height, 1.0, seed=2, rounds=6)
    assert points is not None
    assert nearest(points) >= 1.0
    assert points.real.min() >= 0
    assert points.real.max() <= width
    assert points.imag.min() >= 0
    assert points.imag.max() <= height


def test_the_same_seed_gives_the_same_points() -> None:
    one, two = (spread_points(9, 2.2, 2.2, 1.0, seed=5, rounds=3) for _ in range(2))
    assert one is not None
    assert two is not None
    assert np.array_equal(one, two)


def test_more_than_fit_are_not_looked_for() -> None:
    asked: list[int] = []

    def asking() -> bool:
        asked.append(1)
        return True

    assert most_points(1, 1, 1) >= 4
    assert spread_points(12, 1, 1, 1, seed=1, rounds=3, keep_going=asking) is None
    assert asked == []


def test_a_search_that_is_ended_finds_nothing() -> None:
    assert spread_points(9, 2.2, 2.2, 1.0, seed=5, rounds=3, keep_going=lambda: False) is None
