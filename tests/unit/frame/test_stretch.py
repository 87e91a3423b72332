"""A zone kept free: the rest fills the free stretch with equal gaps, and none reaches into the zone."""

from __future__ import annotations

import cmath
import math
import re
from itertools import pairwise
from typing import Literal, get_args

import numpy as np
import pytest
from fixtures.plain_motifs import arch, disc, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError
from frameforge.frame import stretch
from frameforge.frame.base import Edge
from frameforge.frame.fit import fit_row
from frameforge.frame.layout import Layout, Start
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.piece import RowResult
from frameforge.frame.place import Track
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size, Spread

OVAL = Size(150, 100)


def made(row: RowSpec, size: Size = D100) -> RowResult:
    return make_piece(PieceSpec("hoop", size, rows=(row,)), KNIFE).rows[0]


def outermost_deg(result: RowResult, middle_deg: float) -> tuple[float, float]:
    """Return how far from the middle of the zone, to the right and to the left, the first bit of card stands."""
    towards = cmath.rect(1, math.pi / 2 - math.radians(middle_deg))
    degrees = np.concatenate(
        [
            -np.degrees(np.angle(r.placement.apply(ready(Ornament(r.motif), 1.0, is_flipped=False).profile.points)
                                 * towards.conjugate()))
            for r in result.repeats
        ]
    )  # fmt: skip
    return float(degrees[degrees > 0].min()), float(-degrees[degrees < 0].max())


@pytest.mark.parametrize("size", [D100, OVAL], ids=["circle", "oval"])
@pytest.mark.parametrize("zone", [(60.0, 0.0), (90.0, 200.0), (33.0, 75.0)])
@pytest.mark.parametrize("motif", [leaf(), pod()], ids=["leaf", "pod"])
def test_the_rest_fills_the_free_stretch_with_equal_gaps(motif, zone, size) -> None:  # type: ignore[no-untyped-def]
    result = made(row_of(motif, count=8, keep_free=zone), size)
    assert result.count == 8
    assert outermost_deg(result, zone[1]) == pytest.approx((zone[0] / 2, zone[0] / 2), abs=1e-6)
    assert result.gap_mm is not None
    assert result.gap_max_mm == pytest.approx(result.gap_mm, abs=1e-9)
    left = made(row_of(motif, count=10, keep_free=zone, free="leave"), size)
    assert left.count < 10


@pytest.mark.parametrize(("size", "gap_mm"), [(D100, 0.5), (D100, 3.0), (OVAL, 3.0)])
def test_most_is_the_greatest_count_that_holds_over_the_free_stretch(size: Size, gap_mm: float) -> None:
    zone = (60.0, 0.0)
    result = made(row_of(leaf(), count="most", gap_mm=gap_mm, keep_free=zone), size)
    assert result.gap_mm is not None
    assert result.gap_mm >= gap_mm
    assert made(row_of(leaf(), count=result.count, keep_free=zone), size).gap_mm == result.gap_mm
    row = row_of(leaf(), keep_free=zone)
    model = RowModel(PieceSpec("hoop", size, rows=(row,)), row, KNIFE)
    assert model.clearance_mm(size, result.count + 1, 1.0) < gap_mm


def test_size_and_scale_are_found_over_the_free_stretch() -> None:
    zone = (60.0, 90.0)
    asked = row_of(leaf(), count=15, gap_mm=3.0, keep_free=zone)
    found = fit_row(RowModel(PieceSpec("hoop", "find"), asked, KNIFE), None).size
    assert made(row_of(leaf(), count=15, keep_free=zone), found).gap_mm == pytest.approx(3.0, abs=1e-9)
    row = row_of(leaf(), count=15, gap_mm=3.0, scale="find", keep_free=zone)
    assert made(row).gap_mm == pytest.approx(3.0, abs=1e-9)


