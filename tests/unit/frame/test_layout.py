"""Rows laid out: which rule is followed, how a row starts with a gap, and what is measured where motifs are missing."""

from __future__ import annotations

import math
from typing import get_args

import pytest
from fixtures.plain_motifs import arch, disc, husk, plain_rectangle, pod

from frameforge.frame.base import Edge
from frameforge.frame.layout import Start, lay_out, measured, one_turn
from frameforge.frame.ornament import ready
from frameforge.frame.place import Track
from frameforge.frame.spacing import arc_steps_mm
from frameforge.frame.spec import Ornament, Spread

CIRCLE = Track(Edge(50, 50), 1, "foot", "base")
OVAL = Track(Edge(75, 50), 1, "foot", "base")
ARCH = ready(Ornament(arch()), 1.0, is_flipped=False)
POD = ready(Ornament(pod(), lean_deg=15.0), 1.0, is_flipped=False)
TURNED_POD = ready(Ornament(pod(), lean_deg=15.0), 1.0, is_flipped=True)


def test_a_single_motif_stands_where_the_row_starts() -> None:
    (tau,) = lay_out(OVAL, [ARCH], Start(1.0), "equal-gap")
    point = OVAL.edge.point(tau)
    assert math.atan2(point.real, point.imag) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("spread", get_args(Spread))
def test_one_kind_on_a_circle_is_equal_turns_by_every_rule(spread: Spread) -> None:
    taus = lay_out(CIRCLE, [ARCH] * 5, Start(0.2), spread)
    assert taus == pytest.approx([0.2 + k * math.tau / 5 for k in range(5)], abs=1e-12)


def test_a_mirrored_pattern_on_a_circle_is_even_only_if_asked() -> None:
    row = [POD, TURNED_POD] * 4
    even = lay_out(CIRCLE, row, Start(), "equal-arc")
    assert even == pytest.approx([k * math.tau / 8 for k in range(8)], abs=1e-12)
    by_gap = lay_out(CIRCLE, row, Start(), "equal-gap")
    assert max(abs(a - b) for a, b in zip(even, by_gap, strict=True)) > 1e-3


@pytest.mark.parametrize("spread", get_args(Spread))
@pytest.mark.parametrize("track", [CIRCLE, OVAL], ids=["circle", "oval"])
def test_a_row_may_start_with_a_gap(track: Track, spread: Spread) -> None:
    taus = lay_out(track, [ARCH] * 6, Start(0.0, is_gap=True), spread)
    assert (taus[0] + taus[-1] - math.tau) / 2 == pytest.approx(0.0, abs=1e-10)
    assert taus[0] > 0.2


def test_equal_arc_on_an_oval_has_equal_arcs() -> None:
    steps = arc_steps_mm(OVAL.edge, lay_out(OVAL, [ARCH] * 7, Start(0.3), "equal-arc"))
    assert steps == pytest.approx([sum(steps) / 7] * 7, abs=1e-9)


def test_gaps_beside_a_missing_motif_are_not_measured() -> None:
    taus = tuple(k * math.tau / 6 for k in range(6))
    layout = measured(CIRCLE, [ARCH] * 6, taus, (True, True, False, True, True, True), None)
    assert [gap is None for gap in layout.gaps] == [False, True, True, False, False, False]
    assert [gap is None for gap in layout.foot_gaps] == [False, True, True, False, False, False]


def test_a_single_motif_has_no_gaps() -> None:
    layout = measured(CIRCLE, [ARCH], (0.0,), (True,), None)
    assert (layout.gap_mm, layout.gap_max_mm, layout.foot_gap_mm) == (None, None, None)


def test_feet_that_overlap_have_a_gap_below_0() -> None:
    bar = ready(Ornament(plain_rectangle(20, 5)), 1.0, is_flipped=False)
    layout = measured(CIRCLE, [bar, bar], (0.0, 0.2), (True, True), None)
    assert layout.foot_gap_mm is not None
    assert layout.foot_gap_mm < -5
    assert layout.foot_gaps[1] is not None
    assert layout.foot_gaps[1] > 0


def test_motifs_seated_by_their_middle_have_no_foot_gap() -> None:
    ring = Track(Edge(40, 40), 1, "middle", "none")
    coin = ready(Ornament(disc(3.0)), 1.0, is_flipped=False)
    layout = measured(ring, [coin] * 8, tuple(k * math.tau / 8 for k in range(8)), (True,) * 8, None)
    assert layout.foot_gap_mm is None
    assert layout.gap_mm == pytest.approx(80 * math.sin(math.pi / 8) - 6, abs=1e-9)


