"""Equal gaps round a ring: symmetry, where the ring starts, overlap, and what is shared by all neighbours."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, plain_rectangle, pod

from frameforge.frame.base import Edge
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import neighbours, solve_ring, stand
from frameforge.frame.spec import Ornament
from frameforge.motif.motif import Motif

OVAL = Track(Edge(75, 50), 1, "foot", "base")
CIRCLE = Track(Edge(50, 50), 1, "foot", "base")


def ring_of(motif: Motif, count: int, *, flips: bool = False, lean_deg: float = 0.0) -> list[Ready]:
    return [ready(Ornament(motif, lean_deg=lean_deg), 1.0, is_flipped=flips and k % 2 == 1) for k in range(count)]


def gaps_of(track: Track, readies: list[Ready], taus: tuple[float, ...]) -> list[float]:
    _, standing = stand(track, readies, taus)
    return [gap.gap_mm for gap in neighbour_gaps(neighbours(standing))]


def test_every_one_has_the_next_as_its_neighbour_and_the_last_the_first() -> None:
    _, standing = stand(CIRCLE, ring_of(arch(), 3), (0.0, 2.0, 4.0))
    assert neighbours(standing) == [(standing[0], standing[1]), (standing[1], standing[2]), (standing[2], standing[0])]


@pytest.mark.parametrize("count", [2, 3, 7, 18])
def test_all_neighbours_on_an_oval_get_the_gap_that_is_told(count: int) -> None:
    readies = ring_of(arch(), count)
    answer = solve_ring(OVAL, readies, 0.4)
    assert answer.taus[0] == pytest.approx(0.4, abs=1e-12)
    assert gaps_of(OVAL, readies, answer.taus) == pytest.approx([answer.gap_mm] * count, abs=1e-9)
    assert answer.iterations < 20
    assert all(a < b for a, b in zip(answer.taus, answer.taus[1:], strict=False))


def test_on_a_circle_they_stand_at_equal_turns() -> None:
    answer = solve_ring(CIRCLE, ring_of(arch(), 9), 0.0)
    assert answer.taus == pytest.approx([k * math.tau / 9 for k in range(9)], abs=1e-11)


def test_a_ring_about_the_long_axis_is_symmetric() -> None:
    """Upright motifs on an upright oval, the first at the top: number k and number n - k mirror each other."""
    taus = solve_ring(OVAL, ring_of(arch(), 8), 0.0).taus
    assert [taus[k] + taus[8 - k] for k in (1, 2, 3)] == pytest.approx([math.tau] * 3, abs=1e-10)


def test_started_with_a_gap_the_feet_beside_it_are_symmetric() -> None:
    readies = ring_of(arch(), 8)
    taus = solve_ring(OVAL, readies, 0.0, starts_with_gap=True).taus
    assert taus[0] == pytest.approx(math.tau - taus[-1], abs=1e-10)
    assert taus[0] > 0.1


def test_too_many_share_one_overlap() -> None:
    """Bars of 20 mm, 22 of them round 150 x 100, stand in each other; the depth is shared as a gap would be."""
    readies = ring_of(plain_rectangle(20, 10), 22)
    answer = solve_ring(OVAL, readies, 0.0)
    assert answer.gap_mm < -0.5
    assert gaps_of(OVAL, readies, answer.taus) == pytest.approx([answer.gap_mm] * 22, abs=1e-9)


def test_mirrored_pairs_settle_though_their_steps_differ() -> None:
    readies = ring_of(pod(), 8, flips=True, lean_deg=15.0)
    answer = solve_ring(CIRCLE, readies, 0.0)
    assert gaps_of(CIRCLE, readies, answer.taus) == pytest.approx([answer.gap_mm] * 8, abs=1e-9)
    assert abs((answer.taus[1] - answer.taus[0]) - (answer.taus[2] - answer.taus[1])) > 1e-3
