"""Counters become windows; what stands inside them stays card."""

from __future__ import annotations

import math

import pytest
from fixtures.outlines import disc, ring

from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.counters import with_counters_cut


def test_without_holes_nothing_changes() -> None:
    join, window = (disc(5),), (disc(1),)
    assert with_counters_cut(join, window) == (join, window)


def test_a_hole_becomes_a_window() -> None:
    join, window = with_counters_cut((ring(5, 3),), ())
    assert [region.holes for region in join] == [()]
    assert area_mm2(join) == pytest.approx(25 * math.pi)
    assert area_mm2(window) == pytest.approx(9 * math.pi), "the window runs counter-clockwise"


def test_a_target_keeps_its_rings() -> None:
    """Ring, ring in it, dot in that: card of both windows' islands is not cut away."""
    outer, inner, dot = ring(10, 8), ring(6, 4), disc(2)
    join, window = with_counters_cut((inner, dot, outer), ())
    assert len(join) == 1
    assert sorted(round(area_mm2(region) / math.pi, 6) for region in window) == [12, 28]
    assert area_mm2(join) - area_mm2(window) == pytest.approx(area_mm2((outer, inner, dot)))


def test_two_islands_in_one_hole() -> None:
    frame = Region(rectangle(0, 0, 20, 10), (rectangle(1, 1, 19, 9).reversed(),))
    islands = disc(2, 5 + 5j), disc(2, 14 + 5j)
    join, window = with_counters_cut((*islands, frame), ())
    assert len(join) == 1
    assert [len(region.holes) for region in window] == [2]


def test_a_labelled_window_is_united_with_the_counters() -> None:
    join, window = with_counters_cut((ring(10, 4),), (Region(circle(3, 4)),))
    assert len(window) == 1
    lens = 2 * 16 * math.acos(3 / 8) - 3 / 2 * math.sqrt(64 - 9)  # two circles of r 4, 3 apart (elementary)
    assert area_mm2(window) == pytest.approx(2 * 16 * math.pi - lens, abs=1e-6)
    assert area_mm2(join) == pytest.approx(100 * math.pi)


def test_specks_are_left_out() -> None:
    """A hole and an island of .001 mm in a plate of 20 mm, as a path leaves them that crosses itself at a joint."""
    hole = rectangle(4, 4, 4.001, 4.001).reversed()
    plate = Region(rectangle(0, 0, 20, 20), (rectangle(8, 8, 12, 12).reversed(), hole))
    join, window = with_counters_cut((plate, Region(rectangle(30, 0, 30.001, 0.001))), ())
    assert [len(region.holes) for region in join] == [0]
    assert len(window) == 1
