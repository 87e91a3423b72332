"""Closed outlines."""

from __future__ import annotations

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment

TRIANGLE = Outline.from_points([0, 4, 4 + 3j])


def test_a_gap_or_nothing_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="gap"):
        Outline((Line(0, 1), Line(1 + 1e-12, 0)))
    with pytest.raises(ValueError, match="at least one"):
        Outline(())


def test_points_become_lines_and_repeated_points_are_taken_once() -> None:
    assert Outline.from_points([0, 0, 4, 4 + 3j, 4 + 3j, 0]) == TRIANGLE
    assert [s.start for s in TRIANGLE.segments] == [0, 4, 4 + 3j]
    with pytest.raises(ValueError, match="three"):
        Outline.from_points([0, 1, 0])


def test_a_chain_shares_its_joints_drops_specks_and_closes_gaps() -> None:
    chain: list[Segment] = [
        Line(0, 4),
        Line(4 + 1e-9j, 4 + 1e-9 + 1e-9j),  # a speck
        Line(4 + 1e-9j, 4 + 3j),
        Cubic(2 + 5j, 1 + 4j, 0.5 + 3j, 1e-9 + 0j),  # starts far from where the last one ended
    ]
    outline = Outline.from_chain(chain, joint_mm=1e-6)
    assert [type(s).__name__ for s in outline.segments] == ["Line", "Line", "Line", "Cubic"]
    assert outline.segments[1].start == 4
    assert outline.segments[2] == Line(4 + 3j, 2 + 5j)
    assert outline.segments[-1].end == 0


def test_a_chain_that_does_not_return_is_closed_by_a_line() -> None:
    outline = Outline.from_chain([Line(0, 4), Line(4, 4 + 3j)], joint_mm=1e-6)
    assert outline == TRIANGLE


def test_a_chain_without_length_is_refused() -> None:
    with pytest.raises(ValueError, match="length"):
        Outline.from_chain([Line(0, 1e-9)], joint_mm=1e-6)


def test_images_keep_joints_and_reversal_keeps_the_start() -> None:
    moved = TRIANGLE.transformed(Affine.from_turn(0.3))
    assert len(moved.segments) == 3
    back = TRIANGLE.reversed()
    assert [s.start for s in back.segments] == [0, 4 + 3j, 4]
