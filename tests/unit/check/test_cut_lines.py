"""Findings of a file's lines as they lie there: open, doubled, crossing, too many. Places by construction."""

from __future__ import annotations

import cmath
import itertools
import math
import random

import numpy as np
import pytest
from fixtures.outlines import leaf_frame, ring

from frameforge.check import crossing, double_line
from frameforge.check.crossing import find_crossings
from frameforge.check.cut_lines import Line as CutLine
from frameforge.check.cut_lines import to_cut_lines
from frameforge.check.double_line import find_double_lines
from frameforge.check.many_points import find_many_points
from frameforge.check.open_line import find_open_lines
from frameforge.geometry.affine import Affine
from frameforge.geometry.along import Along
from frameforge.geometry.arc import Arc
from frameforge.geometry.combine import evaluate
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle


def _lines(*outlines: Outline) -> list[CutLine]:
    return [outline.segments for outline in outlines]


def _place(finding: object) -> complex:
    return complex(finding.x_mm, finding.y_mm)  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def frame() -> Region:
    (region,) = evaluate(leaf_frame()).regions
    return region


def test_nothing_is_found_in_a_good_file(frame: Region) -> None:
    lines = _lines(*frame.outlines, circle(200, 30), ellipse(300, 40, 20))
    assert find_open_lines(lines) == ()
    found = to_cut_lines(lines)
    assert find_double_lines(found) == ()
    assert find_crossings(found) == ()
    assert find_many_points(lines) == ()


