"""Spokes under inverted parts: where they stand, how long they are, and the windows and fans between them."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon import fillers
from frameforge.geometry.ribbon.bands import Band
from frameforge.geometry.ribbon.corners import Corner, Corners, Join
from frameforge.geometry.ribbon.fillers import filler_polygons
from frameforge.geometry.ribbon.stretches import Part, parts_of

BOW = Cubic.from_quadratic(-2 + 4j, 0 - 4j, 2 + 4j)
"""y = x^2, which turns left; at its foot with the radius 1/2."""


def _part(source: Segment, t0: float = 0.0, t1: float = 1.0) -> Part:
    return Part(source, t0, t1, None, False, 1 + 0j, 1 + 0j)


@pytest.mark.parametrize("distance", [-3.0, 3.0])
@pytest.mark.parametrize("x", [-1.5, -0.5, 0.0, 0.7])
def test_a_spoke_is_told_by_point_direction_and_radius(distance: float, x: float) -> None:
    place = fillers._Place(_part(BOW), (x + 2) / 4)
    point, way, radius = fillers._frames([place, place], Band(distance))
    assert point[1] == pytest.approx(complex(x, x * x))
    assert way[1] == pytest.approx(complex(1, 2 * x) / abs(complex(1, 2 * x)))
    assert radius[1] == pytest.approx((1 + 4 * x * x) ** 1.5 / 2 if distance < 0 else math.inf)


def test_a_spoke_in_a_corner_stands_as_it_is_told() -> None:
    place = fillers._Place(_part(BOW), 0.3, True, 5 + 5j, 1j)
    point, way, radius = fillers._frames([place], Band(-3.0))
    assert (point[0], way[0], radius[0]) == (5 + 5j, 1j, math.inf)


def _spokes(distance: float, *, is_full: bool = False, is_beyond: bool = False) -> fillers._Spokes:
    places = [fillers._Place(_part(BOW), k / 18, is_beyond) for k in range(19)]
    return fillers._Spokes.from_places(places, Band(distance, is_full))


def test_spokes_reach_as_far_as_the_distance_or_the_centre_of_curvature() -> None:
    """At 3 mm on the left: the margin is 3/8, the core ends two margins short, or at 4/5 of a shorter spoke."""
    x = -2 + 4 * np.arange(19) / 18
    bend = (1 + 4 * x * x) ** 1.5 / 2
    at, normal = x + 1j * x * x, (1 + 2j * x) / abs(1 + 2j * x) * 1j
    spokes = _spokes(-3.0)
    reach = np.minimum(3, bend)
    assert spokes.top[0] == pytest.approx(at + normal * reach)
    assert spokes.foot[0] == pytest.approx(at + normal * np.minimum(3 - 0.75, 0.8 * reach))
    assert spokes.is_uncovered[0].tolist() == (bend >= 3 - 1.3 * 0.375).tolist()
    assert _spokes(-3.0, is_full=True).foot[0] == pytest.approx(at)
    assert _spokes(-3.0, is_full=True).is_uncovered.all()
    assert _spokes(-3.0, is_beyond=True).top[0] == pytest.approx(at + normal * np.minimum(3 - 0.375, bend))
    right = _spokes(3.0)
    assert right.top[0] == pytest.approx(at - 3 * normal)
    assert right.foot[0] == pytest.approx(at - 2.25 * normal)


def test_windows_of_three_spokes_cover_one_another_by_two() -> None:
    spokes = _spokes(-3.0, is_full=True)
    windows = spokes.windows(np.array([True]))
    assert len(windows) == 17
    for k, window in enumerate(windows.tolist()):
        corners = shapely.get_coordinates(window)[:-1] @ np.array([1, 1j])
        assert sorted(corners, key=lambda z: (z.real, z.imag)) == pytest.approx(
            sorted([*spokes.top[0, k : k + 3], *spokes.foot[0, k : k + 3]], key=lambda z: (z.real, z.imag))
        )
        assert corners[list(corners).index(spokes.top[0, k]) - 3] == spokes.foot[0, k + 2]
    assert len(spokes.windows(np.array([False]))) == 0


def test_windows_stand_where_one_of_their_spokes_is_not_covered() -> None:
    spokes = _spokes(-3.0)
    bare = spokes.is_uncovered[0]
    assert bare.tolist() == [True] * 6 + [False] * 7 + [True] * 6
    wanted = sum(bool(bare[k : k + 3].any()) for k in range(17))
    assert len(spokes.windows(np.array([True]))) == wanted == 12


def test_a_fan_runs_from_its_first_spoke_over_the_centre_to_its_last_and_back_along_the_feet() -> None:
    arc = Arc.from_circle(1 + 1j, 2.0, 0.2, 1.5)
    places = [fillers._Place(_part(arc), k / 18) for k in range(19)]
    spokes = fillers._Spokes.from_places(places, Band(-2.1))
    (fan,) = spokes.fans(np.array([True]), np.array([1 + 1j]))
    corners = shapely.get_coordinates(fan)[:-1] @ np.array([1, 1j])
    assert len(corners) == 22
    assert fan.area == pytest.approx(1.5 / 2 * 0.425**2, rel=0.01)
    assert len(spokes.fans(np.array([False]), np.array([1 + 1j]))) == 0


@pytest.mark.parametrize(("radius", "distance", "meets"), [(2.0, 2.0, True), (2.0, 1.99, False), (1.5, 2.0, True)])
def test_spokes_of_a_circle_meet_in_its_centre(radius: float, distance: float, meets: bool) -> None:
    assert fillers._meets_in_center(Arc.from_circle(0, radius, 0, 1), distance) == meets
    assert not fillers._meets_in_center(Arc.from_ellipse(0, radius + 0j, 0.5j, 0, 1), distance)
    assert not fillers._meets_in_center(Line(0j, 1j), distance)


def test_points_near_a_joint_get_its_bits() -> None:
    joints = np.array([1 + 1j, 5 + 0j])
    found = fillers._welded(np.array([5 + 1e-11j, 3 + 0j, 1 + 1j, 1 + 1.001j]), joints)
    assert found.tolist() == [5, 3, 1 + 1j, 1 + 1.001j]


@pytest.mark.parametrize("distance", [-2.0, 2.0])
def test_the_first_spoke_of_a_neighbour_stands_two_margins_in(distance: float) -> None:
    """A quarter of the distance on a line; a sixteenth of a short one; half the radius of the parallel of a bend."""
    band = Band(distance)
    line = _part(Line(0j, 100 + 0j), 0.2, 0.8)
    assert fillers._beyond(line, 0.8, 0.2, band).t == pytest.approx(0.8 - 0.005)
    assert fillers._beyond(line, 0.2, 0.8, band).t == pytest.approx(0.2 + 0.005)
    assert fillers._beyond(line, 0.2, 0.8, band).is_beyond
    short = _part(Line(0j, 1 + 0j))
    assert fillers._beyond(short, 0.0, 1.0, band).t == pytest.approx(1 / 16)
    ring = _part(Arc.from_circle(0, 2.2, 0, math.copysign(6, distance)))
    inside = _part(Arc.from_circle(0, 2.2, 0, -math.copysign(6, distance)))
    assert fillers._beyond(ring, 0.0, 1.0, band).t == pytest.approx(0.5 / 13.2)
    assert fillers._beyond(inside, 0.0, 1.0, band).t == pytest.approx(0.1 / 13.2)
    still = _part(Cubic(0j, 0j, 4 + 1j, 9 + 0j))
    assert fillers._beyond(still, 0.0, 1.0, band).t == pytest.approx(1 / 16)


def _corner(turn: float, join: Join) -> Corner:
    return Corner(2 + 1j, 1 + 0j, cmath.rect(1, turn), join)


def test_at_a_raised_corner_the_spoke_stands_in_the_corner() -> None:
    place, end = fillers._Place(_part(BOW), 0.4), fillers._Place(_part(BOW), 0.9)
    for sign in (1, -1):
        band = Band(2.0 * sign)
        found = fillers._or_corner(place, _corner(0.8 * sign, "round"), end, band, 0.25)
        assert (found.corner, found.is_beyond, found.t) == (2 + 1j, True, 0.4)
        assert found.way == pytest.approx(cmath.rect(1, 0.2 * sign))
        assert fillers._or_corner(place, _corner(0.8 * sign, "bevel"), end, band, 0.25) is end
        assert fillers._or_corner(place, _corner(0.8 * sign, "butt"), end, band, 0.25) is end
        assert fillers._or_corner(place, _corner(-0.8 * sign, "round"), end, band, 0.25) is place
        assert fillers._or_corner(place, _corner(0.06 * sign, "round"), end, band, 0.25) is place
        assert fillers._or_corner(place, _corner(0.07 * sign, "round"), end, band, 0.25) is not place


def test_spokes_of_a_part_stand_at_even_steps_between_its_neighbours() -> None:
    loop = parts_of([[BOW, Line(2 + 4j, -2 + 4j)]], -1.0, 1e-3)[0][0]
    k = next(i for i, part in enumerate(loop) if part.parallel is None)
    places = fillers._places(loop, k, Band(-1.0), Corners())
    assert len(places) == 19
    part = loop[k]
    assert [place.t for place in places[1:-1]] == pytest.approx(np.linspace(part.t0, part.t1, 17))
    assert [place.is_beyond for place in places] == [True, *[False] * 17, True]
    assert places[0].part is loop[k - 1]
    assert places[-1].part is loop[k + 1]
    assert places[0].t < part.t0 < part.t1 < places[-1].t
    assert fillers._places(loop, k - 1, Band(-1.0), Corners()) == []


def test_no_inverted_part_needs_a_filler() -> None:
    loops = parts_of([[Line(0j, 4 + 0j), Line(4 + 0j, 4j), Line(4j, 0j)]], 1.0, 1e-3)[0]
    assert len(filler_polygons(loops, Band(1.0), Corners(), np.array([0j]))) == 0
