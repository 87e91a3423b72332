"""Touches in one point: true ones found, and none where an outline of tiny bits only turns."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.check.spot import Spot, closest_pair
from frameforge.check.thickness import thin_places
from frameforge.check.touches import find_touches
from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle


def test_a_rough_scan_of_tiny_bits_touches_nowhere() -> None:
    """Each direction from the middle is met once, so that the outline cannot meet itself."""
    turns = [math.tau * k / 2000 for k in range(2000)]
    points = [cmath.rect(5 + 0.1 * math.sin(90 * turn), turn) for turn in turns]
    lines = tuple(Line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True))
    assert find_touches([Region(Outline(lines))]) == ()


def test_a_hole_that_touches_the_edge_does_so_once() -> None:
    (touch,) = find_touches([Region(circle(0, 20), (circle(12, 8).reversed(),))])
    assert touch.at == pytest.approx(20, abs=1e-6)


def test_a_handle_of_no_length_stops_no_search() -> None:
    """Where a cubic stands still at its end, the other wall's foot is looked for: icons have such corners."""
    still = Cubic(0j, 0j, 2 + 3j, 4 + 0j)
    outline = Outline((still, Line(4 + 0j, 4 - 4j), Line(4 - 4j, -4 - 4j), Line(-4 - 4j, 0j)))
    wall = Outline.from_points([-1 + 1j, -0.5 + 1j, -1 + 3j])
    pair = closest_pair(Spot(wall, 1, 0.5), Spot(outline, 0, 0.0))
    assert abs(pair[0].point - pair[1].point) == pytest.approx(abs(-0.5 + 1j), abs=1e-9)
    assert Spot(outline, 0, 0.0).direction == pytest.approx((2 + 3j) / abs(2 + 3j))
    standing = Spot(outline, 0, 0.0), Spot(Outline((still.reversed(), Line(0j, 4j), Line(4j, 4 + 0j))), 0, 1.0)
    assert closest_pair(*standing)[0].point == 0


def test_an_outline_that_touches_itself_does_so_where_it_passes_twice() -> None:
    """Two lobes that meet in a point, in one outline; a tip that reaches the other side; and .002 mm between."""
    pinched = Outline.from_points([-10 + 5j, -10 - 5j, 0j, 10 - 5j, 10 + 5j, 0j])
    (touch,) = find_touches([Region(pinched)])
    assert abs(touch.at) < 1e-9
    assert touch.loops == (0, 0)
    tip = Outline.from_points([0j, 20 + 0j, 20 + 20j, 10 + 0j, 0 + 20j])
    assert [abs(touch.at - 10) < 1e-9 for touch in find_touches([Region(tip)])] == [True]
    apart = Outline.from_points([-10 + 5j, -10 - 5j, -0.001 + 0j, 10 - 5j, 10 + 5j, 0.001 + 0j])
    assert not find_touches([Region(apart)])


@pytest.mark.parametrize("wide_mm", [2e-6, 9e-5])
def test_a_neck_that_a_file_holds_as_one_point_is_a_touch(wide_mm: float) -> None:
    low, high = -0.5j * wide_mm, 0.5j * wide_mm
    pinched = Outline.from_points([-10 + 5j, -10 - 5j, low, 10 - 5j, 10 + 5j, high])
    (touch,) = find_touches([Region(pinched)])
    assert abs(touch.at) < 1e-9


@pytest.mark.parametrize("turn_deg", [0, 3, 8, 20])
def test_a_tip_of_handles_without_length_touches_nowhere(turn_deg: float) -> None:
    """A canoe's bow: both sides stand still in the tip, and the search for the nearest place creeps towards it."""
    tip = 30 + 8j
    upper = Cubic(20j, 10 + 6j, tip, tip)
    lower = Cubic(tip, tip, 10 + 6j - cmath.rect(math.radians(turn_deg) * 20 + 0.1, 1.2), 0j)
    assert find_touches([Region(Outline((upper, lower, Line(0j, 20j))).reversed())]) == ()


def test_no_card_touches_nothing() -> None:
    assert find_touches([]) == ()
    assert thin_places([], 1.0) == ()


@pytest.mark.parametrize("scale", [0.5, 1.0, 20.0])
def test_horns_that_run_out_in_one_direction_are_tips_and_no_touches(scale: float) -> None:
    """A crescent whose two edges meet without an angle, with and without a bit of line left at its tip; and lobes that
    do touch beside it."""
    outer = Cubic(0j, 10 + 0j, 20 + 5j, 20 + 15j)
    back = Line(20 + 15j, 18 + 15j), Cubic(18 + 15j, 18 + 8j, 12 + 0j, 0j)
    for tip in ((outer, *back), (Line(0.000002j, 0j), outer, *back[:1], Cubic(18 + 15j, 18 + 8j, 12 + 0j, 0.000002j))):
        outline = Outline(tuple(segment.transformed(Affine.from_scale(scale)) for segment in tip))
        assert find_touches([Region(outline)]) == ()


def test_a_lobe_that_comes_back_to_the_joint_beside_it_still_touches() -> None:
    """A loop whose ends lie in one point, on neighbours in the outline: they are apart in between."""
    loop = Cubic(5 + 0j, 15 + 12j, -5 + 12j, 5 + 0j)
    outline = Outline((Line(0j, 5 + 0j), loop, Line(5 + 0j, 10 + 0j), Line(10 + 0j, 5 - 10j), Line(5 - 10j, 0j)))
    (touch,) = find_touches([Region(outline)])
    assert abs(touch.at - 5) < 1e-6
