"""Boxes: built from points, joined, grown, asked."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.box import Box


def test_a_box_holds_its_points_tightly() -> None:
    box = Box.from_points([1 + 5j, -2 + 7j, 3 - 1j])
    assert box == Box(-2, -1, 3, 7)
    assert (box.width_mm, box.height_mm, box.center) == (5, 8, 0.5 + 3j)


def test_union_and_growth() -> None:
    box = Box(0, 0, 2, 1).union(Box(-1, 0.5, 1, 4))
    assert box == Box(-1, 0, 2, 4)
    assert box.grown(0.5) == Box(-1.5, -0.5, 2.5, 4.5)
    assert box.grown(-0.5) == Box(-0.5, 0.5, 1.5, 3.5)


def test_edges_belong_to_the_box() -> None:
    box = Box(0, 0, 2, 1)
    assert box.contains(2 + 1j)
    assert not box.contains(2.0000001 + 1j)
    assert box.overlaps(Box(2, 1, 3, 3))
    assert not box.overlaps(Box(2.0000001, 1, 3, 3))
    assert not box.overlaps(Box(0, 1.0000001, 3, 3))


@pytest.mark.parametrize("sides", [(1, 0, 0, 1), (0, 1, 1, 0), (0, 0, math.inf, 1), (math.nan, 0, 1, 1)])
def test_sides_the_wrong_way_round_or_not_finite_are_refused(sides: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="box"):
        Box(*sides)


def test_no_points_no_box() -> None:
    with pytest.raises(ValueError, match="at least one"):
        Box.from_points([])
