"""How gaps change when repeats move, against differences of gaps; and Newton's step against its own equations."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from fixtures.plain_motifs import arch, drop, leaf, plain_rectangle, pod, scallop

from frameforge.frame import ring_step as module
from frameforge.frame.base import Edge
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import ready
from frameforge.frame.place import Track
from frameforge.frame.ring_step import gap_miss, gap_rates, ring_step, stretch_step, turn_of_end
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import stand

OVAL = Track(Edge(75, 50), 1, "foot", "base")
PAIRS = [(leaf(), leaf()), (arch(), drop()), (pod(), scallop()), (plain_rectangle(), arch())]


def gaps_at(taus: list[float], *motifs: object) -> tuple[list, list, list]:  # type: ignore[type-arg]
    readies = [ready(Ornament(m), 1.0, is_flipped=False) for m in motifs]  # type: ignore[arg-type]
    seats, standing = stand(OVAL, readies, taus)
    return seats, standing, neighbour_gaps(list(pairwise(standing)))


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: "-".join(m.name for m in pair))
@pytest.mark.parametrize("apart", [0.12, 0.45], ids=["overlapping", "apart"])
def test_rates_are_the_differences_of_gaps(pair: tuple[object, object], apart: float) -> None:
    """Central differences over 2e-5 rad, in which kinks of the gap (corners, changes of contact) do not fall here."""
    taus, step = [0.5, 0.5 + apart], 1e-5
    seats, standing, gaps = gaps_at(taus, *pair)
    assert (gaps[0].gap_mm < 0) == (apart < 0.2)
    own, other = gap_rates(seats, standing, gaps)
    for which, rate in enumerate((own[0], other[0])):
        moved = [gaps_at([t + side * step * (k == which) for k, t in enumerate(taus)], *pair)[2] for side in (1, -1)]
        difference = (moved[0][0].gap_mm - moved[1][0].gap_mm) / (2 * step)
        assert rate == pytest.approx(difference, rel=2e-4, abs=2e-3)


def _uneven(count: int) -> list[float]:
    places = [math.tau * k / count + 0.1 * math.sin(5 * k) / count for k in range(count)]
    return [*places, places[0] + math.tau]


@pytest.mark.parametrize("pin", [(0.05, False), (0.2, True)], ids=["motif", "gap"])
def test_a_step_is_the_same_as_a_whole_and_round_the_ring(
    pin: tuple[float, bool], monkeypatch: pytest.MonkeyPatch
) -> None:
    seats, standing, gaps = gaps_at(_uneven(9), *[leaf()] * 10)
    whole, miss = ring_step(seats, standing, gaps, pin)
    monkeypatch.setattr(module, "_DENSE", 3)
    around, _ = ring_step(seats, standing, gaps, pin)
    assert around == pytest.approx(whole, abs=1e-10)
    own, other = gap_rates(seats, standing, gaps)
    after = [g.gap_mm + a * d + b * e for g, a, b, d, e in zip(gaps, own, other, whole, [*whole[1:], whole[0]])]  # noqa: B905
    assert after == pytest.approx([after[0]] * 9, abs=1e-9)
    assert miss != 0
    if not pin[1]:
        assert whole[0] == pytest.approx(-miss, abs=1e-12)


def test_the_middle_of_a_gap_is_halfway_between_foot_ends_seen_from_the_middle() -> None:
    seats, _, _ = gaps_at([-0.3, 0.5], arch(), leaf())
    ends = [math.atan2(z.real, z.imag) for z in (seats[0].right, seats[1].left)]
    assert gap_miss(seats[0], seats[1], 0.0) == pytest.approx(sum(ends) / 2, abs=1e-14)
    assert gap_miss(seats[0], seats[1], sum(ends) / 2) == pytest.approx(0.0, abs=1e-14)


def test_a_stretch_keeps_its_ends() -> None:
    change = stretch_step(*gaps_at([0.2, 0.7, 1.4, 1.9], *[arch()] * 4))
    assert (abs(change[0]), abs(change[-1])) == pytest.approx((0, 0), abs=1e-14)
    assert abs(change[1]) > 1e-3


def test_rates_on_a_circle_by_hand() -> None:
    """Bars apart by D sin(turn/2 - asin(w/D)): the rate is R cos of the same, as one goes and as the other comes."""
    circle = Track(Edge(50, 50), 1, "foot", "base")
    readies = [ready(Ornament(plain_rectangle(10, 4)), 1.0, is_flipped=False)] * 2
    seats, standing = stand(circle, readies, [0.2, 1.0])
    own, other = gap_rates(seats, standing, neighbour_gaps(list(pairwise(standing))))
    rate = 50 * math.cos(0.4 - math.asin(0.1))
    assert (own[0], other[0]) == pytest.approx((-rate, rate))


def test_how_fast_a_foot_end_turns_round_the_middle() -> None:
    """On a circle as the place does; on an oval as differences tell."""
    circle = Track(Edge(50, 50), 1, "foot", "base")
    (seat,), _ = stand(circle, [ready(Ornament(plain_rectangle(10, 4)), 1.0, is_flipped=False)], [0.7])
    assert (turn_of_end(seat, "left"), turn_of_end(seat, "right")) == pytest.approx((1, 1))
    seats, _, _ = gaps_at([0.7, 0.7 + 1e-6], leaf(), leaf())
    for which, ends in (("left", [s.left for s in seats]), ("right", [s.right for s in seats])):
        turned = (math.atan2(ends[1].real, ends[1].imag) - math.atan2(ends[0].real, ends[0].imag)) / 1e-6
        assert turn_of_end(seats[0], which) == pytest.approx(turned, abs=1e-4)  # type: ignore[arg-type]


def test_a_stretch_of_a_circle_comes_to_even_places_in_one_step_from_near() -> None:
    """Three arches, the middle one a little off: it moves back by what it is off, and the ends stay."""
    circle = Track(Edge(50, 50), 1, "foot", "base")
    readies = [ready(Ornament(arch()), 1.0, is_flipped=False)] * 3
    seats, standing = stand(circle, readies, [0.0, 0.601, 1.2])
    change = stretch_step(seats, standing, neighbour_gaps(list(pairwise(standing))))
    assert change == pytest.approx([0.0, -0.001, 0.0], abs=1e-6)


def test_a_ring_pinned_at_a_motif_or_a_gap_turns_as_a_whole() -> None:
    """An even ring of 6 arches that begins .02 past where it should: all go back by that."""
    circle = Track(Edge(50, 50), 1, "foot", "base")
    readies = [ready(Ornament(arch()), 1.0, is_flipped=False)] * 7
    places = [0.02 + k * math.tau / 6 for k in range(7)]
    seats, standing = stand(circle, readies, places)
    gaps = neighbour_gaps(list(pairwise(standing)))
    for pin in ((0.0, False), (-math.pi / 6, True)):
        change, miss = ring_step(seats, standing, gaps, pin)
        assert change == pytest.approx([-0.02] * 6, abs=1e-9)
        assert miss == pytest.approx(0.02, abs=1e-9)


def test_a_ring_of_one_is_turned_by_the_gap_before_it() -> None:
    circle = Track(Edge(50, 50), 1, "foot", "base")
    readies = [ready(Ornament(arch()), 1.0, is_flipped=False)] * 2
    seats, standing = stand(circle, readies, [0.02, 0.02 + math.tau])
    change, miss = ring_step(seats, standing, neighbour_gaps(list(pairwise(standing))), (math.pi, True))
    assert (abs(change[0]), abs(miss)) == pytest.approx((0.02, 0.02), abs=1e-9)


def test_a_gap_between_two_in_one_place_has_no_rate() -> None:
    """They stand in each other whichever way they are moved apart: no way is told from another."""
    circle = Track(Edge(50, 50), 1, "foot", "base")
    readies = [ready(Ornament(plain_rectangle(10, 4)), 1.0, is_flipped=False)] * 2
    seats, standing = stand(circle, readies, [0.2, 0.2])
    own, other = gap_rates(seats, standing, neighbour_gaps(list(pairwise(standing))))
    assert (own.tolist(), other.tolist()) == ([0], [0])