@pytest.mark.parametrize("seed", range(20))
def test_an_open_line_is_found_at_its_end(seed: int) -> None:
    chance = random.Random(seed)
    along = Along.from_outline(ellipse(chance.uniform(-50, 50), chance.uniform(5, 60), chance.uniform(5, 60)))
    begin, gap = chance.uniform(0, along.length_mm), chance.uniform(0.01, 3)
    part = along.part(begin, begin + along.length_mm - gap)
    (found,) = find_open_lines([*_lines(ring(9, 5).outer), part])
    assert abs(_place(found) - along.point(begin - gap)) < 1e-6
    assert found.measured == pytest.approx(abs(along.point(begin) - along.point(begin - gap)), abs=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_a_stretch_cut_twice_is_found_with_its_length(seed: int, frame: Region) -> None:
    """Part of an outline lies there again, cut up otherwise and turned round."""
    chance = random.Random(seed)
    along = Along.from_outline(frame.outer)
    begin, length = chance.uniform(0, along.length_mm), chance.uniform(1.5, 60)
    again = tuple(segment.reversed() for segment in reversed(along.part(begin, begin + length)))
    (found,) = find_double_lines(to_cut_lines([frame.outer.segments, again]))
    assert found.measured == pytest.approx(length, abs=0.05)
    assert abs(_place(found) - along.point(begin + length / 2)) < 0.05


def test_a_whole_outline_doubled_is_found_once() -> None:
    twice = to_cut_lines(_lines(circle(0, 20), circle(0, 20).reversed(), circle(100, 5)))
    (found,) = find_double_lines(twice)
    assert found.measured == pytest.approx(40 * math.pi, abs=0.05)
    assert find_crossings(twice) == ()


def test_a_line_that_goes_round_twice_is_found() -> None:
    around = Along.from_outline(circle(0, 20)).part(0, 60 * math.pi)
    (found,) = find_double_lines(to_cut_lines([around]))
    assert found.measured == pytest.approx(20 * math.pi, abs=0.1)


@pytest.mark.parametrize("apart", [0.02, 0.1])
def test_lines_side_by_side_are_not_doubled(apart: float) -> None:
    assert find_double_lines(to_cut_lines(_lines(circle(0, 20), circle(0, 20 + apart)))) == ()


@pytest.mark.parametrize("seed", range(20))
def test_crossings_are_found_where_two_ovals_cross(seed: int) -> None:
    """Two circles cross in two points on their radical axis: closed form."""
    chance = random.Random(seed)
    r, s = chance.uniform(10, 40), chance.uniform(10, 40)
    d = chance.uniform(abs(r - s) + 1, r + s - 1)
    turn = cmath.rect(1, chance.uniform(0, 6))
    x = (d * d + r * r - s * s) / (2 * d)
    wanted = [turn * complex(x, sign * math.sqrt(r * r - x * x)) for sign in (1, -1)]
    found = [_place(finding) for finding in find_crossings(to_cut_lines(_lines(circle(0, r), circle(turn * d, s))))]
    assert len(found) == 2
    assert all(min(abs(place - z) for place in found) < 0.05 for z in wanted)


def test_lines_that_touch_do_not_cross() -> None:
    tangent = _lines(circle(0, 20), circle(30, 10), rectangle(-10, 20, 10, 30))
    assert find_crossings(to_cut_lines(tangent)) == ()


@pytest.mark.parametrize("turn_deg", [0, 17])
def test_a_crossing_in_a_joint_counts_and_a_touch_there_does_not(turn_deg: float) -> None:
    """A zigzag whose vertex lies on the side of a square and goes on, and one that turns back."""
    turn = Affine.from_turn(math.radians(turn_deg))
    square = rectangle(0, 0, 10, 10).transformed(turn).segments

    def path(*points: complex) -> CutLine:
        return [Line(turn.apply(a), turn.apply(b)) for a, b in itertools.pairwise(points)]

    through = path(5 + 15j, 5 + 10j, 6 + 5j)
    touching = path(4 + 15j, 5 + 10j, 6 + 15j)
    in_corner = path(-5 - 5j, 0j, 4 + 6j)
    assert [len(find_crossings(to_cut_lines([square, line]))) for line in (through, touching, in_corner)] == [1, 0, 1]


def test_a_figure_of_eight_crosses_itself() -> None:
    eight = Outline.from_points((0, 10 + 10j, 10, 10j))
    (found,) = find_crossings(to_cut_lines(_lines(eight)))
    assert _place(found) == pytest.approx(5 + 5j)


def test_a_scan_of_many_points_is_noted_and_a_drawing_is_not(frame: Region) -> None:
    scan = [Line(cmath.rect(50, math.tau * k / 3000), cmath.rect(50, math.tau * (k + 1) / 3000)) for k in range(3000)]
    (found,) = find_many_points([scan])
    assert (found.code, found.severity, found.measured) == ("many-points", "note", 3000)
    assert find_many_points(_lines(*frame.outlines)) == ()


def test_bits_too_short_to_follow_are_noted() -> None:
    bits = [Line(complex(0.019 * k), complex(0.019 * (k + 1))) for k in range(10)]
    (found,) = find_many_points([[*bits, Arc.from_circle(0, 5, 0, 3)]])
    assert (found.measured, found.say) == (
        10, "10 bits of line are shorter than 0.02 mm, too short to be followed. Simplify them.",
    )  # fmt: skip
    assert find_many_points([bits[1:]]) == ()
    assert find_many_points([[Line(0j, 0.0201 + 0j)] * 30]) == ()


BENT = [Line(0j, 4 + 0j), Line(4 + 0j, 4 + 3j), Line(4 + 3j, 10 + 3j)]


def test_places_and_neighbours_on_open_and_closed_lines() -> None:
    lines = to_cut_lines([BENT, rectangle(20, 0, 24, 2).segments])
    assert lines.is_closed == (False, True)
    assert lines.length == pytest.approx([13, 12])
    assert [lines.beside(k, -1) for k in (0, 1, 3, 6)] == [None, 0, 6, 5]
    assert [lines.beside(k, 1) for k in (1, 2, 3, 6)] == [2, None, 4, 3]
    assert [lines.point(0, along) for along in (0, 3, 4, 5.5, 13)] == [0, 3, 4, 4 + 1.5j, 10 + 3j]
    assert [lines.point(1, along) for along in (1, 4, 11, 13, -1)] == pytest.approx([21, 24, 20 + 1j, 21, 20 + 1j])
    which = np.array([0, 0, 1, 1, 1])
    assert lines.around(which, np.array([-9.0, 3, 5, 7, -8])).tolist() == [9, 3, 5, 5, 4]
    assert lines.direction[:3] == pytest.approx([1, 1j, 1])


def test_a_line_of_no_length_is_kept_as_a_bit_of_two_points() -> None:
    lines = to_cut_lines([[Line(2 + 1j, 2 + 1j)], BENT])
    assert lines.start[0] == 2 + 1j
    assert 0 < lines.length[0] < 1e-3
    assert lines.line.tolist() == [0, 1, 1, 1]


def test_which_chords_follow_on_one_another() -> None:
    lines = to_cut_lines([BENT, rectangle(20, 0, 24, 2).segments])
    a, b = np.array([0, 0, 2, 3, 3, 3, 5, 0]), np.array([1, 2, 3, 4, 6, 5, 6, 6])
    wanted = [True, False, False, True, True, False, True, False]
    assert crossing._are_neighbours(lines, a, b).tolist() == wanted


def test_arms_of_a_line_at_a_place() -> None:
    lines = to_cut_lines([BENT, rectangle(20, 0, 24, 2).segments])
    assert crossing._arms(lines, 1, 4 + 1j) == (-1j, 2j)
    assert crossing._arms(lines, 1, 4 + 0j) == (-4, 3j)
    assert crossing._arms(lines, 0, 4 + 0j) == (-4, 3j)
    assert crossing._arms(lines, 0, 0j) is None
    assert crossing._arms(lines, 2, 10 + 3j) is None
    assert crossing._arms(lines, 3, 20 + 0j) == (2j, 4)


@pytest.mark.parametrize("turn", [1, 1j, -1, cmath.rect(1, 2.3)])
def test_lines_part_one_another_where_one_arm_lies_on_each_side(turn: complex) -> None:
    right, left, up, down = turn, -turn, 1j * turn, -1j * turn
    assert crossing._is_parted(right, left, up, down)
    assert crossing._is_parted(right, left, down, up)
    assert crossing._is_parted(right, up, 2 * right + up, left)
    assert not crossing._is_parted(right, left, up, up + right)
    assert not crossing._is_parted(right, up, left, down)
    assert not crossing._is_parted(right, up, 2 * right + up, right + up)
    assert not crossing._is_parted(right, left, up, left * cmath.rect(1, math.radians(0.9)))
    assert crossing._is_parted(right, left, up, left * cmath.rect(1, math.radians(1.1)))


def test_inside_a_chord_is_further_from_both_ends_than_one_point() -> None:
    t = np.array([0.5, 0.0, 1.0, 0.5, 1e-12, 1 - 1e-12, 0.3])
    length = np.array([1.0, 1.0, 1.0, 1e-9, 1.0, 1.0, 20.0])
    assert crossing._is_inside(t, length).tolist() == [True, False, False, False, False, False, True]


@pytest.mark.parametrize("angle_deg", [0.5, 0.9, 1.1, 3])
def test_lines_at_less_than_a_degree_weave_and_do_not_cross(angle_deg: float) -> None:
    """Within a degree they are doubled lines."""
    way = cmath.rect(10, math.radians(angle_deg))
    lines = to_cut_lines([[Line(-10 + 0j, 10 + 0j)], [Line(-way, way)]])
    assert len(find_crossings(lines)) == (angle_deg > 1)


def test_crossings_nearer_than_a_twentieth_of_a_millimetre_are_one() -> None:
    across = [[Line(x - 5j, x + 5j)] for x in (0.024 + 0j, 0.051 + 0j, 0.09 + 0j, 2 + 0j)]
    found = find_crossings(to_cut_lines([[Line(-5 + 0j, 5 + 0j)], *across]))
    assert sorted(_place(finding).real for finding in found) == pytest.approx([0.024, 0.09, 2])


def test_where_two_values_that_run_lie_between_limits() -> None:
    """Of the stretch 0..10 of t: t / 2 - 1 between 0 and 2; -t; what stands still inside and outside; all of it."""
    at, slope = np.array([-1.0, 0, 1, 3, 0.5]), np.array([0.5, -1, 0, 0, 0.1])
    low, high = double_line._within(np.zeros(5), np.full(5, 10.0), at, slope, 0.0, 2.0)
    assert (low[[0, 1, 2, 4]].tolist(), high[[0, 1, 2, 4]].tolist()) == ([2, 0, 0, 0], [6, 0, 10, 10])
    assert low[3] > high[3]


def test_stretches_run_on_over_gaps_of_a_millimetre_and_over_the_seam() -> None:
    def runs(pairs: list[tuple[float, float]], whole: float = math.inf) -> list[tuple[float, float]]:
        begin, end = np.array(pairs).T
        return list(double_line._stretches(begin, end, whole))

    assert runs([(4, 6), (0, 3), (7.5, 9)]) == [(0, 6), (7.5, 9)]
    assert runs([(0, 8), (1, 2), (8.5, 9)]) == [(0, 9)]
    assert runs([(0, 3), (5, 6), (8, 10)], 11) == [(5, 6), (8, 14)]
    assert runs([(0, 3), (5, 6), (8, 9.9)], 11) == [(0, 3), (5, 6), (8, 9.9)]
    assert runs([(0, 3)], 3) == [(0, 3)]


@pytest.mark.parametrize(("off", "is_found"), [(0.0049, True), (0.0051, False)])
@pytest.mark.parametrize("is_turned", [False, True])
def test_doubled_lines_lie_within_five_thousandths(off: float, is_found: bool, is_turned: bool) -> None:
    """A line of 8 mm beside one of 20, 5 mm from its start; both ways round."""
    short = Line(5 + 1j * off, 13 + 1j * off)
    found = find_double_lines(to_cut_lines([[Line(0j, 20 + 0j)], [short.reversed() if is_turned else short]]))
    assert len(found) == is_found
    for finding in found:
        assert finding.measured == pytest.approx(8)
        assert _place(finding) == pytest.approx(9)


@pytest.mark.parametrize(("length", "is_found"), [(0.99, False), (1.01, True)])
def test_less_than_a_millimetre_together_is_no_doubled_line(length: float, is_found: bool) -> None:
    lines = to_cut_lines([[Line(0j, 20 + 0j)], [Line(5 - 9j, 5 + 0j), Line(5 + 0j, 5 + length + 0j)]])
    assert len(find_double_lines(lines)) == is_found


@pytest.mark.parametrize(("angle_deg", "is_found"), [(1.9, True), (2.1, False)])
def test_lines_that_run_two_degrees_apart_are_not_doubled(angle_deg: float, is_found: bool) -> None:
    """Short bits of a wave, each within five thousandths of the line under it."""
    way = cmath.rect(0.1, math.radians(angle_deg))
    points = [0.1 * math.cos(math.radians(angle_deg)) * k + (way.imag * 1j if k % 2 else 0) for k in range(41)]
    wave = [Line(complex(a), complex(b)) for a, b in itertools.pairwise(points)]
    assert bool(find_double_lines(to_cut_lines([[Line(-1 + 0j, 9 + 0j)], wave]))) == is_found
