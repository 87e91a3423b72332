"""Distances from edges of card: by closed form on circles and axes, by many samples anywhere else."""

from __future__ import annotations

import math

import numpy as np
import pytest

from frameforge.frame.base import Edge
from frameforge.frame.edge_distance import is_within, point_distance_mm

OVAL = Edge(60, 40)


@pytest.mark.parametrize("turn", [0.0, 1.0, 2.5, 4.0])
def test_on_a_circle_it_is_the_radius_less_what_the_point_lies_out(turn: float) -> None:
    for out in (0.5, 20.0, 49.0, 50.0, 61.0):
        point = out * complex(math.sin(turn), math.cos(turn))
        assert point_distance_mm(point, Edge(50, 50)) == pytest.approx(abs(50 - out), abs=1e-9)


@pytest.mark.parametrize(
    ("point", "wanted"),
    [(0j, 40.0), (10j, 30.0), (-45j, 5.0), (50 + 0j, 10.0), (-70 + 0j, 10.0), (55j, 15.0)],
)
def test_on_the_axes_of_an_oval(point: complex, wanted: float) -> None:
    """The ends of the long axis are nearest only to points within b^2 / a = 26.7 mm of them."""
    assert point_distance_mm(point, OVAL) == pytest.approx(wanted, abs=1e-9)


def test_deep_in_an_oval_the_sides_are_nearer_than_the_ends() -> None:
    """From (x, 0), |x| < (a^2 - b^2) / a = 33.3: b sqrt(1 - x^2 / (a^2 - b^2)), at both sides alike."""
    for x in (5.0, 20.0, -30.0):
        wanted = 40 * math.sqrt(1 - x * x / (3600 - 1600))
        assert point_distance_mm(complex(x, 0), OVAL) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize("edge", [OVAL, Edge(25, 70), Edge(60, 40, -6), Edge(60, 40, 5)])
def test_anywhere_it_is_the_least_of_many_samples(edge: Edge) -> None:
    ring = np.array([edge.point(float(tau)) for tau in np.linspace(0, math.tau, 4001)])
    chance = np.random.default_rng(20261127)
    for x, y in chance.uniform(-80, 80, (25, 2)):
        point = complex(x, y)
        assert point_distance_mm(point, edge) == pytest.approx(float(np.abs(ring - point).min()), abs=2e-2)


def test_within_is_seen_from_the_middle() -> None:
    assert is_within(0j, OVAL)
    assert is_within(59.99 + 0j, OVAL)
    assert not is_within(60.01 + 0j, OVAL)
    assert is_within(-39.99j, OVAL)
    assert not is_within(-40.01j, OVAL)
    assert not is_within(59 + 20j, OVAL)
    assert is_within(40 + 20j, OVAL)
    assert not is_within(50 + 0j, Edge(50, 50)), "on the edge is not within"


def test_of_two_sides_nearly_as_near_the_nearer_is_found() -> None:
    """Beside the long axis of a narrow oval, against 200,000 samples."""
    long = Edge(100, 20)
    for y in (-3.0, -0.5, 0.5, 3.0):
        taus = np.linspace(0, math.tau, 200_001)
        ring = 100 * np.sin(taus) + 20j * np.cos(taus)
        for x in (0.0, 40.0, -70.0):
            point = complex(x, y)
            assert point_distance_mm(point, long) == pytest.approx(float(np.abs(ring - point).min()), abs=1e-6)
