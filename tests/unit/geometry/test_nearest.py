"""The closest pair of two outlines: closed forms, a brute second road, degenerate places."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry import nearest
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.line import Line
from frameforge.geometry.nearest import distance, segment_distance
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.shapes import circle, ellipse, rectangle

HALF = (
    Cubic(-2.2 + 0j, -2.2 + 1.2j, -7 + 1.4j, -7 + 6.2j),
    Cubic(-7 + 6.2j, -7 + 10.8j, -2.2 + 12.4j, -0.35 + 15.6j),
    Cubic(-0.35 + 15.6j, -0.2 + 15.9j, -0.1 + 16j, 0 + 16j),
)
OTHER_HALF = tuple(cubic.transformed(Affine(0, -1)).reversed() for cubic in reversed(HALF))
LEAF = Outline((*HALF, *OTHER_HALF, Line(2.2 + 0j, -2.2 + 0j)))


def chords_apart(a: Outline, b: Outline) -> float:
    """The distance of the outlines cut into chords within 1e-6 mm, by shapely."""
    rings = [flatten_outline(outline, 1e-6).points for outline in (a, b)]
    one, other = (shapely.LinearRing(np.column_stack((p.real, p.imag))) for p in rings)
    return float(one.distance(other))


def test_two_circles() -> None:
    found = distance([circle(0j, 5)], [circle(20 + 3j, 7)])
    way = (20 + 3j) / abs(20 + 3j)
    assert found.gap_mm == pytest.approx(abs(20 + 3j) - 12, abs=1e-13)
    assert abs(found.at_a - 5 * way) < 1e-9
    assert abs(found.at_b - (20 + 3j - 7 * way)) < 1e-9


def test_one_circle_inside_the_other() -> None:
    found = distance([circle(0j, 5)], [circle(1 + 0j, 7)])
    assert found.gap_mm == pytest.approx(1, abs=1e-12)
    assert abs(found.at_a + 5) < 1e-6


def test_circles_with_one_middle_are_everywhere_as_near() -> None:
    found = distance([circle(0j, 5)], [circle(0j, 7)])
    assert found.gap_mm == pytest.approx(2, abs=1e-12)
    assert abs(found.at_a - found.at_b) == pytest.approx(2, abs=1e-12)


def test_crossing_and_touching_outlines_have_no_gap() -> None:
    found = distance([circle(0j, 5)], [circle(6 + 0j, 3)])
    assert found.gap_mm == 0
    assert abs(abs(found.at_a) - 5) < 1e-12
    assert abs(abs(found.at_b - 6) - 3) < 1e-12
    assert distance([circle(0j, 5)], [circle(8 + 0j, 3)]).gap_mm < 1e-9


@pytest.mark.parametrize("gap", [1e-9, 1e-6, 1e-3])
def test_hair_thin_gaps(gap: float) -> None:
    found = distance([circle(0j, 5)], [circle(8 + gap + 0j, 3)])
    assert found.gap_mm == pytest.approx(gap, abs=1e-12)


def test_corners_and_sides() -> None:
    box = rectangle(0, 0, 4, 2)
    assert distance([box], [rectangle(7, 6, 9, 9)]).gap_mm == 5
    assert distance([box], [rectangle(-1, 3.5, 9, 9)]).gap_mm == 1.5
    assert distance([box], [circle(6 + 1j, 1)]).gap_mm == pytest.approx(1, abs=1e-12)


def test_oval_and_point_like_circle() -> None:
    """From (0, 20) inside the oval 60 x 40 the nearest point is the end of the short axis only when 20 >= 40 - 60^2/40
    holds, which it does: 20 mm away."""
    found = distance([ellipse(0j, 60, 40)], [circle(0 + 20j, 0.5)])
    assert found.gap_mm == pytest.approx(19.5, abs=1e-12)
    assert abs(found.at_a - 40j) < 1e-6


@pytest.mark.parametrize("seed", range(15))
def test_random_leaves(seed: int) -> None:
    """Against chords within 1e-6 mm: both may differ by that much, and ours is never the greater."""
    rng = np.random.default_rng(seed)
    turn = Affine.from_turn(float(rng.uniform(0, math.tau)), complex(*rng.uniform(-15, 15, 2)))
    other = LEAF.transformed(turn).transformed(Affine.from_move(complex(*rng.uniform(-20, 20, 2))))
    found = distance([LEAF], [other])
    assert found.gap_mm == pytest.approx(chords_apart(LEAF, other), abs=3e-6)
    assert found.gap_mm == pytest.approx(abs(found.at_a - found.at_b), abs=1e-11)
    back = distance([other], [LEAF])
    assert back.gap_mm == pytest.approx(found.gap_mm, abs=1e-10)


def test_the_closest_of_many() -> None:
    """Sixteen leaves round a ring against the one opposite: the neighbour's side wins, as for the pair alone."""
    ring = [LEAF.transformed(Affine.from_turn(k * math.tau / 17).after(Affine.from_move(60j))) for k in range(17)]
    found = distance(ring[1:], ring[:1])
    alone = distance([ring[1]], [ring[0]])
    assert found.gap_mm == pytest.approx(alone.gap_mm, abs=1e-9)
    assert abs(cmath.phase(found.at_b) - math.pi / 2) < math.tau / 17


