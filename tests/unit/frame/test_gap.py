"""Signed gaps: apart, touching, overlapping, interlocked; against the general closest pair of outlines."""

from __future__ import annotations

import cmath
import math
from collections import OrderedDict
from itertools import pairwise

import numpy as np
import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop

from frameforge.frame import gap as gap_module
from frameforge.frame.gap import Gap, Standing, distance_between, gap_between, neighbour_gaps
from frameforge.frame.profile import Profile
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif


def profile(motif: Motif) -> Profile:
    return Profile.from_outlines(region.outer for region in motif.join)


def moved(motif: Motif, turn: complex, move: complex) -> list[Outline]:
    return [region.outer.transformed(Affine(turn, 0, move)) for region in motif.join]


@pytest.mark.parametrize("make", [husk, leaf, drop, pod, arch, scallop, plain_rectangle])
def test_motifs_apart_have_the_distance_of_their_outlines(make) -> None:  # type: ignore[no-untyped-def]
    """Second road: the general closest pair, which cuts chords ever finer."""
    motif = make()
    shape = profile(motif)
    generator = np.random.default_rng(20261125)
    for _ in range(6):
        turn = cmath.rect(1, -generator.uniform(0.05, 0.7))
        move = complex(generator.uniform(26, 40), generator.uniform(-6, 1))
        gap = gap_between(Standing(shape, 1, 0), Standing(shape, turn, move))
        exact = distance(moved(motif, 1, 0), moved(motif, turn, move))
        assert gap.gap_mm == pytest.approx(exact.gap_mm, abs=1e-9)
        assert abs(gap.on_b - gap.on_a) == pytest.approx(gap.gap_mm, abs=1e-12)


def test_the_gap_passes_smoothly_through_touching() -> None:
    """Two discs on a line: the gap is the distance of middles less both radii, on either side of 0."""
    disc = Profile.from_outlines([circle(0, 5)])
    for apart in (9.0, 9.9, 9.999, 9.9999999, 10.0, 10.0000001, 10.001, 10.1, 12.0):
        gap = gap_between(Standing(disc, 1, 0), Standing(disc, 1, apart + 0j)).gap_mm
        tolerance = 1e-9 if abs(apart - 10) < 0.05 else 0.02
        assert gap == pytest.approx(apart - 10, abs=tolerance)


@pytest.mark.parametrize("make", [leaf, husk, drop, arch])
def test_slope_through_touching_is_constant(make) -> None:  # type: ignore[no-untyped-def]
    """Neighbours on a circle moved apart by .01 mm steps over +-.1 mm: the slope of the gap varies by under 1 %."""
    motif = make()
    shape = profile(motif)
    half = math.pi / 12

    def gap(radius: float) -> float:
        places = [Standing(shape, cmath.rect(1, -q), radius * 1j * cmath.rect(1, -q)) for q in (-half, half)]
        return gap_between(*places).gap_mm

    low, high = 5.0, 80.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if gap(middle) < 0 else (low, middle)
    steps = [gap(high + k * 0.01) for k in range(-10, 11)]
    slopes = np.diff(steps)
    assert slopes.min() > 0
    assert slopes.max() / slopes.min() < 1.01


def test_corners_that_touch_have_no_gap_at_all() -> None:
    """Two upright rectangles whose lower corners meet, leaning apart."""
    box = Profile.from_outlines([rectangle(-2, 0, 2, 5)])
    for over in (0.0, 1e-6, 1e-3):
        lean = cmath.rect(1, -0.2)
        corner = 2 - over
        move = corner + 2 * lean
        gap = gap_between(Standing(box, 1, 0), Standing(box, lean, move)).gap_mm
        across = over * 1.0
        assert gap == pytest.approx(-across, abs=max(1e-9, 0.15 * over))


@pytest.mark.parametrize("make", [leaf, drop, husk, arch])
@pytest.mark.parametrize("gap", [1e-6, 1e-8, 1e-9, 1e-10, 1e-11, -1e-11, -1e-9])
def test_outlines_that_all_but_touch_have_their_gap_to_1e_13(make, gap: float) -> None:  # type: ignore[no-untyped-def]
    """Two alike side by side are as far apart as they stand, less their width: a box, and no search."""
    shape, wide = profile(make()), bounds(make().join).width_mm
    for turn in (1, cmath.rect(1, 0.7)):
        found = gap_between(Standing(shape, turn, 0), Standing(shape, turn, (wide + gap) * turn)).gap_mm
        assert found == pytest.approx(gap, abs=1e-13)


def test_hooks_that_reach_round_each_other_count_as_overlapped() -> None:
    left = Outline.from_points([0, 8 + 0j, 8 + 6j, 6 + 6j, 6 + 2j, 2 + 2j, 2 + 8j, 8j])
    right = Outline.from_points([3.5 + 3.5j, 4.5 + 3.5j, 4.5 + 10j, 12 + 10j, 12 + 12j, 3.5 + 12j])
    hook = Profile.from_outlines([left]), Profile.from_outlines([right])
    assert distance([left], [right]).gap_mm > 0.5
    assert gap_between(Standing(hook[0], 1, 0), Standing(hook[1], 1, 0.001 + 0j)).gap_mm < -0.5


