"""The unknown of size, count, gap and scale, against chord geometry: bars round a circle, D sin(pi/n - asin(w/D))."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, disc, leaf, plain_rectangle, pod
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame import solve
from frameforge.frame.base import Edge
from frameforge.frame.layout import measured
from frameforge.frame.model import RowModel
from frameforge.frame.solve import count_for, growth_of, scale_for, size_for
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import MOST_REPEATS, PieceSpec, Size
from frameforge.motif.catalogue import load_motif
from frameforge.tolerances import AGREE_MM


def bar_gap(diameter: float, count: int, width: float) -> float:
    return diameter * math.sin(math.pi / count - math.asin(width / diameter))


def test_a_given_size_keeps_its_proportion() -> None:
    grow, least = growth_of(PieceSpec("x", "find"), Size(150, 100))
    assert (grow(75.0), least) == (Size(75, 50), 0.0)


def test_growth_by_ratio_by_sum_and_as_a_circle() -> None:
    assert growth_of(PieceSpec("x", "find", ratio=1.25), None)[0](100.0) == Size(100, 80)
    assert growth_of(PieceSpec("x", "find"), None)[0](90.0) == Size(90, 90)
    grow, least = growth_of(PieceSpec("x", "find", grow_from=Size(150, 100)), None)
    assert (grow(120.0), least) == (Size(120, 70), 50.0)


@pytest.mark.parametrize(("width", "gap"), [(6.0, 0.0), (6.0, 2.0), (11.0, 1.5), (30.0, 5.0), (60.0, 30.0)])
def test_the_count_is_the_greatest_that_holds(width: float, gap: float) -> None:
    count = count_for(model_of(plain_rectangle(width, 4)), D100, 1.0, gap)
    assert bar_gap(100, count, width) >= gap - 1e-9
    assert bar_gap(100, count + 1, width) < gap


def test_a_ring_that_just_closes_keeps_its_last_one() -> None:
    width = 100 * math.sin(math.pi / 12)
    assert count_for(model_of(plain_rectangle(width, 4)), D100, 1.0, 0.0) == 12


def test_counts_are_whole_patterns_and_0_where_none_goes() -> None:
    mirrored = model_of(pod(), is_mirrored_every_other=True)
    count = count_for(mirrored, D100, 1.0, 2.0)
    assert count % 2 == 0
    assert mirrored.clearance_mm(D100, count, 1.0) >= 2 > mirrored.clearance_mm(D100, count + 2, 1.0)
    assert count_for(model_of(plain_rectangle(120, 4)), D100, 1.0, 2.0) == 0


@pytest.mark.parametrize(("count", "width", "gap"), [(12, 16.0, 2.0), (5, 20.0, 0.0), (40, 3.0, 1.0)])
def test_the_size_found_has_the_gap(count: int, width: float, gap: float) -> None:
    size = size_for(model_of(plain_rectangle(width, 4)), growth_of(PieceSpec("x", "find"), None), count, 1.0, gap)
    assert size is not None
    assert size.is_circle
    assert bar_gap(size.width_mm, count, width) == pytest.approx(gap, abs=1e-8)


def test_an_oval_found_has_its_ratio_and_the_gap() -> None:
    model = model_of(arch())
    size = size_for(model, growth_of(PieceSpec("x", "find", ratio=1.5), None), 14, 1.0, 3.0)
    assert size is not None
    assert size.width_mm / size.height_mm == pytest.approx(1.5)
    assert model.clearance_mm(size, 14, 1.0) == pytest.approx(3.0, abs=1e-8)


def test_the_scale_found_has_the_gap() -> None:
    scale = scale_for(model_of(plain_rectangle(10, 4)), D100, 20, 2.0)
    assert scale is not None
    assert bar_gap(100, 20, 10 * scale) == pytest.approx(2.0, abs=1e-8)


def test_a_crowd_that_does_not_go_round_an_oval_is_seen_without_solving_it() -> None:
    """2000 bars stand in each other by about what they do on as long a circle, and that is found at once."""
    model, oval = model_of(plain_rectangle(16, 4)), Size(150, 100)
    length = 396.635989732265  # perimeter of 150 x 100, complete elliptic integral
    wanted = bar_gap(length / math.pi, 2000, 16)
    assert model.clearance_mm(oval, 2000, 1.0) == pytest.approx(wanted)
    assert model.crowded_mm(oval, 25, 1.0) is None, "next to what goes round, the true ring is solved"
    assert model.clearance_mm(oval, 25, 1.0) == pytest.approx(model.layout(oval, 25, 1.0).gap_mm)


def test_a_foot_gap_never_lets_what_stands_out_beyond_the_feet_overlap() -> None:
    """Leaves of 14 mm on feet of 4.4: between feet .5 mm apart they would lie over each other."""
    by_foot = model_of(leaf(), foot_gap_mm=0.5)
    count = count_for(by_foot, D100, 1.0, 0.5)
    assert count == count_for(model_of(leaf()), D100, 1.0, 0.0)
    assert by_foot.clearance_mm(D100, count + 1, 1.0) < 0
    assert size_for(by_foot, growth_of(by_foot.spec, D100), 12, 1.0, 0.5) is None
    wide = model_of(leaf(), foot_gap_mm=10.0)
    size = size_for(wide, growth_of(wide.spec, D100), 12, 1.0, 10.0)
    assert size is not None
    assert wide.clearance_mm(size, 12, 1.0) == pytest.approx(10.0, abs=1e-9)


@pytest.mark.parametrize("scale", [0.8, 0.6, 0.4])
def test_windows_round_an_opening_of_its_own_size_find_no_base_where_there_is_none(scale: float) -> None:
    """So small, 7 of them close nearer to the middle than the opening of 32 x 48 mm is wide."""
    model = model_of(load_motif("scallop"), opening=Size(32, 48), place="window", gap_mm=0.0)
    assert size_for(model, growth_of(PieceSpec("x", "find"), None), 7, scale, 0.0) is None


Ring = tuple[float, int, float]
"""A ring that was measured: width of the base, count, scale."""


@pytest.fixture
def rings(monkeypatch: pytest.MonkeyPatch) -> list[Ring]:
    """All rings whose gap is measured, in order."""
    asked: list[Ring] = []
    plain = RowModel.clearance_mm

    def look(model: RowModel, size: Size, count: int, scale: float) -> float:
        asked.append((size.width_mm, count, scale))
        return plain(model, size, count, scale)

    monkeypatch.setattr(RowModel, "clearance_mm", look)
    return asked


@pytest.fixture
def pairs(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The turns at which pairs of neighbours are measured, radians, in order."""
    asked: list[float] = []

    def look(*args: object, **more: object) -> object:
        asked.append(args[2][1])  # type: ignore[index]
        return measured(*args, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(solve, "measured", look)
    return asked


def test_what_is_given_comes_before_a_ratio_and_a_sum() -> None:
    spec = PieceSpec("x", "find", ratio=2.0, grow_from=Size(150, 100))
    grow, least = growth_of(spec, Size(90, 60))
    assert (grow(30.0), least) == (Size(30, 20), 0.0)
    assert growth_of(spec, None)[0](120.0) == Size(120, 70)


def test_a_tall_base_that_grows_by_a_sum_may_fall_to_nothing_across() -> None:
    grow, least = growth_of(PieceSpec("x", "find", grow_from=Size(100, 150)), None)
    assert (grow(20.0), least) == (Size(20, 70), 0.0)


@pytest.mark.parametrize(
    ("widths", "gap", "most"),
    [((6, 6), 0.0, 4), ((20, 6), 2.0, 4), ((6, 20), 2.0, 4), ((3, 40), 1.0, 4), ((60, 60), 30.0, 8)],
)
def test_two_bars_are_so_far_apart_by_their_chords(
    widths: tuple[float, float], gap: float, most: int, pairs: list[float]
) -> None:
    """Half widths and half the gap are seen from the middle under asin(w/D), asin(gap/D) each."""
    model = model_of(plain_rectangle(widths[0], 4), plain_rectangle(widths[1], 6))
    turns = solve._turns_rad(model, model.track(D100, 1.0), 1.0, gap)
    wanted = sum(math.asin(width / 100) for width in widths) + 2 * math.asin(gap / 100)
    assert turns == pytest.approx([wanted, wanted], rel=2e-6)
    assert len(pairs) <= 2 * most
    first = (sum(widths) / 2 + gap) / 50
    assert pairs[0] == pytest.approx(first), "the first try is as if they stood on a straight line"


def test_two_leaves_with_a_foot_gap_touch_or_have_it() -> None:
    def turn(gap: float, foot_gap: float | None) -> float:
        model = model_of(leaf(), foot_gap_mm=foot_gap)
        return solve._turns_rad(model, model.track(D100, 1.0), 1.0, gap)[0]

    assert turn(0.5, 0.5) == pytest.approx(turn(0.0, None), abs=1e-6)
    assert turn(10.0, 10.0) == pytest.approx(2 * (math.asin(0.044) + math.asin(0.1)), abs=1e-6)


def test_two_that_are_too_wide_for_any_circle_stand_opposite_each_other(pairs: list[float]) -> None:
    model = model_of(plain_rectangle(6, 4))
    assert solve._turns_rad(model, model.track(D100, 1.0), 1.0, 300.0) == [math.pi]
    assert pairs == [math.pi] * 12


@pytest.mark.parametrize("size", [D100, Size(150, 100)])
def test_the_count_is_found_by_measuring_it_and_the_next(size: Size, rings: list[Ring]) -> None:
    model = model_of(arch())
    count = count_for(model, size, 1.0, 2.0)
    assert rings == [(size.width_mm, count, 1.0), (size.width_mm, count + 1, 1.0)]
    assert model.clearance_mm(size, count, 1.0) >= 2 > model.clearance_mm(size, count + 1, 1.0)


def test_a_zone_kept_free_is_left_out_of_the_first_guess(rings: list[Ring]) -> None:
    assert count_for(model_of(arch(), keep_free=(60.0, 0.0)), D100, 1.0, 2.0) == 14
    assert [count for _, count, _ in rings] == [14, 15]


def test_the_first_guess_is_told_by_the_turns_of_a_whole_pattern() -> None:
    model = model_of(plain_rectangle(20, 4), plain_rectangle(6, 4))
    turns = 2 * (math.asin(0.2) + math.asin(0.06)) + 4 * math.asin(0.02)
    assert solve._guess(model, D100, 1.0, 2.0) == int(2 * math.tau / turns) == 20
    assert solve._guess(model_of(plain_rectangle(0.01, 4)), D100, 1.0, 0.0) == MOST_REPEATS
    assert solve._guess(model_of(plain_rectangle(120, 4), leaf()), D100, 1.0, 0.0) == 2, "one pattern: there is no seat"


def searched(monkeypatch: pytest.MonkeyPatch, guess: int, fitting: int) -> tuple[int, list[int]]:
    """Return the count found where gaps hold up to ``fitting`` and ``guess`` is thought first, and all counts tried."""
    asked: list[int] = []

    def clearance(_: RowModel, size: Size, count: int, scale: float) -> float:
        asked.append(count)
        return float(fitting - count)

    monkeypatch.setattr(RowModel, "clearance_mm", clearance)
    monkeypatch.setattr(solve, "_guess", lambda *_: guess)
    return count_for(model_of(arch()), D100, 1.0, 0.0), asked


@pytest.mark.parametrize(
    ("guess", "fitting", "asked"),
    [
        (5, 5, [5, 6]),
        (1, 20, [1, 2, 4, 8, 16, 32, 24, 20, 22, 21]),
        (40, 30, [40, 39, 37, 33, 25, 29, 31, 30]),
        (40, 0, [40, 39, 37, 33, 25, 9, 4, 2, 1]),
        (0, 1, [1, 2]),
        (5000, 1998, [2001, 2000, 1998, 1999]),
        (1900, 3000, [1900, 1901, 1903, 1907, 1915, 1931, 1963, 1982, 1992, 1997, 1999, 2000, 2001]),
    ],
)
def test_from_a_guess_far_off_steps_double_and_what_lies_between_is_halved(
    guess: int, fitting: int, asked: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    found, tried = searched(monkeypatch, guess, fitting)
    assert (found, tried) == (min(fitting, MOST_REPEATS + 1), asked)


def test_of_counts_with_folded_motifs_the_next_below_are_taken_one_by_one_and_then_by_halves(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[int] = []

    def folds(_: RowModel, size: Size, count: int, scale: float) -> bool:
        asked.append(count)
        return count > 50

    monkeypatch.setattr(RowModel, "folds", folds)
    monkeypatch.setattr(RowModel, "clearance_mm", lambda *_: 1.0)
    assert solve._without_folds(model_of(arch()), D100, 120, 1.0) == 27
    assert asked == [*range(120, 108, -1), 54, 27]
    asked.clear()
    assert solve._without_folds(model_of(arch(), pod()), D100, 26, 1.0) == 25
    assert asked == [52, 50]
    monkeypatch.setattr(RowModel, "folds", lambda *_: True)
    assert solve._without_folds(model_of(arch()), D100, 5, 1.0) == 0


@pytest.mark.parametrize(
    ("model", "count", "gap", "most"),
    [
        (model_of(leaf()), 12, 2.0, 5),
        (model_of(leaf()), 12, 0.0, 5),
        (model_of(leaf()), 3, 2.0, 5),
        (model_of(pod(), arch()), 8, 2.0, 5),
        (model_of(arch(), foot_gap_mm=3.0), 10, 3.0, 6),
        (model_of(arch(), keep_free=(60.0, 0.0)), 10, 2.0, 7),
    ],
    ids=["leaves", "touching", "three", "mixed", "foot gap", "zone"],
)
def test_a_circle_is_found_by_measuring_few_rings(
    model: RowModel, count: int, gap: float, most: int, rings: list[Ring]
) -> None:
    """Neighbours alone tell where it closes; only beside a zone kept free is it looked for from the feet alone."""
    size = size_for(model, growth_of(PieceSpec("x", "find"), None), count, 1.0, gap)
    assert len(rings) <= most
    assert size is not None
    assert model.clearance_mm(size, count, 1.0) == pytest.approx(gap, abs=1e-8)
    if not model.zone:
        assert rings[0][0] == pytest.approx(size.width_mm, rel=1e-5)


@pytest.mark.parametrize("foot_gap", [None, 3.0])
def test_an_oval_is_looked_for_from_the_circle_that_is_as_long(foot_gap: float | None, rings: list[Ring]) -> None:
    model = model_of(arch(), foot_gap_mm=foot_gap)
    size = size_for(model, growth_of(PieceSpec("x", "find", ratio=1.5), None), 12, 1.0, 3.0)
    assert len(rings) <= 13
    assert size is not None
    circle = math.pi * rings[0][0]
    assert circle == pytest.approx(edge_length_mm(Edge.from_size(size)), rel=5e-3)
    on_oval = [width for width, _, _ in rings if abs(width - rings[0][0]) > 1]
    assert len(on_oval) <= 8
    assert on_oval[0] == pytest.approx(size.width_mm, rel=2e-3)


def test_an_oval_that_will_do_nearly_is_found_sooner(rings: list[Ring]) -> None:
    model, growth = model_of(arch()), growth_of(PieceSpec("x", "find", ratio=1.5), None)
    exact = size_for(model, growth, 12, 1.0, 3.0)
    count = len(rings)
    near = size_for(model, growth, 12, 1.0, 3.0, settled_mm=0.05)
    assert len(rings) < 2 * count
    assert exact is not None
    assert near is not None
    assert near.width_mm == pytest.approx(exact.width_mm, abs=0.05 * 12 / 2)
    assert near != exact


def test_a_base_grown_by_a_sum_keeps_it() -> None:
    model, growth = model_of(arch(2.0)), growth_of(PieceSpec("x", "find", grow_from=Size(150, 100)), None)
    size = size_for(model, growth, 40, 1.0, 2.0, settled_mm=0.01)
    assert size is not None
    assert size.width_mm - size.height_mm == pytest.approx(50)
    assert model.clearance_mm(size, 40, 1.0) == pytest.approx(2.0, abs=0.01)


def test_of_a_width_near_the_zero_the_next_is_what_its_miss_shares_out_to() -> None:
    """20 gaps that are .1 mm too narrow want an edge 2 mm longer, which is 2 / pi mm of width."""
    assert solve._corrected(lambda _: -0.1, 100.0, 20) == (100 + 2 / math.pi, solve._NEXT_OVAL)
    assert solve._corrected(lambda _: 0.1, 100.0, 20) == (100 - 2 / math.pi, solve._NEXT_OVAL)
    for miss in (-1.0, 1.0, -math.inf):
        assert solve._corrected(lambda _, miss=miss: miss, 100.0, 20) == (100.0, solve._NEAR)  # type: ignore[misc]


def test_an_oval_as_long_as_a_circle() -> None:
    growth = growth_of(PieceSpec("x", "find", ratio=1.5), None)
    width = solve._as_long(growth, D100, 80.0)
    assert edge_length_mm(Edge.from_size(growth[0](width))) == pytest.approx(100 * math.pi, abs=1e-9)
    summed = growth_of(PieceSpec("x", "find", grow_from=Size(150, 100)), None)
    assert solve._as_long(summed, Size(10, 10), 60.0) == 60.0, "at 50 mm across the oval is 100 mm round already"


def test_the_scale_is_looked_for_from_the_one_of_feet_alone(rings: list[Ring]) -> None:
    model = model_of(leaf())
    scale = scale_for(model, D100, 12, 2.0)
    assert scale is not None
    assert model.clearance_mm(D100, 12, scale) == pytest.approx(2.0, abs=1e-8)
    first, second, *_ = (scale for _, _, scale in rings if scale > 0.1)
    assert first == pytest.approx((100 * math.pi - 24) / (12 * 7))
    assert second == pytest.approx(first / 1.6)
    assert len(rings) <= 12


def test_the_scale_on_an_oval_is_looked_for_on_the_circle_that_is_as_long(rings: list[Ring]) -> None:
    length = 396.635989732265  # perimeter of 150 x 100, complete elliptic integral
    scale = scale_for(model_of(arch()), Size(150, 100), 18, 2.0)
    assert scale == pytest.approx(1.2459119374, abs=1e-8)
    widths = [width for width, _, scale in rings if scale > 0.1]
    assert widths[0] == pytest.approx(length / math.pi)
    assert widths.count(150) <= 7
    assert len(widths) <= 13
    roughly = scale_for(model_of(arch()), Size(150, 100), 18, 2.0, settled_mm=0.02)
    assert roughly == pytest.approx(scale, abs=0.02 / 8)
    assert roughly != scale


def test_on_an_opening_that_is_an_oval_no_circle_is_tried_first(rings: list[Ring]) -> None:
    model = model_of(leaf(), place="in", opening=Size(60, 50))
    assert scale_for(model, Size(100, 99), 12, 5.0, settled_mm=0.5) is not None
    assert {width for width, _, _ in rings} == {100}


def test_no_scale_has_gaps_that_alone_are_longer_than_the_edge(rings: list[Ring]) -> None:
    assert scale_for(model_of(arch()), D100, 10, 10 * math.pi + 1e-9) is None
    assert not rings
    assert scale_for(model_of(arch()), D100, 12, 26.0) is None
    opening = model_of(arch(), place="in", opening=Size(60, 60))
    rings.clear()
    assert scale_for(opening, D100, 10, 20.0) is None
    assert not rings, "the edge is that of the opening, not of the base"


def test_a_scale_with_a_foot_gap_has_just_that() -> None:
    by_foot = model_of(arch(), foot_gap_mm=3.0)
    scale = scale_for(by_foot, D100, 18, 3.0)
    assert scale is not None
    assert by_foot.clearance_mm(D100, 18, scale) == pytest.approx(3.0, abs=1e-8)


def test_motifs_without_a_foot_and_of_no_width_still_have_a_size() -> None:
    """Discs on their lowest points: where they touch, 2 r = (D + 2 r) sin(pi/n)."""
    size = size_for(model_of(disc(6.0)), growth_of(PieceSpec("x", "find"), None), 12, 1.0, 0.0)
    assert size is not None
    assert size.width_mm == pytest.approx(12 / math.sin(math.pi / 12) - 12, abs=1e-8)


def test_a_ring_that_just_jumps_over_its_gap_is_told_by_how_far() -> None:
    for miss, jumps in [(0.0, False), (0.9, False), (-0.9, False), (1.1, True), (-1.1, True)]:
        assert solve._jumps(miss * AGREE_MM) is jumps


def test_a_circle_closes_about_where_neighbours_alone_come_round() -> None:
    bars = plain_rectangle(6, 4)
    width, factor = solve._near_width(model_of(bars), 100.0, 12, 1.0, 2.0)
    assert bar_gap(width, 12, 6) == pytest.approx(2.0, abs=1e-3)
    assert factor == solve._NEXT
    row = row_of(bars, inset_mm=8.0)
    inset = RowModel(PieceSpec("x", "find", rows=(row,)), row, KNIFE)
    assert solve._near_width(inset, 100.0, 12, 1.0, 2.0)[0] == pytest.approx(width + 16, abs=1e-3)
    mixed = solve._near_width(model_of(bars, plain_rectangle(20, 4)), 100.0, 12, 1.0, 2.0)[0]
    turns = 6 * (2 * (math.asin(6 / mixed) + math.asin(20 / mixed)) + 4 * math.asin(2 / mixed))
    assert turns == pytest.approx(math.tau, abs=2e-5)


def test_where_a_foot_finds_no_seat_the_width_stays_the_one_guessed() -> None:
    assert solve._near_width(model_of(arch()), 10.0, 12, 1.0, 2.0) == (10.0, solve._FAR)


def test_gaps_far_wider_than_the_first_circle_are_come_to() -> None:
    """At first any two stand opposite each other, twice running."""
    width, _ = solve._near_width(model_of(plain_rectangle(6, 4)), 100.0, 12, 1.0, 300.0)
    assert bar_gap(width, 12, 6) == pytest.approx(300.0, abs=0.02)


def test_half_of_the_edge_takes_half_of_the_motifs() -> None:
    bar = plain_rectangle(100 * math.sin(math.pi / 100.01), 1)
    assert solve._guess(model_of(bar), D100, 1.0, 0.0) == 100
    assert solve._guess(model_of(bar, keep_free=(180.0, 0.0)), D100, 1.0, 0.0) == 50


@pytest.fixture
def begun(monkeypatch: pytest.MonkeyPatch) -> list[tuple[float, float, float]]:
    """Where searches begin: guess, least and factor, in order; none comes to anything."""
    asked: list[tuple[float, float, float]] = []

    def look(f: object, guess: float, *, least: float = 0.0, factor: float = 1.6, settled: float = 0.0) -> None:
        asked.append((guess, least, factor))

    monkeypatch.setattr(solve, "rising_zero", look)
    return asked


@pytest.mark.parametrize("gap", [0.0, 2.0])
def test_beside_a_zone_a_size_is_looked_for_from_the_feet_alone(
    gap: float, begun: list[tuple[float, float, float]]
) -> None:
    size_for(model_of(arch(), keep_free=(60.0, 0.0)), growth_of(PieceSpec("x", "find"), None), 10, 1.0, gap)
    grown = growth_of(PieceSpec("x", "find", grow_from=Size(150, 100)), None)
    size_for(model_of(plain_rectangle(4, 4), keep_free=(60.0, 0.0)), grown, 3, 1.0, gap)
    assert begun == [
        (pytest.approx((160 + 10 * gap) / math.pi / (5 / 6)), 0.0, 1.6),
        (pytest.approx(50.5 / (5 / 6)), 50.0, 1.6),
    ]


def test_where_no_circle_closes_an_oval_is_looked_for_from_the_feet_alone(
    begun: list[tuple[float, float, float]],
) -> None:
    assert size_for(model_of(arch()), growth_of(PieceSpec("x", "find", ratio=1.5), None), 12, 1.0, 3.0) is None
    assert begun[-1] == (pytest.approx(12 * 19 / math.pi), 0.0, 1.6)
    assert begun[0] == (pytest.approx(begun[0][0]), 0.0, solve._NEXT)


def test_touching_motifs_are_looked_for_from_the_scale_of_feet_alone_too(
    begun: list[tuple[float, float, float]],
) -> None:
    for wide, gap in ((16.0, 0.0), (16.0, 2.0), (1600.0, 0.0)):
        scale_for(model_of(plain_rectangle(wide, 4)), D100, 18, gap)
    length = 100 * math.pi
    assert [1 / guess for guess, _, _ in begun] == pytest.approx(
        [length / (18 * 16), (length - 36) / (18 * 16), 0.05]
    ), "and no smaller than a twentieth"


def test_where_even_specks_stand_too_near_no_scale_is_looked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[float] = []
    clearance_mm = RowModel.clearance_mm

    def counted(self: RowModel, size: Size, count: int, scale: float) -> float:
        asked.append(scale)
        return clearance_mm(self, size, count, scale)

    monkeypatch.setattr(RowModel, "clearance_mm", counted)
    row = model_of(disc())
    # Straight from place to place there is a chord: 60 mm between three places on a circle need one of 69.3 mm.
    assert scale_for(row, Size(69, 69), 3, 60.0) is None
    assert len(asked) == 1
    found = scale_for(row, Size(70, 70), 3, 60.0)
    assert found is not None
    assert clearance_mm(row, Size(70, 70), 3, found) == pytest.approx(60, abs=1e-9)


def test_an_opening_along_the_rim_of_an_oval_is_not_looked_for_on_a_circle_as_long() -> None:
    """Of a circle as long as the opening of 40 x 20 mm a rim of 12 mm leaves next to nothing."""
    length = edge_length_mm(Edge(20, 10))
    around = Size(length / math.pi, length / math.pi)
    row = row_of(arch(), on="opening")
    rim = RowModel(PieceSpec("hoop", Size(64, 44), rim_mm=12.0, rows=(row,)), row, KNIFE)
    assert not solve._is_round(rim, around, length)
    assert solve._is_round(model_of(arch(), size=Size(64, 44)), around, length)


def test_a_motif_much_wider_than_its_foot_counts_with_half_its_width(begun: list[tuple[float, float, float]]) -> None:
    """Leaves of 14 mm on feet of 4.4."""
    size_for(model_of(leaf(), keep_free=(60.0, 0.0)), growth_of(PieceSpec("x", "find"), None), 10, 1.0, 0.0)
    assert begun[0][0] == pytest.approx(70 / math.pi / (5 / 6))