def test_more_than_find_room_are_refused_with_what_does() -> None:
    with pytest.raises(GeometryError, match="60 degrees of it kept free") as caught:
        made(row_of(leaf(), count=30, keep_free=(60.0, 0.0)))
    counts = [int(n) for n in re.findall(r"--count (\d+)", caught.value.say)]
    assert counts
    assert made(row_of(leaf(), count=counts[0], keep_free=(60.0, 0.0))).count == counts[0]


def test_beside_a_zone_a_count_need_not_close_the_pattern() -> None:
    result = made(row_of(arch(), leaf(), count=9, keep_free=(70.0, 180.0)))
    assert result.count == 9
    assert result.gap_max_mm == pytest.approx(result.gap_mm, abs=1e-9)


def test_what_is_left_out_of_a_whole_ring_is_said() -> None:
    row = row_of(leaf(), count=16, keep_free=(60.0, 0.0), free="leave")
    piece = make_piece(PieceSpec("hoop", D100, rows=(row,)), KNIFE)
    missing = 16 - piece.rows[0].count
    assert missing
    told = [finding.say for finding in piece.findings if finding.code == "took"]
    assert f"left out {missing} of 16 places, for the 60 degrees kept free." in told


def test_a_zone_narrower_than_the_gaps_lies_in_one_of_them() -> None:
    """Three leaves and a zone of 20 degrees: a whole ring with the zone in the middle of a gap."""
    result = made(row_of(leaf(), count=3, keep_free=(20.0, 0.0)))
    assert sorted(r.direction_deg for r in result.repeats) == pytest.approx([60, 180, 300], abs=1e-9)


def test_even_turns_on_a_circle_and_even_arcs_by_arc() -> None:
    directions = [r.direction_deg for r in made(row_of(arch(), count=12, keep_free=(80.0, 0.0))).repeats]
    steps = np.diff(sorted(directions))
    assert np.ptp(steps) < 1e-9
    by_arc = made(row_of(arch(), count=14, keep_free=(80.0, 0.0), spread="equal-arc"), OVAL)
    by_gap = made(row_of(arch(), count=14, keep_free=(80.0, 0.0)), OVAL)
    assert by_arc.gap_max_mm is not None
    assert by_arc.gap_mm is not None
    assert by_arc.gap_max_mm - by_arc.gap_mm > 0.01
    assert by_gap.gap_mm is not None
    assert by_gap.gap_mm > by_arc.gap_mm


def test_a_pattern_of_unlike_motifs_has_equal_gaps_too() -> None:
    result = made(row_of(arch(), leaf(), leaf(), count=12, keep_free=(70.0, 180.0)))
    assert result.gap_max_mm == pytest.approx(result.gap_mm, abs=1e-9)
    assert result.spread == "equal-gap"


def test_a_zone_that_nothing_reaches_into_moves_nothing() -> None:
    assert made(row_of(leaf(), count=8, keep_free=(10.0, 22.5))).repeats == made(row_of(leaf(), count=8)).repeats


def test_a_single_one_goes_to_the_middle() -> None:
    (repeat,) = made(row_of(leaf(), count=1, keep_free=(200.0, 20.0))).repeats
    assert repeat.direction_deg == pytest.approx(200.0, abs=1e-9)


def test_a_zone_that_leaves_no_room_is_refused() -> None:
    with pytest.raises(GeometryError, match="350 degrees of it kept free"):
        made(row_of(plain_rectangle(12.0), count=8, keep_free=(350.0, 0.0)))


def test_even_straight_steps_by_chord() -> None:
    """The places themselves stand evenly, not the middles of their feet: measured between points of the edge."""
    result = made(row_of(disc(3), count=14, keep_free=(80.0, 0.0), spread="equal-chord", place="across"), OVAL)
    middles = [repeat.placement.apply(3j) for repeat in result.repeats]
    steps = [abs(b - a) for a, b in pairwise(middles)]
    assert np.ptp(steps) < 1e-9
    by_arc = made(row_of(disc(3), count=14, keep_free=(80.0, 0.0), spread="equal-arc", place="across"), OVAL)
    middles = [repeat.placement.apply(3j) for repeat in by_arc.repeats]
    assert np.ptp([abs(b - a) for a, b in pairwise(middles)]) > 0.01


