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