def test_equal_pairs_are_measured_once_and_carried() -> None:
    shape = profile(leaf())
    row = [Standing(shape, cmath.rect(1, -k * 0.3), 60j * cmath.rect(1, -k * 0.3)) for k in range(6)]
    gaps = neighbour_gaps(list(pairwise(row)))
    for k, gap in enumerate(gaps):
        alone = neighbour_gaps([(row[k], row[k + 1])])[0]
        assert gap.gap_mm == pytest.approx(alone.gap_mm, abs=1e-11)
        assert abs(gap.on_a - alone.on_a) < 1e-9
        assert abs(gap.direction - alone.direction) < 1e-9


def test_mirrored_placements_are_refused() -> None:
    with pytest.raises(ValueError, match="mirrored before"):
        Standing.from_placement(profile(pod()), Affine.from_mirror())


def test_a_line_of_no_length_changes_no_gap() -> None:
    """Outlines that run on by less than a number can tell have chords of no length; they divide by nothing."""
    square = Outline.from_points([0j, 4 + 0j, 4 + 4j, 4j])
    first, *rest = square.segments
    still = Outline((first, Line(first.end, first.end), *rest))
    profile = Profile.from_outlines([still])
    one, other = (Standing.from_placement(profile, Affine(1, 0, move)) for move in (0j, 7.5 + 0.5j))
    assert gap_between(one, other).gap_mm == pytest.approx(3.5)


