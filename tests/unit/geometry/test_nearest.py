"""The closest pair of two outlines: closed forms, a brute second road, degenerate places."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.line import Line
from frameforge.geometry.nearest import distance, segment_distance
from frameforge.geometry.outline import Outline
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