@pytest.mark.parametrize("count", [6, 18])
@pytest.mark.parametrize("start", [Start(0.3), Start(0.3, is_gap=True)])
def test_one_turn_of_a_pattern_on_a_circle_has_the_gaps_of_the_whole(count: int, start: Start) -> None:
    track = Track(Edge(60, 60), 1, "foot", "base")
    for motifs in ([arch()], [arch(), husk(), husk()], [pod(), arch()]):
        row = [ready(Ornament(m), 1.0, is_flipped=False) for m in motifs] * (count // len(motifs))
        whole = measured(track, row, lay_out(track, row, start, "equal-gap"), (True,) * count, None)
        turn = one_turn(track, row, start, "equal-gap")
        assert turn is not None
        assert (len(turn.seats), turn.gaps[-1]) == (len(motifs) + 1, None)
        assert turn.gap_mm == pytest.approx(whole.gap_mm, abs=1e-10)
        assert turn.foot_gap_mm == pytest.approx(whole.foot_gap_mm, abs=1e-10)


def test_an_oval_or_a_row_without_a_pattern_has_no_turn_to_repeat() -> None:
    arches = [ready(Ornament(arch()), 1.0, is_flipped=False)] * 6
    assert one_turn(Track(Edge(60, 50), 1, "foot", "base"), arches, Start(), "equal-gap") is None
    mixed = [ready(Ornament(m), 1.0, is_flipped=False) for m in (arch(), husk(), pod())]
    assert one_turn(Track(Edge(60, 60), 1, "foot", "base"), mixed, Start(), "equal-gap") is None


def test_gaps_and_foot_gaps_on_a_circle_are_closed_forms() -> None:
    """Feet of 16 mm on R = 50 end asin .16 beside their axes; the least and the greatest gap of uneven places."""
    half = math.asin(0.16)
    taus = (0.0, 0.9, 2.0, 4.0)
    layout = measured(CIRCLE, [ARCH] * 4, taus, (True,) * 4, "equal-arc")
    wanted = [100 * math.sin((b - a) / 2 - half) for a, b in zip(taus, (*taus[1:], math.tau), strict=True)]
    assert layout.foot_gaps == pytest.approx(wanted, abs=1e-9)
    assert layout.foot_gap_mm == pytest.approx(wanted[0], abs=1e-9)
    gaps = [gap.gap_mm for gap in layout.gaps if gap]
    assert len(gaps) == 4
    assert (layout.gap_mm, layout.gap_max_mm) == (min(gaps), max(gaps))
    assert gaps[0] == pytest.approx(wanted[0], abs=1e-9), "neighbouring arches are nearest at their feet"
    assert (layout.spread, layout.is_open, layout.is_there) == ("equal-arc", False, (True,) * 4)


def test_of_an_open_row_the_last_and_the_first_are_no_neighbours() -> None:
    layout = measured(CIRCLE, [ARCH] * 3, (0.0, 1.0, 2.0), (True,) * 3, None, is_open=True)
    assert [gap is None for gap in layout.gaps] == [False, False, True]
    assert [gap is None for gap in layout.foot_gaps] == [False, False, True]
    assert layout.is_open
    pair = measured(CIRCLE, [ARCH] * 2, (0.0, 1.0), (True,) * 2, None)
    assert [gap is None for gap in pair.gaps] == [False, False]


def test_two_that_are_left_out_leave_nothing_to_measure() -> None:
    layout = measured(CIRCLE, [ARCH] * 3, (0.0, 2.0, 4.0), (True, False, False), None)
    assert layout.gaps == layout.foot_gaps == (None, None, None)
    assert layout.gap_mm is layout.gap_max_mm is layout.foot_gap_mm is None


def test_a_row_starts_at_the_top_with_a_motif_where_nothing_is_said() -> None:
    assert (Start().direction_rad, Start().is_gap) == (0.0, False)


@pytest.mark.parametrize("spread", ["equal-arc", "equal-chord"])
def test_by_arcs_or_straight_steps_one_turn_of_a_pattern_is_even(spread: Spread) -> None:
    row = [ARCH, POD] * 3
    turn = one_turn(CIRCLE, row, Start(0.3), spread)
    assert turn is not None
    assert [seat.tau for seat in turn.seats] == pytest.approx([0.3 + k * math.tau / 6 for k in range(3)], abs=1e-12)
    assert (turn.is_open, turn.spread, len(turn.readies)) == (False, spread, 3)


def test_a_ring_of_patterns_repeats_its_first_turn() -> None:
    row = [ARCH, POD, POD] * 2
    taus = lay_out(CIRCLE, row, Start(0.1), "equal-gap")
    assert [b - a for a, b in zip(taus[:3], taus[3:], strict=True)] == pytest.approx([math.pi] * 3, abs=1e-12)
    gaps = [gap.gap_mm for gap in measured(CIRCLE, row, taus, (True,) * 6, "equal-gap").gaps if gap]
    assert gaps == pytest.approx([gaps[0]] * 6, abs=1e-8)