def test_the_very_same_pairs_are_measured_once_and_counted_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row is laid out, looked at and drawn with the same places; what a try may spend does not hang on that."""
    measured: list[int] = []
    plain = gap_module._measured_gaps

    def counted(pairs: list[tuple[Standing, Standing]]) -> tuple[list[Gap], float]:
        measured.append(len(pairs))
        return plain(pairs)

    monkeypatch.setattr(gap_module, "_measured_gaps", counted)
    monkeypatch.setattr(gap_module, "_LAST", OrderedDict())
    spent: list[float] = []
    monkeypatch.setattr(gap_module, "spend", spent.append)
    shape = profile(leaf())
    row = [Standing(shape, cmath.rect(1, -k * 0.3), 60j * cmath.rect(1, -k * 0.3)) for k in range(3)]
    first, *others = (neighbour_gaps([(row[0], row[k])]) for k in (1, 1, 2))
    assert others[0] == first != others[1]
    assert measured == [1, 1]
    assert spent[0] == spent[1] > 0


SQUARE = Profile.from_outlines([rectangle(-2, -2, 2, 2)])
TALL = Profile.from_outlines([rectangle(-2, -5, 2, 5)])


def test_squares_apart_over_each_other_and_askew_have_their_gap_with_places_and_directions() -> None:
    """Askew, along a line of 3 + 1j the squares lack 1 mm across: they slide apart by hypot(3, 1) / 3."""
    apart = gap_between(Standing(SQUARE, 1, 0), Standing(TALL, 1, 7.5 + 0j))
    assert (apart.gap_mm, apart.direction, apart.turning) == (pytest.approx(3.5, abs=1e-13), 1, 0)
    assert (apart.on_a.real, apart.on_b.real) == pytest.approx((2, 5.5), abs=1e-13)
    assert apart.on_a.imag == pytest.approx(apart.on_b.imag, abs=1e-13)
    over = gap_between(Standing(SQUARE, 1, 0), Standing(TALL, 1, 3 + 0j))
    assert (over.gap_mm, over.direction) == (pytest.approx(-1.0, abs=1e-13), pytest.approx(1))
    assert (over.on_a.real, over.on_b.real) == pytest.approx((2, 1), abs=1e-13)
    askew = gap_between(Standing(SQUARE, 1, 0), Standing(SQUARE, 1, 3 + 1j))
    assert askew.gap_mm == pytest.approx(-math.hypot(3, 1) / 3, abs=1e-12)
    assert askew.direction == pytest.approx(math.hypot(3, 1) / 3, abs=1e-12)
    assert askew.turning == pytest.approx(-math.hypot(3, 1) / 9, abs=1e-12)
    assert askew.on_b - askew.on_a == pytest.approx(-(3 + 1j) / 3, abs=1e-12)


def test_the_plain_distance_has_its_points_and_no_direction_where_it_is_none() -> None:
    away = distance_between(Standing(SQUARE, 1, 0), Standing(TALL, 1j, 20j))
    assert (away.gap_mm, away.direction, away.turning) == (pytest.approx(16.0, abs=1e-12), pytest.approx(1j), 0.0)
    assert (away.on_a.imag, away.on_b.imag) == pytest.approx((2, 18), abs=1e-12)
    side_by_side = distance_between(Standing(SQUARE, 1, 0), Standing(SQUARE, 1, 4 + 0j))
    assert (side_by_side.gap_mm, side_by_side.direction) == (0.0, 0)


def test_a_gap_is_carried_with_the_pair_that_it_belongs_to() -> None:
    """Of pairs that differ by a turn and a move of the whole, one measured: places turn and move, measures stay."""
    turn, move = cmath.rect(1, 0.8), 7 - 3j
    for other in (6 + 1j, 3 + 1j):
        pair = Standing(SQUARE, 1, 0), Standing(TALL, 1j, other)
        carried = Standing(SQUARE, turn, move), Standing(TALL, 1j * turn, move + turn * other)
        first, second = neighbour_gaps([pair, carried])
        assert second.gap_mm == first.gap_mm
        assert second.turning == first.turning
        assert second.on_a == pytest.approx(move + turn * first.on_a, abs=1e-12)
        assert second.on_b == pytest.approx(move + turn * first.on_b, abs=1e-12)
        assert second.direction == pytest.approx(turn * first.direction, abs=1e-12)


def test_gaps_keep_the_order_of_their_pairs_whatever_kinds_are_mixed() -> None:
    at = [Standing(one, 1, k * 10 + 0j) for k, one in enumerate((SQUARE, TALL, SQUARE, SQUARE))]
    wide = Standing(SQUARE, 1, 45 + 0j)
    pairs = [(at[0], at[1]), (at[2], at[3]), (at[0], at[2]), (at[1], at[3]), (at[3], wide)]
    assert [gap.gap_mm for gap in neighbour_gaps(pairs)] == pytest.approx([6, 6, 16, 16, 11], abs=1e-12)
    assert neighbour_gaps([]) == []


@pytest.fixture
def spent(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """What is spent on gaps, with nothing remembered."""
    found: list[float] = []
    monkeypatch.setattr(gap_module, "_LAST", OrderedDict())
    monkeypatch.setattr(gap_module, "spend", found.append)
    return found


def test_a_distance_counts_as_one_pair_and_a_depth_as_four_more(spent: list[float]) -> None:
    gap_between(Standing(SQUARE, 1, 0), Standing(TALL, 1, 9 + 0j))
    assert spent == [1]
    spent.clear()
    lot = [(Standing(SQUARE, 1, 0), Standing(TALL, 1, apart + 0j)) for apart in (3.0, 9.0, 2.0)]
    neighbour_gaps(lot)
    assert spent == [3, 4, 4]
    spent.clear()
    neighbour_gaps(lot)
    assert spent == [3 + 2 * 4], "known, and counted all the same"


def test_sixteen_lots_are_remembered_those_asked_for_last(spent: list[float]) -> None:
    def ask(k: int) -> None:
        gap_between(Standing(SQUARE, 1, 0), Standing(TALL, 1, 9.0 + k))

    for k in range(16):
        ask(k)
    ask(0)
    assert list(gap_module._LAST)[-1][-1] == (1, 9.0)
    ask(16)
    assert [key[-1] for key in gap_module._LAST] == [(1, 9.0 + k) for k in (*range(2, 16), 0, 16)]


def test_lots_of_other_outlines_at_the_same_places_are_others(spent: list[float]) -> None:
    wide = Profile.from_outlines([rectangle(-3, -2, 3, 2)])
    for a, b, gap in ((SQUARE, TALL, 6.0), (SQUARE, wide, 5.0), (wide, wide, 4.0), (wide, SQUARE, 5.0)):
        assert gap_between(Standing(a, 1, 0), Standing(b, 1, 10 + 0j)).gap_mm == pytest.approx(gap, abs=1e-12)
    assert spent == [1] * 4


def test_more_pairs_than_go_in_one_pass_all_have_their_gaps() -> None:
    pairs = [(Standing(SQUARE, 1, 0), Standing(SQUARE, 1, 5.0 + k / 8 + 0j)) for k in range(300)]
    assert [gap.gap_mm for gap in neighbour_gaps(pairs)] == pytest.approx([1 + k / 8 for k in range(300)], abs=1e-12)


def test_distances_from_boxes_and_between_chords_by_hand() -> None:
    box = np.array([[1 + 1j, 3 + 2j]])
    points = np.array([[0j, 2 + 1.5j, 2 + 5j, 6 + 6j, 0 + 1.5j]])
    assert gap_module._to_box(points, box)[0] == pytest.approx([math.sqrt(2), 0, 3, 5, 1])

    def apart(a0: complex, a1: complex, b0: complex, b1: complex) -> float:
        return float(gap_module._chord_distance(*(np.array([z]) for z in (a0, a1, b0, b1)))[0])

    assert apart(0, 4, 1j, 3j + 4) == 1.0
    assert apart(0, 4, 5j + 4, 3j + 1) == 3.0
    assert apart(2j, 4 + 5j, 0, 4) == 2.0
    assert apart(4 + 5j, 1 + 2j, 0, 4) == 2.0
    assert apart(0, 4, 7 + 4j, 9 + 9j) == 5.0
    assert apart(0, 4, -3 - 4j, -9 - 4j) == 5.0
    assert apart(1 + 1j, 1 + 1j, 0, 4) == 1.0  # a chord of no length
