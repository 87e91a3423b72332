"""The last look at a result."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.outlines import leaf

from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace import check
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.check import Checked, checked
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import flatten_chains


def look(*outlines: Outline, candidates: tuple[complex, ...] = ()) -> Checked:
    return checked(Chains.from_segments([outline.segments for outline in outlines]), candidates, 0.01)


def test_sound_outlines_show_nothing() -> None:
    assert look(leaf().outer, circle(0, 30), rectangle(-3, 6, -1, 7)) == Checked()


def test_crossing_outlines_show_where() -> None:
    crossed = look(circle(0, 10), circle(15, 10)).crossed
    assert len(crossed) == 2
    assert all(abs(place.real - 7.5) < 0.02 for place in crossed)


def test_an_outline_that_crosses_itself_shows_where() -> None:
    bow = Outline.from_points([0, 10 + 10j, 10, 10j])
    assert look(bow).crossed == (5 + 5j,)


def test_curves_much_closer_than_the_chords_do_not_cross() -> None:
    assert look(circle(0, 10), circle(0, 9.9999), circle(20.0001, 10)).crossed == ()


def test_only_true_touches_are_kept_in_order() -> None:
    touching = look(circle(0, 10), circle(20, 10), circle(-20, 10), candidates=(10, 3 + 3j, -10, 10j))
    assert touching.crossed == ()
    assert touching.touches == (-10, 10)


def test_a_corner_on_a_side_is_a_touch_and_a_plain_joint_is_not() -> None:
    spike = Outline.from_points([4 + 2j, 8, 8 + 4j])
    found = look(rectangle(0, 0, 4, 4), spike, candidates=(4 + 2j, 4, 8))
    assert found.touches == (4 + 2j,)


@pytest.mark.parametrize("turn_deg", [1, 10, 11, 13, 90, 167, 169, 179])
def test_corners_are_looked_at_by_their_chords_where_they_turn_by_more_than_a_fifth_of_a_radian(
    turn_deg: float,
) -> None:
    """Nor do those that turn back within that."""
    way = cmath.rect(10, math.radians(turn_deg))
    chains = Chains.from_segments([(Line(-10 + 0j, 0j), Line(0j, way), Line(way, -10 + 0j))])
    strips = Strips.from_vertices(chains, flatten_chains(chains, support_labels(chains.table), 0.01))
    before, after = check._strips_at_corners(chains, strips)
    is_sharp = 0.2 < math.radians(turn_deg) < math.pi - 0.2
    assert (0 in strips.segment[before]) == is_sharp
    assert (1 in strips.segment[after]) == is_sharp


def test_the_nearest_of_65_samples() -> None:
    table = SegmentTable.from_segments([Line(0j, 64 + 0j), Line(5j, 64 + 5j)])
    t = check._nearest_sample(table, np.array([0, 1, 0]), np.array([10.4 + 1j, 63.6 + 0j, -3 + 0j]))
    assert t.tolist() == [10 / 64, 1, 0]


def test_a_place_is_a_touch_where_it_is_passed_twice() -> None:
    """In the middle of two sides; at a joint and in the middle of a side; not at a joint alone, nor on one side alone,
    nor where the second passes by."""
    left, right = Outline.from_points([0j, 4j, -4 + 2j]), Outline.from_points([1j, 4 + 2j, 3j])
    by = Outline.from_points([1e-3 + 1j, 4 + 2j, 1e-3 + 3j])
    assert look(left, right, candidates=(2j, 0j, 1j, 3j, -2 + 1j)).touches == (1j, 2j, 3j)
    assert look(left, by, candidates=(2j, 1j)).touches == ()


def test_a_crossing_is_told_once_and_joints_are_not() -> None:
    """Two squares that share a corner; and two that cross in their sides."""
    assert look(rectangle(0, 0, 4, 4), rectangle(4, 4, 8, 8)).crossed == ()
    found = look(rectangle(0, 0, 4, 4), rectangle(2, 2, 8, 8)).crossed
    assert sorted(found, key=lambda place: place.real) == [2 + 4j, 4 + 2j]
