"""Equal gaps round a ring: symmetry, where the ring starts, overlap, and what is shared by all neighbours."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise

import numpy as np
import pytest
from fixtures.plain_motifs import arch, leaf, plain_rectangle, pod, scallop

from frameforge.errors import GeometryError
from frameforge.frame import ring
from frameforge.frame.base import Edge
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_ring, solve_stretch
from frameforge.frame.spacing import arc_from_top_mm, edge_length_mm
from frameforge.frame.spec import Ornament
from frameforge.frame.standing import neighbours, stand
from frameforge.frame.trying import trying
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


@pytest.mark.parametrize("track", [CIRCLE, OVAL], ids=["circle", "oval"])
def test_the_first_guess_shares_out_the_edge_by_half_widths_and_what_is_left_evenly(track: Track) -> None:
    """Bars of 16, 4 and 30 mm: 10, 17 and 23 mm from middle to middle, and a third of the rest each."""
    readies = [ready(Ornament(plain_rectangle(w, 4)), 1.0, is_flipped=False) for w in (16, 4, 30)]
    free = (edge_length_mm(track.edge) - 50) / 3
    taus = ring._first_guess(track, readies, 0.3, math.tau, starts_with_gap=False)
    arcs = [arc_from_top_mm(track.edge, float(tau)) for tau in taus]
    assert taus[0] == 0.3
    assert [b - a for a, b in pairwise(arcs)] == pytest.approx([10 + free, 17 + free], abs=0.01)
    gapped = ring._first_guess(track, readies, 0.3, math.tau, starts_with_gap=True)
    assert arc_from_top_mm(track.edge, float(gapped[0])) - arcs[0] == pytest.approx((23 + free) / 2, abs=0.02)
    if track is CIRCLE:
        part = ring._first_guess(track, readies, 0.3, math.pi, starts_with_gap=False)
        left = (50 * math.pi - 50) / 3
        assert np.diff(part) * 50 == pytest.approx([10 + left, 17 + left], abs=0.01)


def test_where_there_is_no_room_the_first_guess_shares_out_what_there_is() -> None:
    readies = [ready(Ornament(plain_rectangle(w, 4)), 1.0, is_flipped=False) for w in (100, 100, 100, 100, 50)]
    taus = ring._first_guess(CIRCLE, readies, 0.0, math.tau, starts_with_gap=False)
    assert np.diff(taus) == pytest.approx([math.tau * share / 450 for share in (100, 100, 100, 75)], abs=1e-9)


@pytest.mark.parametrize(
    ("before", "spread", "is_best"),
    [(1.0, RING_MM * 0.9, False), (RING_MM, RING_MM, True), (RING_MM, RING_MM * 1.1, False),
     (RING_MM, RING_MM * 0.51, True), (RING_MM, RING_MM * 0.5, False), (RING_MM, RING_MM * 0.4, False)],
)  # fmt: skip
def test_gaps_are_at_their_best_when_equal_enough_and_no_longer_halved(
    before: float, spread: float, *, is_best: bool
) -> None:
    assert ring._is_at_its_best(before, spread) is is_best


def test_a_step_leaves_two_fifths_of_every_distance() -> None:
    """Also of the last one, back to the first a turn on."""
    places = np.array([0.0, 1.0, 3.0])
    limit = ring._step_limit
    assert limit(places, np.array([0.0, -0.6, 0.0]), None) == 1
    assert limit(places, np.array([0.0, -1.2, 0.0]), None) == pytest.approx(0.5)
    assert limit(places, np.array([0.3, -0.9, -2.0]), None) == pytest.approx(0.5)
    assert limit(places, np.array([0.0, 0.0, 2.4]), None) == 1
    assert limit(places, np.array([0.0, 0.0, 2.4]), 5.0) == pytest.approx(0.5)
    assert limit(places, np.array([0.0, 0.0, -1.0]), 5.0) == 1
    assert limit(places, np.array([5.0, 5.0, 5.0]), 5.0) == 1
    assert limit(np.array([0.0, 0.0]), np.array([0.0, 0.0]), None) == 1


@pytest.mark.parametrize(("count", "is_gap"), [(4, False), (5, False), (4, True), (5, True)])
def test_a_ring_that_is_nearly_its_own_mirror_image_becomes_it(count: int, *, is_gap: bool) -> None:
    start, half = 0.3, is_gap * math.pi / count
    exact = [start + half + k * math.tau / count for k in range(count)]
    noise = [1e-14 * (-1) ** k * (k + 1) for k in range(count)]
    taus = ring._tidied(tuple(a + b for a, b in zip(exact, noise, strict=True)), start, math.tau, is_gap)
    turns = [(tau - start + math.pi) % math.tau - math.pi for tau in taus]
    mirrored = [turns[(-k - is_gap) % count] for k in range(count)]
    assert [-turn for turn in turns if abs(turn) < 3] == pytest.approx(
        [other for turn, other in zip(turns, mirrored, strict=True) if abs(turn) < 3], abs=4e-15
    )
    assert taus == pytest.approx(exact, abs=1e-13)


def test_a_ring_askew_keeps_its_places() -> None:
    askew = (0.3, 1.9, 3.5, 5.0)
    assert ring._tidied(askew, 0.3, math.tau, False) == askew
    # Its own mirror image about the start alone: across it is not.
    kite = (0.0, 1.0, math.pi, math.tau - 1.0)
    assert ring._tidied(kite, 0.0, math.tau, False) == pytest.approx(kite, abs=1e-15)


def newton(spreads: list[float], miss: float = 0.0) -> tuple[ring.RingAnswer | None, int]:
    """Return what comes of gaps that are so unequal from step to step, the last for ever, and how many were taken."""
    taken: list[float] = []

    def step(places: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
        taken.append(float(places[0]))
        spread = spreads[min(len(taken), len(spreads)) - 1]
        return np.array([2.0, 2.0 + spread]), np.array([0.125, 0.125]), miss

    return ring._newton(np.array([0.0, 1.0]), step, None), len(taken)


def test_newton_ends_where_gaps_are_equal_and_tells_the_least_and_its_steps() -> None:
    answer, steps = newton([1.0, 1e-3, 1e-12])
    assert steps == 3
    assert answer == ring.RingAnswer((0.25, 1.25), 2.0, 2)
    assert newton([1e-12])[0] == ring.RingAnswer((0.0, 1.0), 2.0, 0)


def test_newton_goes_on_while_its_start_is_missed() -> None:
    assert newton([1e-12], miss=1e-6) == (None, 13)
    assert newton([1e-12], miss=-1e-6) == (None, 13)


def test_newton_takes_gaps_that_become_no_more_equal_when_they_are_equal_enough() -> None:
    answer, steps = newton([1.0, RING_MM / 2, RING_MM / 2])
    assert answer is not None
    assert (answer.iterations, steps) == (2, 3)


def test_newton_gives_up_where_twelve_steps_do_not_halve_what_is_left_and_sooner_while_trying() -> None:
    assert newton([1.0]) == (None, 13)
    assert newton([1.0] * 6 + [0.49] * 100) == (None, 19)
    with trying():
        assert newton([1.0]) == (None, 7)


def test_newton_never_takes_more_than_forty_steps() -> None:
    assert newton([0.9**k for k in range(100)]) == (None, 40)


def test_newton_ends_where_there_is_no_seat_or_no_solution() -> None:
    for fault in (GeometryError("no seat."), np.linalg.LinAlgError()):

        def step(_: np.ndarray, fault: Exception = fault) -> tuple[np.ndarray, np.ndarray, float]:
            raise fault

        assert ring._newton(np.array([0.0, 1.0]), step, None) is None


def test_where_nothing_closes_it_is_said_and_shooting_is_left_out_while_trying() -> None:
    shots: list[int] = []

    def step(_: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
        return np.array([1.0, 2.0]), np.zeros(2), 0.0

    def shoot(_: np.ndarray) -> None:
        shots.append(1)

    places = np.array([0.0, 1.0])
    with pytest.raises(GeometryError) as caught:
        ring._settled(places, step, shoot, None)
    assert caught.value.say == (f"the gaps of 2 motifs could not be made equal to {RING_MM:g} mm.")
    assert (caught.value.code, caught.value.numbers) == ("no-equal-gap", {"count": 2})
    with trying(), pytest.raises(GeometryError):
        ring._settled(places, step, shoot, None)
    assert shots == [1]
    with pytest.raises(GeometryError):
        ring._settled(places, step, lambda found: found, None)


@pytest.mark.parametrize(("spread", "miss", "closes"), [(0.9, 0.0, True), (1.1, 0.0, False), (0.9, 1.0, False)])
def test_what_shooting_finds_counts_where_its_gaps_are_equal_enough(
    spread: float, miss: float, *, closes: bool
) -> None:
    """Newton makes no more of it here."""

    def step(places: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
        if places[0] == 0:
            return np.array([1.0, 2.0]), np.zeros(2), 0.0
        return np.array([3.0 + spread * RING_MM, 3.0]), np.array([1.0, 2.0]), miss if places[0] == 7 else 9.0

    def settled() -> ring.RingAnswer:
        return ring._settled(np.array([0.0, 1.0]), step, lambda _: np.array([7.0, 8.0]), None)

    if closes:
        assert settled() == ring.RingAnswer((7.0, 8.0), 3.0, 40)
    else:
        with pytest.raises(GeometryError):
            settled()


def test_where_all_stand_deep_in_each_other_no_shot_is_fired() -> None:
    shots: list[int] = []

    def shoot(_: np.ndarray) -> None:
        shots.append(1)

    for gaps, fired in (([-1.5, -3.0], 0), ([-0.5, -3.0], 1)):

        def step(_: np.ndarray, gaps: list[float] = gaps) -> tuple[np.ndarray, np.ndarray, float]:
            return np.array(gaps), np.zeros(2), 0.0

        with pytest.raises(GeometryError, match="could not be made equal"):
            ring._settled(np.array([0.0, 1.0]), step, shoot, None)
        assert len(shots) == fired


def test_on_a_circle_the_first_guess_is_exact_and_hair_lines_count_for_a_fifth_of_a_millimetre() -> None:
    """A line .1 mm wide and two bars of 10 mm: 5.1, 10 and 5.1 mm from middle to middle, and a third of the rest."""
    readies = [ready(Ornament(plain_rectangle(w, 4)), 1.0, is_flipped=False) for w in (0.1, 10, 10)]
    free = (100 * math.pi - 20.2) / 3
    taus = ring._first_guess(CIRCLE, readies, 0.3, math.tau, starts_with_gap=False)
    assert (taus - 0.3) * 50 == pytest.approx([0, 5.1 + free, 15.1 + 2 * free], abs=1e-9)


def test_on_a_circle_many_alike_begin_with_half_a_step_where_a_gap_is_at_the_start() -> None:
    readies = [ready(Ornament(plain_rectangle(0.1, 4)), 1.0, is_flipped=False)] * 200
    taus = ring._first_guess(CIRCLE, readies, 0.3, math.tau, starts_with_gap=True)
    assert taus == pytest.approx([0.3 + (k + 0.5) * math.tau / 200 for k in range(200)], abs=1e-12)
