"""Stepping and shooting comes to the places that Newton comes to, and says so where no gap closes a ring."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.plain_motifs import arch, drop, leaf, plain_rectangle, pod

from frameforge.frame.base import Edge
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring, solve_stretch
from frameforge.frame.shooting import shoot_ring, shoot_stretch
from frameforge.frame.spec import Ornament
from frameforge.motif.motif import Motif

OVAL = Track(Edge(75, 50), 1, "foot", "base")


def of(*motifs: Motif, flips: bool = False) -> list[Ready]:
    return [ready(Ornament(m), 1.0, is_flipped=flips and k % 2 == 1) for k, m in enumerate(motifs)]


def even(count: int, start: float = 0.0) -> np.ndarray:
    return start + math.tau * np.arange(count) / count


@pytest.mark.parametrize(
    "readies",
    [of(*[leaf()] * 9), of(drop(), arch(), drop(), arch(), leaf(), pod()), of(*[pod()] * 6, flips=True)],
    ids=["leaf", "mixed", "mirrored pods"],
)
@pytest.mark.parametrize("start", [0.0, 0.7])
def test_both_roads_come_to_the_same_places(readies: list[Ready], start: float) -> None:
    wanted = solve_ring(OVAL, readies, start).taus
    found = shoot_ring(OVAL, readies, even(len(readies), start), math.tau, None)
    assert found is not None
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_both_roads_agree_where_a_gap_is_at_the_start() -> None:
    readies = of(arch(), leaf(), pod())
    wanted = solve_ring(OVAL, readies, 0.4, starts_with_gap=True).taus
    at = OVAL.edge.direction_rad(0.4) + math.tau
    found = shoot_ring(OVAL, readies, even(3, 1.2), math.tau, at)
    assert found is not None
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_both_roads_agree_on_a_stretch() -> None:
    readies = of(arch(), leaf(), pod(), arch())
    wanted = solve_stretch(OVAL, readies, (0.3, 1.4, 2.4, 3.6)).taus
    found = shoot_stretch(OVAL, readies, np.array([0.3, 1.4, 2.4, 3.6]))
    assert found is not None
    assert (found[0], found[-1]) == (0.3, 3.6)
    assert float(np.abs(found - wanted).max()) <= 1e-12


def test_no_gap_closes_what_finds_no_seat() -> None:
    """A foot of 20 has no seat at the ends of an oval that is 12 high; 8 of them cannot all keep to its sides."""
    thin = Track(Edge(75, 6), 1, "foot", "base")
    assert shoot_ring(thin, of(*[plain_rectangle(20, 5)] * 8), even(8), math.tau, None) is None
