"""Findings of a file's lines as they lie there: open, doubled, crossing, too many. Places by construction."""

from __future__ import annotations

import cmath
import itertools
import math
import random

import pytest
from fixtures.outlines import leaf_frame, ring

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

    crossing = path(5 + 15j, 5 + 10j, 6 + 5j)
    touching = path(4 + 15j, 5 + 10j, 6 + 15j)
    in_corner = path(-5 - 5j, 0j, 4 + 6j)
    assert [len(find_crossings(to_cut_lines([square, line]))) for line in (crossing, touching, in_corner)] == [1, 0, 1]


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
