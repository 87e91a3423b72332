"""What is told of the lines of a file, planted twenty times: its place within .05 mm, its measure, and silence at the
limit plus or minus .01 on the good side. Lines are built from the wanted measure, so no source is needed."""

from __future__ import annotations

import cmath
import itertools
import math
import random

import pytest

from frameforge.check.crossing import find_crossings
from frameforge.check.cut_lines import to_cut_lines
from frameforge.check.double_line import find_double_lines
from frameforge.check.many_points import find_many_points
from frameforge.check.open_line import find_open_lines
from frameforge.check.rough_outline import find_rough_outlines
from frameforge.finding import Finding
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.read.cut_drawing import CutDrawing
from frameforge.read.cut_svg import read_cut_svg

TWENTY = pytest.mark.parametrize("seed", range(20))


def chain(*points: complex) -> list[Segment]:
    return [Line(a, b) for a, b in itertools.pairwise(points)]


def place(finding: Finding) -> complex:
    assert finding.place is not None
    return finding.place


def laid(chance: random.Random) -> tuple[complex, complex]:
    """Return a place and a direction by chance."""
    return complex(chance.uniform(-80, 80), chance.uniform(-80, 80)), cmath.rect(1, chance.uniform(0, math.tau))


@TWENTY
def test_a_stretch_that_two_lines_share(seed: int) -> None:
    """A line of 60 and one beside it, .001 away, that lies along it for a stretch and then turns off."""
    chance = random.Random(seed)
    at, way = laid(chance)
    begin, length, away = chance.uniform(2, 20), chance.uniform(1.01, 30), 0.001j
    one = [at + way * z for z in (0j, 60 + 0j)]

    def beside(mm: float, apart: complex) -> list[Segment]:
        turned = (begin - 5 + 9j, begin + apart, begin + mm + apart, begin + mm + 4 - 7j)
        return chain(*(at + way * z for z in turned))

    (found,) = find_double_lines(to_cut_lines([chain(*one), beside(length, away)]))
    assert found.measured == pytest.approx(length, abs=0.02)
    assert abs(place(found) - at - way * (begin + length / 2)) < 0.05
    assert not find_double_lines(to_cut_lines([chain(*one), beside(0.97, away)])), "shorter than 1 mm"
    assert not find_double_lines(to_cut_lines([chain(*one), beside(length, 0.015j)])), "further apart than .005"


@TWENTY
def test_an_open_line_and_one_that_closes(seed: int) -> None:
    chance = random.Random(seed)
    at, way = laid(chance)
    gap = chance.uniform(0.01, 5)
    corners = [at + way * z for z in (0j, 20 + 0j, 20 + 9j, 9j, gap * 1j)]
    (found,) = find_open_lines([chain(*corners)])
    assert found.measured == pytest.approx(gap, abs=1e-9)
    assert abs(place(found) - corners[-1]) < 1e-9
    assert not find_open_lines([chain(*corners[:4], corners[0])])


@TWENTY
def test_two_lines_that_cross_and_two_that_stop_short(seed: int) -> None:
    chance = random.Random(seed)
    at, way = laid(chance)
    slant = cmath.rect(1, chance.uniform(0.1, math.pi - 0.1))
    one = chain(at - 30 * way, at + 25 * way)
    (found,) = find_crossings(to_cut_lines([one, chain(at - 12 * way * slant, at + 9 * way * slant)]))
    assert abs(place(found) - at) < 1e-9
    short = 0.01 / abs(slant.imag)
    assert not find_crossings(to_cut_lines([one, chain(at + short * way * slant, at + 9 * way * slant)]))


@TWENTY
def test_crossings_that_lie_together_are_told_once(seed: int) -> None:
    """Three lines through one spot, to within .02 mm, cross there three times; a place further on is one of its own."""
    chance = random.Random(seed)
    at, way = laid(chance)
    along = chain(at - 30 * way, at + 40 * way)
    turns = [cmath.rect(1, chance.uniform(0.8, 1.2)), cmath.rect(1, chance.uniform(1.9, 2.3))]
    spots = [at, at + 0.02 * way]
    others = [chain(spot - 9 * way * turn, spot + 9 * way * turn) for spot, turn in zip(spots, turns, strict=True)]
    assert len(find_crossings(to_cut_lines([along, *others]))) == 1
    apart = at + 0.2 * way
    found = find_crossings(
        to_cut_lines([along, *others[:1], chain(apart - 9 * way * turns[0], apart + 9 * way * turns[0])])
    )
    assert sorted(abs(place(one) - at) for one in found) == pytest.approx([0, 0.2], abs=1e-9)


@TWENTY
def test_a_scan_and_bits_too_short(seed: int) -> None:
    """More than 2000 bits of less than .4 mm on average; more than nine of less than .02 mm."""
    chance = random.Random(seed)
    at, way = laid(chance)
    count = chance.randint(2001, 4000)
    (found,) = find_many_points([chain(*(at + 0.39 * k * way for k in range(count + 1)))])
    assert (found.severity, found.measured) == ("note", count)
    assert not find_many_points([chain(*(at + 0.41 * k * way for k in range(count + 1)))]), "longer bits"
    assert not find_many_points([chain(*(at + 0.39 * k * way for k in range(2001)))]), "not so many"
    few = chance.randint(10, 60)
    (tiny,) = find_many_points([chain(*(at + 0.01 * k * way for k in range(few + 1)))])
    assert tiny.measured == few
    assert not find_many_points([chain(*(at + 0.03 * k * way for k in range(few + 1)))])


@TWENTY
def test_a_box_behind_a_drawing_and_one_that_leaves_a_rim(seed: int) -> None:
    """A page of any size, its background saved as a shape; boxes that leave .02 mm or more free are card."""
    chance = random.Random(seed)
    width, height, scale = chance.uniform(30, 200), chance.uniform(30, 200), chance.uniform(0.3, 4)

    def read(less_mm: float) -> CutDrawing:
        sides = f'x="5" y="-7" width="{(width - less_mm) * scale}" height="{height * scale}"'
        view = f'viewBox="5 -7 {width * scale} {height * scale}"'
        text = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" {view}>'
            f'<rect id="paper" {sides} fill="white"/><circle cx="{5 + 15 * scale}" cy="{-7 + 15 * scale}" '
            f'r="{9 * scale}"/></svg>'
        )
        return read_cut_svg(text.encode(), where="card.svg")

    (found,) = read(0.0).findings
    assert (found.code, found.severity, found.where) == ("white-box", "note", 'rect "paper"')
    assert not read(0.02).findings


@TWENTY
def test_places_that_could_not_be_made_exact(seed: int) -> None:
    chance = random.Random(seed)
    spots = [10 * k + laid(chance)[0] * 0.01 for k in range(chance.randint(1, 8))]
    found = find_rough_outlines([*spots, spots[0] + 0.03])
    assert [place(one) for one in found] == spots
    assert not find_rough_outlines(())


def test_an_open_line_whose_end_is_next_to_another_ones_is_told_so() -> None:
    """The first ends 0.4 mm before the second begins, and 30 mm from its own start; the second the other way round."""
    first, second = find_open_lines([chain(0, 30, 30 + 10j), chain(30.4 + 10j, 60 + 10j, 60 + 40j)])
    assert first.measured == pytest.approx(0.4, abs=1e-9)
    assert first.say == "This line is open; its end is 0.4 mm from the next one. Close it in your drawing program."
    assert place(first) == 30 + 10j
    assert second.measured == pytest.approx(math.hypot(29.6, 30), abs=1e-9)
    assert second.say.startswith("This line is open; its ends are 42.14 mm apart.")
