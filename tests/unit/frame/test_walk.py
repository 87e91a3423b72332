"""Lengths along edges, there and back, against quadrature and against the one-by-one road; published divisions."""

from __future__ import annotations

import csv
import math
import os
from pathlib import Path

import numpy as np
import pytest

from frameforge.frame.base import Edge
from frameforge.frame.spacing import arc_from_top_mm, edge_length_mm
from frameforge.frame.walk import walk_along

EDGES = [
    Edge(50, 50), Edge(75, 50), Edge(50, 75), Edge(120, 40), Edge(75, 50, 20), Edge(75, 50, -12), Edge(75, 50, -33),
    Edge(50, 50 * (1 + 1e-9)), Edge(120, 10),
]  # fmt: skip
DIVISIONS = Path(os.environ.get("FRAMEFORGE_OUTSIDE_DATA", "outside-data")) / "ellipse_division.csv"


@pytest.mark.parametrize("edge", EDGES)
def test_walking_there_and_back(edge: Edge) -> None:
    """Second road: Carlson's integrals, one by one."""
    walk = walk_along(edge)
    taus = np.random.default_rng(20261126).uniform(-8, 8, 200)
    walked = np.array([arc_from_top_mm(edge, tau) for tau in taus.tolist()])
    off = np.abs(walk.tau(walked) - taus) * [edge.speed(tau) for tau in taus.tolist()]
    assert off.max() <= 1.5e-15 * walk.length_mm
    assert walk.walked_mm(taus) == pytest.approx(walked, abs=1e-12)
    assert walk.length_mm == edge_length_mm(edge)


@pytest.mark.parametrize("edge", EDGES[:6])
def test_places_are_those_of_the_edge(edge: Edge) -> None:
    walk = walk_along(edge)
    walked = np.linspace(-1.3, 1.3, 23) * walk.length_mm
    spot, taus = walk.spot(walked), walk.tau(walked).tolist()
    assert np.abs(spot.point - [edge.point(tau) for tau in taus]).max() < 1e-12
    assert np.abs(spot.tangent - [edge.tangent(tau) for tau in taus]).max() < 1e-14
    assert spot.curvature == pytest.approx([edge.curvature(tau) for tau in taus], rel=1e-12)
    step = 1e-4 * walk.length_mm
    slope = (walk.spot(walked + step).curvature - walk.spot(walked - step).curvature) / (2 * step)
    assert spot.curvature_rate == pytest.approx(slope, abs=1e-4 * float(np.abs(slope).max()) + 1e-12)


def test_both_ways_from_the_top_are_alike_to_the_bit() -> None:
    walk = walk_along(Edge(75, 50))
    walked = np.linspace(0, 190, 31)
    assert (walk.tau(-walked) == -walk.tau(walked)).all()


def test_walks_are_kept() -> None:
    assert walk_along(Edge(75, 50)) is walk_along(Edge(75.0, 50.0))


@pytest.mark.skipif(not DIVISIONS.exists(), reason="the table of divided ellipses is not here")
def test_equal_lengths_lead_to_the_divisions_of_the_table() -> None:
    """ellipse_division.csv (mpmath, 12 decimals) counts t counter-clockwise from +x; with axes swapped that is tau."""
    with DIVISIONS.open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["kind"] == "equal_arc"]
    assert len(rows) > 20
    for row in rows:
        walk = walk_along(Edge(float(row["semi_b"]), float(row["semi_a"])))
        tau = walk.tau(np.array([walk.length_mm * int(row["k"]) / int(row["n"])]))[0]
        assert math.isclose(tau, float(row["t_param_rad"]), rel_tol=0, abs_tol=5e-13)