def test_both_sides_need_an_outline() -> None:
    with pytest.raises(ValueError, match="both sides"):
        distance([], [LEAF])


@pytest.mark.parametrize("seed", range(12))
def test_straight_lines_of_any_length_are_as_far_apart_as_shapely_says(seed: int) -> None:
    """Two crowds of lines from 0.05 to 50 mm, 60 mm from one another's middle: the nearest pair is found among them."""
    rng = np.random.default_rng(seed)
    crowds = []
    for middle in (0, 60):
        starts = middle + rng.uniform(-25, 25, 8) + 1j * rng.uniform(-25, 25, 8)
        ways = 10 ** rng.uniform(-1.3, 1.7, 8) * np.exp(2j * math.pi * rng.uniform(0, 1, 8))
        crowds.append([Line(complex(start), complex(start + way)) for start, way in zip(starts, ways, strict=True)])
    lines = [shapely.MultiLineString([[(s.start.real, s.start.imag), (s.end.real, s.end.imag)] for s in crowd])
             for crowd in crowds]  # fmt: skip
    found = segment_distance(*crowds)
    assert found.gap_mm == pytest.approx(float(lines[0].distance(lines[1])), abs=1e-9)
    assert abs(found.at_a - found.at_b) == pytest.approx(found.gap_mm, abs=1e-9)


