"""Seats: rates of change, placements, slopes, and feet too wide for the edge."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.seat import find_seat, point_seat

EDGES = [Edge(50, 50), Edge(75, 50), Edge(75, 50, -12), Edge(40, 90, 3)]


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("tau", [0.0, 0.9, 2.2, 4.1])
def test_rates_agree_with_differences(edge: Edge, tau: float) -> None:
    h = 1e-5
    seat, ahead, behind = (find_seat(edge, 11.0, t) for t in (tau, tau + h, tau - h))
    assert abs((ahead.middle - behind.middle) / (2 * h) - seat.middle_rate) < 1e-6
    assert abs(cmath.phase(ahead.tangent / behind.tangent) / (2 * h) - seat.turn_rate) < 1e-6


@pytest.mark.parametrize("edge", EDGES)
def test_placements_put_the_foot_on_its_ends(edge: Edge) -> None:
    seat = find_seat(edge, 11.0, 0.9)
    outward, inward = seat.placement(1), seat.placement(-1)
    assert abs(outward.apply(-5.5 + 0j) - seat.left) < 1e-11
    assert abs(outward.apply(5.5 + 0j) - seat.right) < 1e-11
    assert abs(inward.apply(5.5 + 0j) - seat.left) < 1e-11
    assert abs(outward.apply(3j)) > abs(seat.middle) > abs(inward.apply(3j))


def test_a_foot_of_nothing_sits_on_the_edge_itself() -> None:
    edge = Edge(75, 50)
    seat = find_seat(edge, 0.0, 0.7)
    assert seat == point_seat(edge, 0.7)
    assert seat.middle == edge.point(0.7)
    assert seat.sagitta_mm == 0


def test_slope_at_the_foot_ends_of_a_circle_is_the_half_angle() -> None:
    assert find_seat(Edge(50, 50), 20, 1.0).slope_rad == pytest.approx(math.asin(0.2), abs=1e-12)


@pytest.mark.parametrize("edge", EDGES)
def test_the_widest_foot_is_told(edge: Edge) -> None:
    """On an oval 2L, the diameter that is parallel to the edge there; a hair less still finds its seat."""
    with pytest.raises(GeometryError, match="as wide as the edge") as caught:
        find_seat(edge, 1000.0, 0.9)
    widest = caught.value.numbers["widest_mm"]
    if not edge.offset_mm:
        assert widest == pytest.approx(2 * abs(edge.velocity(0.9)), abs=1e-9)
    assert find_seat(edge, widest * 0.9999, 0.9).sagitta_mm > 0
    with pytest.raises(GeometryError):
        find_seat(edge, widest * 1.0001, 0.9)


def test_a_seat_on_a_circle_by_hand() -> None:
    """A foot of 60 mm at the top of a circle of 100 mm: 40 mm up, 10 mm below the edge, its ends under asin(.6)."""
    seat = find_seat(Edge(50, 50), 60.0, 0.0)
    assert (seat.tau, seat.tangent) == (0.0, 1)
    assert (seat.middle, seat.left, seat.right) == pytest.approx((40j, -30 + 40j, 30 + 40j))
    assert (seat.sagitta_mm, seat.slope_rad) == pytest.approx((10.0, math.asin(0.6)))
    assert (seat.middle_rate, seat.turn_rate) == pytest.approx((40, -1))
    assert seat.end_ways == (1, 1)
    for point in (seat.left, 3 + 70j, 0j):
        assert seat.moved(point) == pytest.approx(-1j * point), "all turns clockwise about the middle"


def test_feet_are_apart_by_their_near_ends_and_overlap_below_0() -> None:
    edge = Edge(50, 50)
    first, far, near = (find_seat(edge, 60.0, tau) for tau in (0.0, 2.0, 0.5))
    half = math.asin(0.6)
    assert first.gap_to_mm(far) == pytest.approx(100 * math.sin(1.0 - half))
    assert first.gap_to_mm(near) == pytest.approx(-100 * math.sin(half - 0.25))


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("foot", [3.0, 25.0])
def test_the_edge_rises_over_the_foot_by_what_it_is_off_the_chord(edge: Edge, foot: float) -> None:
    seat = find_seat(edge, foot, 0.9)
    assert abs(seat.right - seat.left) == pytest.approx(foot, abs=1e-10)
    assert (seat.right - seat.left) / foot == pytest.approx(seat.tangent)
    assert seat.middle == pytest.approx((seat.left + seat.right) / 2)
    off = ((edge.point(0.9) - seat.middle).conjugate() * 1j * seat.tangent).real
    assert seat.sagitta_mm == pytest.approx(off, abs=1e-10)
    for end in (seat.left, seat.right):
        assert abs(edge.height_mm(end, 0.9)) < 1e-9, "both ends lie on the edge"
    slopes = [abs(cmath.phase(edge.tangent(edge.tau_towards(math.atan2(z.real, z.imag))) / seat.tangent))
              for z in (seat.left, seat.right)]  # fmt: skip
    assert seat.slope_rad == pytest.approx(max(slopes), abs=1e-9)


def test_a_foot_as_wide_as_the_edge_is_told() -> None:
    with pytest.raises(GeometryError) as caught:
        find_seat(Edge(50, 50), 100.0, 0.0)
    assert caught.value.say == "a foot of 100.00 mm is as wide as the edge, 100.00 mm there. Make it narrower."
    assert (caught.value.code, caught.value.numbers) == ("no-seat", {"foot_mm": 100.0, "widest_mm": 100.0})
    assert find_seat(Edge(50, 50), 99.9, 0.0).sagitta_mm > 45


def test_a_point_seat_lies_on_the_edge() -> None:
    seat = point_seat(Edge(50, 50), math.pi / 2)
    assert (seat.middle, seat.left, seat.right, seat.tangent) == pytest.approx((50, 50, 50, -1j))
    assert (seat.sagitta_mm, seat.slope_rad, seat.turn_rate) == (0, 0, pytest.approx(-1))
    assert seat.middle_rate == pytest.approx(-50j)