def test_over_the_zone_no_gap_is_measured_and_every_other_one_is() -> None:
    row = row_of(leaf(), count=8, keep_free=(80.0, 30.0))
    layout = RowModel(PieceSpec("hoop", OVAL, rows=(row,)), row, KNIFE).layout(OVAL, 8, 1.0)
    for gaps in (layout.foot_gaps, [gap and gap.gap_mm for gap in layout.gaps]):
        assert len(gaps) == 8
        assert gaps[-1] is None
        assert all(gap is not None for gap in gaps[:-1])
    by_feet = [abs(b.left - a.right) for a, b in pairwise(layout.seats)]
    assert layout.foot_gaps[:-1] == pytest.approx(by_feet, abs=1e-9)


BAR = ready(Ornament(plain_rectangle(20, 10)), 1.0, is_flipped=False)
TRACK = Track(Edge(50, 50), 1, "foot", "base")
OVAL_TRACK = Track(Edge(75, 50), 1, "foot", "base")
HALF = math.asin(0.2)
"""A foot of 20 mm on 100 mm spreads so far to both sides."""


def test_a_motif_is_set_with_its_first_or_last_bit_in_a_direction_in_few_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []
    plain = stretch._reach

    def look(track: Track, of: Ready, tau: float, towards: float, which: Literal["begin", "end"]) -> float:
        asked.append(tau)
        return plain(track, of, tau, towards, which)

    monkeypatch.setattr(stretch, "_reach", look)
    assert stretch._reaching_to(TRACK, BAR, 1.0, "begin") == pytest.approx(1 + HALF, abs=1e-13)
    assert stretch._reaching_to(TRACK, BAR, 1.0, "end") == pytest.approx(1 - HALF, abs=1e-13)
    assert len(asked) <= 5
    asked.clear()
    tau = stretch._reaching_to(OVAL_TRACK, BAR, 1.0, "end")
    assert abs(plain(OVAL_TRACK, BAR, tau, 1.0, "end")) <= 1e-13
    assert len(asked) <= 8


def test_how_far_a_bar_reaches_past_a_direction() -> None:
    assert stretch._reach(TRACK, BAR, 1.0, 0.9, "begin") == pytest.approx(0.1 - HALF)
    assert stretch._reach(TRACK, BAR, 1.0, 0.9, "end") == pytest.approx(0.1 + HALF)


@pytest.mark.parametrize("spread", get_args(Spread))
@pytest.mark.parametrize("count", [2, 3, 5])
def test_alike_motifs_on_a_circle_stand_at_even_turns_from_end_to_end(spread: Spread, count: int) -> None:
    first, last = 1 + HALF, 5 - HALF
    wanted = [first + k * (last - first) / (count - 1) for k in range(count)]
    assert stretch._places(TRACK, [BAR] * count, (1.0, 5.0), spread) == pytest.approx(wanted, abs=1e-12)


def test_unlike_motifs_on_a_circle_stand_evenly_only_where_that_is_asked() -> None:
    small = ready(Ornament(plain_rectangle(4, 10)), 1.0, is_flipped=False)
    row = [BAR, BAR, small]
    first, last = 1 + HALF, 5 - math.asin(0.04)
    by_arc = stretch._places(TRACK, row, (1.0, 5.0), "equal-arc")
    assert by_arc == pytest.approx([first, (first + last) / 2, last], abs=1e-12)
    by_gap = stretch._places(TRACK, row, (1.0, 5.0), "equal-gap")
    free = (last - first - 3 * HALF - math.asin(0.04)) / 2
    assert by_gap == pytest.approx([first, first + 2 * HALF + free, last], abs=1e-9)