def _lines(starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    ends_of_each = np.stack([starts, ends], axis=1)
    return np.asarray(shapely.linestrings(np.stack([ends_of_each.real, ends_of_each.imag], axis=-1)))


def test_chords_are_as_far_apart_as_shapely_says_and_points_of_both_have_that_distance() -> None:
    """400 pairs, a fifth of which cross; one chord of no length among them."""
    rng = np.random.default_rng(8)
    a0, a1, b0, b1 = rng.uniform(-1, 1, (4, 400)) + 1j * rng.uniform(-1, 1, (4, 400))
    a1[0] = a0[0]
    one, other = _lines(a0, a1), _lines(b0, b1)
    gaps, (t, s) = nearest._chord_gaps(a0, a1, b0, b1)
    assert gaps == pytest.approx(np.asarray(shapely.distance(one, other)), abs=1e-12)
    assert np.abs(a0 + t * (a1 - a0) - b0 - s * (b1 - b0)) == pytest.approx(gaps, abs=1e-12)
    assert ((t >= 0) & (t <= 1) & (s >= 0) & (s <= 1)).all()
    assert 40 < (gaps == 0).sum() < 200


def test_chords_that_meet_at_their_ends_cross_there_and_parallel_ones_nowhere() -> None:
    a, u = np.array([0j, 0j, 0j, 0j]), np.array([2 + 0j, 2 + 0j, 2 + 0j, 2 + 0j])
    b, v = np.array([0j, 2 - 1j, 1 + 0j, 2.001 - 1j]), np.array([1j, 1j, 3 + 0j, 1j])
    crosses, t, s = nearest._crossing(a, u, b, v)
    assert crosses.tolist() == [True, True, False, False]
    assert (t[:2].tolist(), s[:2].tolist()) == ([0, 1], [0, 1])


SEGMENTS: list[Segment] = [
    Line(0j, 5 + 1j), *HALF, Arc.from_circle(2j, 5, 0.2, 1.9), Arc.from_ellipse(1j, 6 + 0j, 2j, 1.0, -2.5)
]  # fmt: skip


def test_chords_stay_as_near_to_their_curves_as_they_say() -> None:
    """On circles a chord is r (1 - cos(h / 2)) off, next to which h^2 r / 8 is told."""
    table = SegmentTable.from_segments(SEGMENTS)
    every = np.arange(len(table))
    whole = nearest._Chords.cut(table, every, np.zeros(len(table)), np.ones(len(table)))
    rows = np.array([1, 3, 4, 5])
    fine = whole.finer(table, rows).finer(SegmentTable.from_segments(SEGMENTS), np.arange(16))
    assert fine.index.tolist() == np.repeat(rows, 16).tolist()
    assert fine.t == pytest.approx(np.tile(np.arange(16) / 16, 4))
    assert fine.step.tolist() == [1 / 16] * 64
    assert fine.end[:15] == pytest.approx(fine.start[1:16])
    for chords in (whole, fine):
        for index, t, step, a, b, off in zip(
            chords.index, chords.t, chords.step, chords.start, chords.end, chords.off, strict=True
        ):
            curve = np.array([SEGMENTS[index].point(t + step * k / 50) for k in range(51)])
            away = np.abs(curve - (a + np.arange(51) / 50 * (b - a))).max()
            assert away <= off + 1e-12
            assert off <= max(1e-12, 9 * away)
    assert fine.off[32:48] == pytest.approx(5 * 1.9**2 / 256 / 8)
    assert whole.off[4:] == pytest.approx([5 * 1.9**2 / 8, 6 * 2.5**2 / 8])


@pytest.mark.parametrize("block", [1, 7, 30, 500_000])
def test_pairs_that_may_be_the_closest_are_the_same_block_by_block(block: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """All pairs whose least possible distance is no more than the greatest possible one of some pair."""
    rng = np.random.default_rng(block)
    crowds = []
    for middle in (0, 3 + 2j):
        start = middle + rng.uniform(-2, 2, 12) + 1j * rng.uniform(-2, 2, 12)
        end = start + rng.uniform(-0.4, 0.4, 12) + 1j * rng.uniform(-0.4, 0.4, 12)
        off = rng.uniform(0, 0.05, 12)
        crowds.append(nearest._Chords(np.arange(12), np.zeros(12), np.ones(12), start, end, off))
    a, b = crowds
    apart = np.abs((a.start + a.end)[:, None] / 2 - (b.start + b.end) / 2)
    most = (apart + a.off[:, None] + b.off).min()
    reach = (np.abs(a.end - a.start) / 2 + a.off)[:, None] + np.abs(b.end - b.start) / 2 + b.off
    monkeypatch.setattr(nearest, "_BLOCK", block)
    rows, cols = nearest._possible(a, b)
    assert (
        sorted(map(list, zip(rows.tolist(), cols.tolist(), strict=True))) == np.argwhere(apart - reach <= most).tolist()
    )


def test_of_too_many_pairs_the_nearest_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Chords of a comb 0.001 mm further off each, on curves 0.1 mm away: any of them may win."""
    count = 20
    up = 1 + 0.001 * np.arange(count)[::-1]
    comb = nearest._Chords(np.arange(count), np.zeros(count), np.ones(count), 1j * up, 1j * up + 1, np.full(count, 0.1))
    floor = nearest._Chords(np.array([0]), np.zeros(1), np.ones(1), np.array([0j]), np.array([1 + 0j]), np.array([0.0]))
    rows, cols = np.arange(count), np.zeros(count, dtype=np.intp)
    assert len(nearest._kept(comb, rows, floor, cols)[0]) == count
    monkeypatch.setattr(nearest, "_MOST_PAIRS", 5)
    kept, ones, gaps, at = nearest._kept(comb, rows, floor, cols)
    assert kept.tolist() == [19, 18, 17, 16, 15]
    assert ones.tolist() == [0] * 5
    assert gaps == pytest.approx(up[kept])
    assert at.shape == (2, 5)
    comb.off[:] = 0.0001
    assert nearest._kept(comb, rows, floor, cols)[0].tolist() == [19]


def _step_of(apart: complex, va: complex, vb: complex, curved: tuple[complex, complex]) -> tuple[float, float]:
    """The step between two cubics that have these differences of place and these derivatives at a half."""
    segments = []
    for place, velocity, acceleration in ((apart, va, curved[0]), (0j, vb, curved[1])):
        # P(1/2 + h) = place + velocity h + acceleration h^2 / 2, as a cubic without a third derivative.
        p0, p3 = place - velocity / 2 + acceleration / 8, place + velocity / 2 + acceleration / 8
        v0, v3 = velocity - acceleration / 2, velocity + acceleration / 2
        segments.append(Cubic(p0, p0 + v0 / 3, p3 - v3 / 3, p3))
    return nearest._step(segments[0], 0.5, segments[1], 0.5)


@pytest.mark.parametrize("seed", range(8))
def test_a_step_is_newtons_or_without_curvature_that_of_gauss(seed: int) -> None:
    rng = np.random.default_rng(seed)
    apart, va, vb, pa, pb = (complex(*rng.uniform(-1, 1, 2)) for _ in range(5))

    def inner(p: complex, q: complex) -> float:
        return p.real * q.real + p.imag * q.imag

    slope = np.array([inner(apart, va), -inner(apart, vb)])
    bend = np.array(
        [[abs(va) ** 2 + inner(apart, pa), -inner(va, vb)], [-inner(va, vb), abs(vb) ** 2 - inner(apart, pb)]]
    )
    columns = np.array([[va.real, -vb.real], [va.imag, -vb.imag]])
    plain = np.linalg.lstsq(columns, -np.array([apart.real, apart.imag]), rcond=None)[0]
    is_hollow = bend[0, 0] > 0 and np.linalg.det(bend) > 0
    wanted = -np.linalg.solve(bend, slope) if is_hollow else plain
    assert _step_of(apart, va, vb, (pa, pb)) == pytest.approx(wanted)


def test_where_curves_run_side_by_side_each_steps_half_the_way_to_its_foot() -> None:
    assert _step_of(1 + 2j, 4 + 0j, 8 + 0j, (0j, 0j)) == pytest.approx((-1 / 8, 1 / 16))
    assert _step_of(1 + 2j, 0j, 8 + 0j, (0j, 0j)) == pytest.approx((0, 1 / 16))


def test_a_parameter_at_its_end_that_would_leave_stays_there() -> None:
    wall, away = Line(-2 + 0j, 6 + 0j), Line(1 + 1j, 1 + 5j)
    assert nearest._step(away, 0.0, wall, 0.5) == pytest.approx((0, -1 / 8))
    assert nearest._step(away.reversed(), 1.0, wall, 0.5) == pytest.approx((0, -1 / 8))
    assert nearest._step(wall, 0.5, away, 0.0) == pytest.approx((-1 / 8, 0))
    assert nearest._step(wall, 0.5, away.reversed(), 1.0) == pytest.approx((-1 / 8, 0))
    # Held both: two ends that look away from one another.
    assert nearest._step(away, 0.0, Line(0j, -3 - 3j), 0.0) == (0, 0)


def test_the_closest_pair_settles_in_a_few_rounds(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[float] = []
    plain = nearest._step

    def counted(a: Segment, t: float, b: Segment, s: float) -> tuple[float, float]:
        seen.append(t)
        return plain(a, t, b, s)

    monkeypatch.setattr(nearest, "_step", counted)
    one, other = Arc.from_circle(0, 5, -1, 2), Arc.from_circle(20 + 3j, 7, 2, 2)
    found = nearest._closest(one, 0.4, other, 0.6)
    assert found.gap_mm == pytest.approx(abs(20 + 3j) - 12, abs=1e-13)
    assert len(seen) <= 7
