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
from frameforge.frame.ring_step import gap_miss, gap_rates, ring_step, stretch_step
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
