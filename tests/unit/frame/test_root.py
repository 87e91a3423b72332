"""Roots: as deep as told, as wide as the foot, and on a concave edge never further than the floor that follows it."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle

from frameforge.frame.base import Edge
from frameforge.frame.root import following_root, rooted
from frameforge.frame.seat import find_seat
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.tolerances import ROOT_MM


def test_a_root_is_foot_times_depth() -> None:
    (region,) = rooted(arch(8.0), 0.3)
    assert area_mm2(region) == pytest.approx(32 * math.pi + 16 * 0.3, abs=1e-9)
    assert bounds(region).bottom == pytest.approx(-0.3, abs=1e-12)


def test_no_foot_or_no_depth_leaves_it_as_drawn() -> None:
    assert rooted(disc(4.0), 0.3) == disc(4.0).join
    assert rooted(plain_rectangle(), 0) == plain_rectangle().join


@pytest.mark.parametrize("edge", [Edge(35, 35), Edge(60, 40), Edge(60, 40, -5.0)])
@pytest.mark.parametrize("tau", [0.0, 0.8, 1.6])
def test_a_following_root_stays_within_its_depth(edge: Edge, tau: float) -> None:
    """It fills what lies between foot and edge, and goes into the card by the root's depth and no more."""
    seat = find_seat(edge, 16.0, tau)
    root = following_root(edge, seat)
    deepest = [abs(s.start) / abs(edge.point(edge.tau_towards(math.atan2(s.start.real, s.start.imag))))
               for s in root.outer.segments]  # fmt: skip
    floor = edge.parallel(ROOT_MM)
    assert max(deepest) > 1 + 1e-4
    for segment in root.outer.segments:
        z = segment.start
        limit = abs(floor.point(floor.tau_towards(math.atan2(z.real, z.imag))))
        assert abs(z) <= limit + 1e-9
    chord_to_edge = 2 / 3 * 16 * seat.sagitta_mm
    assert area_mm2(root) == pytest.approx(chord_to_edge + 16 * ROOT_MM, rel=0.05)
