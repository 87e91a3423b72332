"""Edges: points, directions and curvature, against differences and against circles."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.frame.base import Edge
from frameforge.frame.spec import Size
from frameforge.geometry.measure import area_mm2

EDGES = [Edge(50, 50), Edge(75, 50), Edge(40, 90), Edge(75, 50, -12), Edge(75, 50, 7)]
TAUS = [0.0, 0.3, 1.4, math.pi / 2, 2.9, 4.4, 6.0]


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("tau", TAUS)
def test_velocity_and_turn_agree_with_differences(edge: Edge, tau: float) -> None:
    h = 1e-5
    ahead, behind = edge.point(tau + h), edge.point(tau - h)
    assert abs((ahead - behind) / (2 * h) - edge.velocity(tau)) < 1e-6
    turned = cmath.phase(edge.tangent(tau + h) / edge.tangent(tau - h)) / (2 * h)
    assert abs(turned - edge.turn_rate(tau)) < 1e-6
    assert abs(edge.curvature(tau) * edge.speed(tau) + edge.turn_rate(tau)) < 1e-12


def test_tau_runs_clockwise_from_the_top() -> None:
    edge = Edge(75, 50)
    assert edge.point(0) == 50j
    assert abs(edge.point(math.pi / 2) - 75) < 1e-12
    assert edge.tangent(0) == 1
    assert edge.normal(0) == 1j


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("tau", [*TAUS, -3.0, 9.0])
def test_directions_and_places_invert_each_other(edge: Edge, tau: float) -> None:
    assert abs(edge.tau_towards(edge.direction_rad(tau)) - tau) < 1e-12


def test_parallels_stay_at_their_distance() -> None:
    edge, inner = Edge(75, 50), Edge(75, 50).parallel(-12)
    assert all(abs(abs(edge.point(t) - inner.point(t)) - 12) < 1e-12 for t in TAUS)
    assert Edge(50, 50).parallel(-8) == Edge(42, 42)
    assert inner.least_radius_mm == pytest.approx(2500 / 75 - 12)


def test_a_parallel_past_the_tightest_curve_is_refused() -> None:
    """b^2/a of 150 x 100 is 33.333 mm."""
    Edge(75, 50).parallel(-33.3)
    with pytest.raises(ValueError, match="must be above"):
        Edge(75, 50).parallel(-33.34)


def test_sizes_and_discs() -> None:
    edge = Edge.from_size(Size(150, 100))
    assert edge.size == Size(150, 100)
    assert area_mm2(edge.region()) == pytest.approx(math.pi * 75 * 50, abs=1e-9)


@pytest.mark.parametrize(("a", "b"), [(0, 5), (5, -1), (math.nan, 5), (math.inf, 5)])
def test_impossible_axes_are_refused(a: float, b: float) -> None:
    with pytest.raises(ValueError, match="half-axes"):
        Edge(a, b)


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("height", [-9.0, 0.0, 6.0, 25.0])
def test_the_foot_of_a_normal_is_found_from_nearby(edge: Edge, height: float) -> None:
    for tau in TAUS:
        point = edge.point(tau) + height * edge.normal(tau)
        for start in (tau - 0.2, tau, tau + 0.2):
            assert edge.foot_tau(point, start) == pytest.approx(tau, abs=1e-9)
            assert edge.height_mm(point, start) == pytest.approx(height, abs=1e-9)
