"""Rings of any oval, pattern and start that leave room between their motifs: all solved, all gaps equal."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop

from frameforge.frame.base import Edge
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import stand
from frameforge.motif.motif import Motif

MOTIFS = [arch(), drop(), husk(), leaf(), pod(), scallop(), plain_rectangle(6.0, 9.0), plain_rectangle(20.0, 14.0)]


def ring_case(seed: int) -> tuple[Track, list[Ready], float, bool]:
    """Return a track, motifs whose widths make up .2 to 1 of its edge, a start, and whether a gap sits there."""
    chance = random.Random(seed)
    width = chance.uniform(60, 240)
    edge = Edge(width / 2, width / 2 / chance.uniform(1, 3))
    pattern = [chance.choice(MOTIFS) for _ in range(chance.choice([1, 1, 1, 2, 3, 5]))]
    flips = chance.random() < 0.3
    readies = [ready(Ornament(motif), 1.0, is_flipped=False) for motif in pattern]
    mean = sum(max(r.box.width_mm, r.foot_mm) for r in readies) / len(readies)
    unit = math.lcm(len(pattern), 2) if flips else len(pattern)
    count = int(edge_length_mm(edge) / mean * chance.uniform(0.2, 1.0)) // unit * unit or unit
    count = 3 * unit if count < 3 else count
    row = [ready(Ornament(pattern[k % len(pattern)]), 1.0, is_flipped=flips and k % 2 == 1) for k in range(count)]
    start = chance.uniform(0, math.tau) if chance.random() < 0.5 else 0.0
    return Track(edge, 1, "foot", "base"), row, start, chance.random() < 0.3


def check_ring(seed: int) -> None:
    track, row, start, is_gap = ring_case(seed)
    answer = solve_ring(track, row, start, starts_with_gap=is_gap)
    taus = [*answer.taus, answer.taus[0] + math.tau]
    assert all(a < b for a, b in pairwise(taus))
    _, standing = stand(track, [*row, row[0]], taus)
    gaps = [gap.gap_mm for gap in neighbour_gaps(list(pairwise(standing)))]
    assert max(gaps) - min(gaps) <= 1e-9
    assert min(gaps) == pytest.approx(answer.gap_mm, abs=1e-9)
    if not is_gap:
        assert taus[0] == pytest.approx(start, abs=1e-12)


@pytest.mark.parametrize("seed", range(25))
def test_rings_are_solved(seed: int) -> None:
    check_ring(seed)


@pytest.mark.slow
def test_many_more_rings_are_solved() -> None:
    for seed in range(25, 325):
        check_ring(seed)


@pytest.mark.parametrize("motif", [husk(), drop(), scallop(6.0, 3.4)], ids=lambda motif: motif.name)
def test_twenty_four_on_narrow_ovals_are_solved(motif: Motif) -> None:
    for width in (92.0, 97.3, 100.0, 104.9):
        track = Track(Edge(width / 2, width / 2 * 0.42), 1, "foot", "base")
        row = [ready(Ornament(motif), 1.0, is_flipped=False)] * 24
        answer = solve_ring(track, row, 0.3)
        seats, _ = stand(track, row, answer.taus)
        assert all(a.gap_to_mm(b) > answer.gap_mm - 1e-9 for a, b in pairwise(seats))
