"""Nodes that lines, arcs and cubics of one support share: their places along it, and which segments need them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import rectangle
from frameforge.geometry.trace import shared
from frameforge.geometry.trace.chains import Chains


def test_segments_whose_support_lies_on_another_chain_too_are_shared() -> None:
    """Labels 0 and 3 stand on two chains; 1 twice on one, 2 and 4 once."""
    chains = Chains.from_segments([rectangle(0, 0, 2, 2).segments, rectangle(5, 5, 6, 6).segments])
    labels = np.array([0, 1, 1, 3, 0, 2, 3, 4])
    assert shared._rows_shared_between_chains(chains, labels).tolist() == [0, 3, 4, 6]


def test_places_of_lines_are_told_along_the_first_of_them() -> None:
    table = SegmentTable.from_segments([Line(1 + 1j, 4 + 5j), Line(7 + 9j, 4 + 5j), Line(-2 - 3j, 1 + 1j)])
    low, span, is_reversed = shared._line_places(table, np.array([0, 1, 2]), np.array([0, 0, 0]))
    assert low - low[0] == pytest.approx([0, 5, -5])
    assert span == pytest.approx([5, 5, 5])
    assert is_reversed.tolist() == [False, True, False]


def test_places_of_arcs_are_told_by_the_frame_of_the_first_of_them() -> None:
    """The lower end from 0 to a whole turn, however the arc is given."""
    given = [
        Arc.from_circle(0, 5, 0.3, 1.0), Arc.from_circle(0, 5, 1.3, -1.0), Arc.from_circle(0, 5, -0.5, 0.2),
        Arc.from_circle(0, 5, -1e-13, 0.2),
    ]  # fmt: skip
    table = SegmentTable.from_segments(given)
    low, span, is_down = shared._arc_places(table, np.arange(4), np.zeros(4, dtype=np.intp))
    assert low == pytest.approx([0.3, 0.3, math.tau - 0.5, 0.0])
    assert span == pytest.approx([1, 1, 0.2, 0.2])
    assert is_down.tolist() == [False, True, False, False]
    assert low[3] == 0


def test_angles_that_miss_a_whole_turn_by_rounding_are_0() -> None:
    angles = np.array([-1.0, math.tau + 0.5, -1e-12, -1e-7, math.tau])
    found = shared._in_turn(angles, np.full(5, 10.0))
    assert found == pytest.approx([math.tau - 1, 0.5, 0, math.tau - 1e-7, 0], abs=1e-9)
    assert (found[2], found[4]) == (0, 0)


def test_cubics_that_run_the_other_way_are_told() -> None:
    cubic = Cubic(0j, 1 + 2j, 3 + 2j, 5 + 0j)
    loop = Cubic(0j, 4 + 3j, -4 + 3j, 0j)
    table = SegmentTable.from_segments([cubic, cubic.reversed(), cubic, loop, loop.reversed()])
    lead = np.array([0, 0, 0, 3, 3])
    assert shared._runs_against(table, np.arange(5), lead).tolist() == [False, True, False, False, True]


def test_equal_cubics_take_the_points_of_the_first() -> None:
    """As many as the finest of them needs, in the order of each; their own starts to the bit."""
    cubic = Cubic(0j, 1 + 2j, 3 + 2j, 5 + 0j)
    table = SegmentTable.from_segments([cubic, cubic.reversed()])
    segment, t, point = shared._copied_cubics(table, np.array([0, 1]), np.array([0, 0]), np.array([2, 4]))
    assert segment.tolist() == [0] * 4 + [1] * 4
    assert t.tolist() == [0, 0.25, 0.5, 0.75] * 2
    assert point[:4].tolist() == pytest.approx([cubic.point(k / 4) for k in range(4)])
    assert point[4:].tolist() == pytest.approx([cubic.point(1 - k / 4) for k in range(4)])
    assert point[[1, 2, 3]].tolist() == point[[7, 6, 5]].tolist()
