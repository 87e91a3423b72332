"""Outlines as chains of segments."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.outlines import leaf, spokes

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace.chains import Chains

OPEN = (Line(0, 4), Line(4, 4 + 3j))


def test_closed_chains_wrap_and_open_ones_end() -> None:
    chains = Chains.from_segments([rectangle(0, 0, 1, 1).segments, OPEN], [False, True])
    assert chains.first.tolist() == [0, 4, 6]
    assert chains.chain.tolist() == [0, 0, 0, 0, 1, 1]
    assert chains.following.tolist() == [1, 2, 3, 0, 5, -1]
    assert chains.preceding.tolist() == [3, 0, 1, 2, -1, 4]


def test_arcs_are_split_to_quarters_that_join_to_the_bit() -> None:
    chains = Chains.from_segments([circle(1 + 1j, 5).segments, [Arc.from_circle(0, 1, 0, 2), Line(0, 1)]])
    assert chains.first.tolist() == [0, 4, 7]
    assert np.abs(chains.table.sweep[:4]) == pytest.approx(math.pi / 2)
    assert chains.table.end[:4].tolist() == np.roll(chains.table.start[:4], -1).tolist()
    assert chains.table.point(np.arange(4), np.zeros(4)) == pytest.approx(chains.table.start[:4], abs=1e-14)


def test_welding_makes_joints_equal_and_drops_segments_without_length() -> None:
    speck: list[Segment] = [
        Line(0, 1),
        Line(1, 1 + 1e-11j),
        Cubic(1 + 1e-11j, 1, 1, 1 + 1e-11j),
        Line(1 + 1e-11j, 1j),
        Line(1j, 0),
    ]
    away: list[Segment] = [Line(1e-11 + 0j, -1), Line(-1, -1j), Line(-1j, 1e-11)]
    chains = Chains.from_segments([speck, away]).welded()
    assert chains.first.tolist() == [0, 3, 6]
    assert chains.table.start[0] == chains.table.start[3] == chains.table.end[5] == 0
    assert chains.table.start[1] == chains.table.end[0]


def test_welding_leaves_joints_that_are_apart() -> None:
    chains = Chains.from_segments([rectangle(0, 0, 1, 1).segments, rectangle(1e-9, 0, 1, 1).segments]).welded()
    assert len(set(chains.table.start.tolist())) == 6


def test_copies_follow_one_another_and_parts_are_joined() -> None:
    one = Chains.from_segments([leaf().outer.segments])
    moved = one.moved(spokes(5, 30))
    assert len(moved.is_open) == 5
    assert moved.first.tolist() == [0, 7, 14, 21, 28, 35]
    both = Chains.joined([one, moved])
    assert both.first.tolist() == [0, 7, 14, 21, 28, 35, 42]
    assert both.chain.tolist() == np.repeat(np.arange(6), 7).tolist()


def test_an_arc_of_next_to_no_sweep_stays_one_arc() -> None:
    """1e-10 rad at R = 1000: 1e-7 mm, too long to be left out."""
    speck = Arc.from_circle(0, 1000, 0, 1e-10)
    half = Arc.from_circle(0, 1000, 1e-10, math.pi)
    chains = Chains.from_segments([[speck, half, Line(half.end, speck.start)]]).with_short_arcs()
    assert chains.first.tolist() == [0, 4]
    assert chains.table.sweep[:3] == pytest.approx([1e-10, math.pi / 2, math.pi / 2])
