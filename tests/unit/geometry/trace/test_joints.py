"""Crossings of chains, found by walking along them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.cubic_loops import self_crossings
from frameforge.geometry.trace.joints import Joints, Places, Rules, newton, solve_joints, walk


def places(*pairs: tuple[int, float]) -> Places:
    return Places(np.array([p[0] for p in pairs]), np.array([p[1] for p in pairs]))


def solved(
    chains: Chains, a: tuple[int, float], b: tuple[int, float], vertex: complex, rules: Rules | None = None
) -> Joints:
    return solve_joints(chains, places(a), places(b), np.array([vertex], dtype=complex), 0.01, rules or Rules())


BOX_AND_LINE = Chains.from_segments([rectangle(0, 0, 10, 5).segments, (Line(-1 + 4j, 12 + 4.5j),)], [False, True])


def test_a_vertex_of_both_curves_is_natural() -> None:
    joints = solved(BOX_AND_LINE, (0, 1.0), (1, 0.0), 10)
    assert joints.is_natural.tolist() == [True]
    assert joints.point.tolist() == [10]


def test_a_crossing_is_solved_from_a_place_nearby() -> None:
    joints = solved(BOX_AND_LINE, (1, 0.8), (4, 0.84), 10 + 4.42j)
    assert joints.is_solved.tolist() == [True]
    assert joints.is_natural.tolist() == [False]
    assert joints.point[0] == pytest.approx(10 + (4 + 0.5 * 11 / 13) * 1j, abs=1e-12)


def test_the_walk_goes_on_to_the_neighbour_with_the_speed_converted() -> None:
    # Sides of 10 and 5: a step of a tenth beyond the first is a fifth of the second.
    there = walk(BOX_AND_LINE, places((0, 0.95), (1, 0.05), (3, 0.9)), np.array([0.1, -0.1, 0.2]))
    assert there.segment.tolist() == [1, 0, 0]
    assert there.t == pytest.approx([0.1, 0.975, 0.05])


def test_the_walk_stops_at_free_ends() -> None:
    there = walk(BOX_AND_LINE, places((4, 0.9), (4, 0.1)), np.array([0.2, -0.2]))
    assert there.segment.tolist() == [4, 4]
    assert there.t.tolist() == [1, 0]


def test_newton_crosses_a_joint_to_find_the_crossing() -> None:
    # The start lies on the bottom side, the crossing on the right one.
    chains = Chains.from_segments([rectangle(0, 0, 10, 5).segments, circle(10, 0.3).segments])
    a, b = newton(chains, places((0, 0.995)), places((4, 0.9)))
    assert a.segment.tolist() == [1]
    assert a.point(chains)[0] == pytest.approx(10 + 0.3j, abs=1e-12)
    assert b.point(chains)[0] == pytest.approx(10 + 0.3j, abs=1e-12)


@pytest.mark.parametrize("depth", [1e-2, 1e-4, 1e-6])
def test_nearly_tangent_circles(depth: float) -> None:
    chains = Chains.from_segments([circle(0, 10).segments, circle(20 - depth, 10).segments])
    height = math.sqrt(100 - (10 - depth / 2) ** 2)
    joints = solved(chains, (0, 0.3 * height / 15.7), (5, 1 - 0.3 * height / 15.7), 10 + 0.3j * height)
    assert joints.is_solved.tolist() == [True]
    assert joints.point[0] == pytest.approx(complex(10 - depth / 2, height), abs=1e-9)


def test_curves_that_do_not_cross_are_not_solved_and_the_miss_is_told() -> None:
    chains = Chains.from_segments([circle(0, 10).segments, circle(20.1, 10).segments])
    joints = solved(chains, (0, 0.01), (5, 0.99), 10.05)
    assert joints.is_solved.tolist() == [False]
    assert joints.point.tolist() == [10.05]
    assert joints.miss[0] > 0.05


def test_a_crossing_far_from_the_vertex_is_not_taken() -> None:
    joints = solved(BOX_AND_LINE, (1, 0.2), (4, 0.5), 10 + 1j)
    assert joints.is_solved.tolist() == [False]


def test_a_crossing_within_rounding_of_a_stored_joint_is_that_joint() -> None:
    chains = Chains.from_segments([rectangle(0, 0, 10, 5).segments, (Line(9 - 1j, 11 + 1e-11 + 1j),)], [False, True])
    joints = solved(chains, (0, 0.9999), (4, 0.5001), 10.001)
    assert joints.point.tolist() == [10]
    assert float(joints.a.t[0]) in (0.0, 1.0)


def test_one_outline_does_not_cross_itself_where_it_goes_on() -> None:
    loop: tuple[Segment, ...] = (Cubic(0, 14 + 10j, -4 + 10j, 10), Line(10, 0))
    chains = Chains.from_segments([loop])
    own = solved(chains, (0, 0.5), (0, 0.5000001), 5 + 7.4j)
    assert own.is_solved.tolist() == [False]
    _, low, high = self_crossings(chains.table)
    crossing = complex(chains.table.point(np.array([0]), low)[0])
    true = solved(chains, (0, float(low[0]) + 1e-4), (0, float(high[0]) + 1e-4), crossing + 0.005)
    assert true.is_solved.tolist() == [True]
    assert true.a.t == pytest.approx(low, abs=1e-12)
    assert true.b.t == pytest.approx(high, abs=1e-12)


def test_rules_may_refuse_a_crossing() -> None:
    refuse = Rules(accept=lambda point: point.real < 5)
    assert solved(BOX_AND_LINE, (1, 0.8), (4, 0.84), 10 + 4.42j, refuse).is_solved.tolist() == [False]


def test_free_ends_that_nearly_touch_are_joined_in_the_middle() -> None:
    chains = Chains.from_segments([(Line(0, 1),), (Line(1 + 1e-5j, 2 + 1j),)], [True, True])
    joints = solved(chains, (0, 1.0), (1, 0.0), 1 + 4e-6j, Rules(free_end_mm=2e-5))
    assert joints.is_solved.tolist() == [True]
    assert joints.point[0] == pytest.approx(1 + 5e-6j, abs=1e-15)


def test_distances_along_a_closed_chain_go_the_short_way_round() -> None:
    here, there = places((3, 0.75), (0, 0.25)), places((0, 0.25), (3, 0.75))
    assert there.since(here, BOX_AND_LINE) == pytest.approx([0.5, -0.5])


def test_free_ends_are_those_of_open_chains_only() -> None:
    """A box of segments 0 to 3, then an open line of 4 and 5: free at the start of 4 and at the end of 5."""
    zigzag = (Line(20 + 0j, 21 + 1j), Line(21 + 1j, 22 + 0j))
    chains = Chains.from_segments([rectangle(0, 0, 10, 5).segments, zigzag], [False, True])
    every = [(segment, t) for segment in range(6) for t in (0.0, 0.5, 1.0)]
    free = places(*every).is_free_end(chains)
    assert [each for each, is_free in zip(every, free, strict=True) if is_free] == [(4, 0.0), (5, 1.0)]