def test_a_single_one_stands_half_way() -> None:
    assert stretch._places(TRACK, [BAR], (1.0, 5.0), "equal-gap") == pytest.approx((3.0,))


def test_a_stretch_too_short_for_two_is_refused() -> None:
    """Two feet reach over 4 HALF; they stand in one place where only half of that is left."""
    assert stretch._places(TRACK, [BAR, BAR], (1.0, 1.0 + 2 * HALF + 1e-6), "equal-gap")[1] > 1 + HALF
    with pytest.raises(GeometryError) as caught:
        stretch._places(TRACK, [BAR, BAR], (1.0, 1.0 + 2 * HALF - 1e-6), "equal-gap")
    assert caught.value.say == "beside the zone kept free there is no room for 2."
    assert (caught.value.code, caught.value.numbers) == ("no-room", {"count": 2})


TOP = Start()


def beside(count: int, zone: tuple[float, float], start: Start = TOP) -> Layout:
    return stretch.spread_beside(TRACK, [BAR] * count, zone, start, "equal-gap")


def turns(layout: Layout) -> list[float]:
    return [math.degrees(seat.tau) % 360 for seat in layout.seats]


def test_the_outermost_reach_to_the_zone_and_nothing_is_measured_over_it() -> None:
    half = math.degrees(HALF)
    layout = beside(5, (60.0, 0.0))
    assert turns(layout) == pytest.approx([30 + half + k * (300 - 2 * half) / 4 for k in range(5)])
    assert layout.is_open
    assert (layout.gaps[-1], layout.foot_gaps[-1]) == (None, None)
    assert None not in layout.gaps[:-1]
    assert turns(beside(5, (60.0, 90.0))) == pytest.approx([(turn + 90) % 360 for turn in turns(layout)])


@pytest.mark.parametrize("count", [2, 3])
def test_a_zone_narrower_than_the_gaps_beside_it_lies_in_the_middle_of_one(count: int) -> None:
    layout = beside(count, (20.0, 0.0))
    assert turns(layout) == pytest.approx([180 / count + k * 360 / count for k in range(count)])
    assert not layout.is_open
    assert None not in layout.gaps


def test_a_ring_begun_where_the_row_says_stays_if_that_leaves_the_zone_free() -> None:
    assert turns(beside(3, (20.0, 0.0), Start(math.radians(50)))) == pytest.approx([50, 170, 290])
    assert turns(beside(3, (20.0, 0.0), Start(math.radians(20)))) == pytest.approx([60, 180, 300])


def test_a_single_one_stands_opposite_the_zone_or_finds_no_room() -> None:
    layout = beside(1, (60.0, 20.0))
    assert turns(layout) == pytest.approx([200])
    assert layout.is_open
    with pytest.raises(GeometryError, match="no room for 1"):
        beside(1, (340.0, 0.0))


def test_two_with_a_wide_zone_between_them_are_open() -> None:
    """A zone of 200 degrees: no ring of two leaves it free."""
    layout = beside(2, (200.0, 0.0))
    half = math.degrees(HALF)
    assert turns(layout) == pytest.approx([100 + half, 260 - half])
    assert layout.is_open
    assert layout.gaps[-1] is None


@pytest.mark.parametrize(("rate", "steps"), [(0.21, 3), (1.0, 2), (4.9, 3), (0.19, 60), (5.1, 60), (-1.0, 60)])
def test_where_the_reach_moves_with_the_place_the_last_two_places_tell_how_far_to_go(
    rate: float, steps: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rates from a fifth to five are believed; the direction begins a tenth off."""
    asked: list[float] = []

    def reach(track: Track, of: Ready, tau: float, towards: float, which: str) -> float:
        asked.append(tau)
        return rate * (tau - 1.1)

    monkeypatch.setattr(stretch, "_reach", reach)
    found = stretch._reaching_to(TRACK, BAR, 1.0, "begin")
    assert len(asked) == steps
    if steps < 60:
        assert found == pytest.approx(1.1, abs=1e-12)
