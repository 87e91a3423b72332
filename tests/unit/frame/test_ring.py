"""Equal gaps round a ring: symmetry, where the ring starts, overlap, and what is shared by all neighbours."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from fixtures.plain_motifs import arch, leaf, plain_rectangle, pod, scallop

from frameforge.frame import ring
from frameforge.frame.base import Edge
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring, solve_stretch
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import neighbours, stand
from frameforge.motif.motif import Motif
from frameforge.tolerances import RING_MM

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


@pytest.mark.parametrize("count", [5, 8, 14])
@pytest.mark.parametrize("start", [0.0, math.pi / 2])
@pytest.mark.parametrize("is_gap", [False, True])
def test_a_ring_about_an_axis_of_its_oval_is_symmetric(count: int, start: float, *, is_gap: bool) -> None:
    """Upright motifs on an upright oval: about the start number k and number n - k mirror each other, to 1e-12 mm."""
    readies = ring_of(leaf(), count)
    taus = solve_ring(OVAL, readies, start, starts_with_gap=is_gap).taus
    turned = [cmath.rect(1, start) * seat.middle for seat in stand(OVAL, readies, taus)[0]]
    mirrored = [turned[(-k - is_gap) % count] for k in range(count)]
    assert [-z.conjugate() for z in mirrored] == pytest.approx(turned, abs=1e-12)
    if count % 2 == 0:
        crossed = [turned[(count // 2 - k - is_gap) % count] for k in range(count)]
        assert [z.conjugate() for z in crossed] == pytest.approx(turned, abs=1e-12)


def test_started_with_a_gap_its_middle_is_seen_at_the_start() -> None:
    """On an oval, askew: half-way by angle between the foot ends beside the gap."""
    readies = ring_of(arch(), 7)
    seats, _ = stand(OVAL, readies, solve_ring(OVAL, readies, 0.6, starts_with_gap=True).taus)
    ends = [math.atan2(z.real, z.imag) for z in (seats[-1].right, seats[0].left)]
    assert sum(ends) / 2 == pytest.approx(OVAL.edge.direction_rad(0.6), abs=1e-12)
    assert ends[0] < ends[1]


def test_a_part_of_a_ring_on_a_circle_goes_on_as_the_whole() -> None:
    pair = [*ring_of(pod(), 1), *ring_of(arch(), 1)]
    whole = solve_ring(CIRCLE, pair * 5, 0.3)
    part = solve_ring(CIRCLE, pair, 0.3, turn_rad=math.tau / 5)
    assert part.gap_mm == pytest.approx(whole.gap_mm, abs=1e-10)
    assert part.taus == pytest.approx(whole.taus[:2], abs=1e-12)


def test_where_newton_goes_in_circles_shooting_settles(monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = solve_ring(OVAL, ring_of(pod(), 6), 0.2)
    monkeypatch.setattr(ring, "_ITERATIONS", 0)
    found = solve_ring(OVAL, ring_of(pod(), 6), 0.2)
    assert found.taus == pytest.approx(wanted.taus, abs=1e-12)
    assert found.gap_mm == pytest.approx(wanted.gap_mm, abs=1e-9)
    fixed = solve_stretch(OVAL, ring_of(pod(), 4), (0.0, 0.8, 2.0, 3.0))
    assert gaps_of(OVAL, ring_of(pod(), 4), fixed.taus)[:3] == pytest.approx([fixed.gap_mm] * 3, abs=1e-9)


def test_rings_that_newton_alone_left_open() -> None:
    """Kept from random trials: the line of overlapping seats turns, and a gap at the start is seen askew."""
    thin = Track(Edge(33.909540668602176, 12.228141318638617), 1, "foot", "base")
    answer = solve_ring(thin, ring_of(scallop(), 15), 5.968)
    assert answer.iterations < 12
    askew = Track(Edge(54.66882804319404, 20.62475558965357), 1, "foot", "base")
    assert solve_ring(askew, ring_of(pod(), 10), 1.543, starts_with_gap=True).iterations < 12


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


def test_a_start_far_from_even_settles_to_the_same_places() -> None:
    """All but the last stand crowded at the beginning: a whole step would push them past each other."""
    found = solve_stretch(CIRCLE, ring_of(leaf(), 6), (0.0, 0.15, 0.3, 0.45, 0.6, 3.0))
    assert found.taus == pytest.approx([0.6 * k for k in range(6)], abs=1e-9)
    crowded = solve_stretch(OVAL, ring_of(pod(), 5), (0.2, 2.9, 3.0, 3.1, 3.2))
    even = solve_stretch(OVAL, ring_of(pod(), 5), (0.2, 0.95, 1.7, 2.45, 3.2))
    assert crowded.taus == pytest.approx(even.taus, abs=1e-8)


def test_gaps_that_rounding_holds_off_half_a_metre_from_the_middle_are_equal_and_none_is_looked_for_by_shooting(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """There the seats themselves are known to about 1e-11 mm: no more can be asked of the gaps."""

    def shot(*_: object) -> None:
        raise AssertionError("shot")

    monkeypatch.setattr(ring, "shoot_ring", shot)
    track = Track(Edge(533.4, 480.06).parallel(-8.7), 1, "foot", "base")
    readies = [ready(Ornament(m), 1.0, is_flipped=False) for _ in range(30) for m in (leaf(), arch(), pod())]
    answer = solve_ring(track, readies, 0.0)
    assert gaps_of(track, readies, answer.taus) == pytest.approx([answer.gap_mm] * len(readies), abs=RING_MM)
    assert answer.iterations < 10


def test_repeats_that_stand_in_one_place_are_moved_no_nearer() -> None:
    places = np.array([0.0, 1.0, 1.0, 2.0])
    assert ring._step_limit(places, np.array([0.0, 0.1, -0.1, 0.0]), None) == 0
    assert ring._step_limit(places, np.array([0.0, -0.1, 0.1, 0.0]), None) == 1
