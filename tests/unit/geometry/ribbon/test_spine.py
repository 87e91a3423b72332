"""The core of a widened line: its runs, what is held back at their ends, and the ground it covers."""

from __future__ import annotations

import cmath
import math
from typing import Any

import numpy as np
import pytest
import shapely

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.ribbon import spine
from frameforge.geometry.ribbon.spine import Spine, spine_core

ZIGZAG = (Line(0j, 10 + 0j), Line(10 + 0j, 10 + 8j), Line(10 + 8j, 10.5 + 16j), Line(10.5 + 16j, 0 + 16j))
"""Sharp corners after the first and the third line; a bend of 3.6 degrees after the second."""


def _runs(*segments: Segment, closed: bool = False, round_joins: bool = False) -> list[tuple[int, str, str]]:
    found = spine._runs(Spine(segments, closed, round_joins, False))
    return [(len(run.segments), run.start, run.end) for run in found]


def test_a_line_is_taken_apart_at_its_sharp_corners() -> None:
    assert _runs(*ZIGZAG) == [(1, "end", "corner"), (2, "corner", "corner"), (1, "corner", "end")]
    assert _runs(*ZIGZAG, round_joins=True) == [(4, "end", "end")]
    assert _runs(*ZIGZAG[1:3]) == [(2, "end", "end")]


def test_a_closed_line_is_taken_apart_from_its_first_sharp_corner_on() -> None:
    home = Line(16j, 0j)
    assert _runs(*ZIGZAG, home, closed=True) == [(2, "corner", "corner")] + [(1, "corner", "corner")] * 3
    assert spine._runs(Spine((*ZIGZAG, home), True, False, False))[0].segments == ZIGZAG[1:3]
    assert _runs(*ZIGZAG, home, closed=True, round_joins=True) == []
    smooth = tuple(Arc.from_circle(0, 5, k * math.pi / 2, math.pi / 2) for k in range(4))
    assert _runs(*smooth, closed=True) == []


@pytest.mark.parametrize(("turn", "is_sharp"), [(0.49, False), (0.51, True), (-0.49, False), (-0.51, True)])
def test_corners_of_half_a_radian_are_sharp(turn: float, is_sharp: bool) -> None:
    bent = Line(0j, 5 + 0j), Line(5 + 0j, 5 + cmath.rect(4, turn))
    assert len(_runs(*bent)) == 1 + is_sharp
    assert spine._turn(*bent) == pytest.approx(abs(turn))


def test_ends_are_held_back_but_for_round_caps() -> None:
    run = spine._Run(ZIGZAG[:1], "end", "corner")
    assert run.trims(0.3, has_round_caps=True) == (0.0, 0.3)
    assert run.trims(0.3, has_round_caps=False) == (0.3, 0.3)


@pytest.mark.parametrize(("radius", "is_tight"), [(2.3, True), (2.5, False)])
def test_a_bend_under_one_and_a_fifth_half_widths_is_tight(radius: float, is_tight: bool) -> None:
    bend = Arc.from_circle(0, radius, 0, 1)
    straight = Line(bend.end, bend.end + 4j * cmath.rect(1, 1))
    assert spine._Run((bend, straight), "end", "end").are_tight(2.0) == (is_tight, False)
    back = spine._Run((straight.reversed(), bend.reversed()), "end", "end")
    assert back.are_tight(2.0) == (False, is_tight)


def test_radii_of_curvature_in_closed_form() -> None:
    """y = x^2 has the radius (1 + 4 x^2)^1.5 / 2."""
    bow = Cubic.from_quadratic(-2 + 4j, 0 - 4j, 2 + 4j)
    for t in (0.0, 0.3, 0.5, 1.0):
        x = -2 + 4 * t
        assert spine._radius(bow, t) == pytest.approx((1 + 4 * x * x) ** 1.5 / 2)
    assert spine._radius(Line(0j, 1j), 0.5) == math.inf
    assert spine._radius(Arc.from_circle(0, 3, 0, -1), 0.2) == pytest.approx(3)


def test_points_are_those_of_the_chords_joints_once() -> None:
    points = spine._points((Line(0j, 4 + 0j), Arc.from_circle(4 + 3j, 3, -math.pi / 2, math.pi / 2)), 0.01)
    assert points[:2].tolist() == [0, pytest.approx(4)]
    assert points[-1] == pytest.approx(7 + 3j)
    assert np.abs(points[1:] - 4 - 3j) == pytest.approx(np.full(len(points) - 1, 3))
    assert len(set(points.tolist())) == len(points)


def test_a_widened_line_is_cut_straight_and_held_back() -> None:
    line = np.array([0j, 10 + 0j])
    assert shapely.equals(spine._widened(line, 2.0), shapely.box(0, -2, 10, 2))
    assert shapely.equals(spine._widened(line, 2.0, (1, 3)), shapely.box(1, -2, 7, 2))
    assert spine._widened(line, 2.0, (4, 6)).is_empty
    assert spine._widened(line, 2.0, (4, 5.9)).area == pytest.approx(0.4)
    assert shapely.equals(spine._block(1 + 1j, 1j, 2.0, 3.0), shapely.box(-1, 1, 3, 4))


def _core(line: Spine, inset: float = 0.25) -> Any:
    return spine_core([line], 2.0, inset, 0.001)


def test_the_core_of_a_straight_line() -> None:
    """Cut straight it is held back by the inset; round ends have half discs."""
    line = (Line(0j, 10 + 0j),)
    assert shapely.equals(_core(Spine(line, False, False, False)), shapely.box(0.25, -1.75, 9.75, 1.75))
    rounded = _core(Spine(line, False, False, True))
    assert rounded.bounds == pytest.approx((-1.75, -1.75, 11.75, 1.75))
    assert rounded.area == pytest.approx(35 + math.pi * 1.75**2, rel=2e-3)


def test_the_core_of_an_angle_is_two_straight_strips_up_to_the_corner() -> None:
    core = _core(Spine(ZIGZAG[:2], False, False, False))
    wanted = shapely.union(shapely.box(0.25, -1.75, 10, 1.75), shapely.box(8.25, 0, 11.75, 7.75))
    assert shapely.symmetric_difference(core, wanted).area < 1e-9


def test_the_core_of_a_ring_has_no_seam() -> None:
    ring = tuple(Arc.from_circle(0, 6, k * math.pi / 2, math.pi / 2) for k in range(4))
    core = _core(Spine(ring, True, False, False))
    assert core.area == pytest.approx(math.pi * (7.75**2 - 4.25**2), rel=1e-3)
    assert len(core.interiors) == 1


@pytest.mark.parametrize("is_reversed", [False, True])
def test_a_tight_bend_at_an_end_does_not_reach_past_it(is_reversed: bool) -> None:
    """A hook of radius 1.5 under half a width of 2: nothing behind the cut at its end, an inset inside of it."""
    hook = Arc.from_circle(1.5j, 1.5, -math.pi / 2, math.pi)
    line: tuple[Segment, ...] = (hook, Line(3j, -12 + 3j))
    if is_reversed:
        line = tuple(segment.reversed() for segment in reversed(line))
    core = _core(Spine(line, False, True, False))
    beside = shapely.box(-0.2, -3, 0.2, 0.6)
    assert shapely.intersection(core, beside).area == pytest.approx(0, abs=1e-9)
    assert core.contains(shapely.Point(1.5, 0.8))
    assert core.contains(shapely.Point(-9, 4))
