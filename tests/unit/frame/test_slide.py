"""Where chords cross levels, and directions of an outline at its joints: none at a corner, whichever side is asked."""

from __future__ import annotations

import math
import tracemalloc
from typing import Any

import numpy as np
import pytest

from frameforge.frame import slide
from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.profile import Complexes, Floats, Profile
from frameforge.frame.slide import _crossing, _View, slide_depth
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle


def test_a_corner_has_no_direction_and_a_smooth_joint_has() -> None:
    """A half disc: a flat side, then chords of the arc, with corners where they meet."""
    arc = Arc.from_circle(0j, 5, 0.0, math.pi)
    profile = Profile.from_outlines([Outline((Line(arc.end, arc.start), arc))])
    view = _View(Crowd.from_standings([Standing(profile, 1, 0j)]), 1)
    flat, first, last = 0, 1, len(profile.points) - 1
    assert view.direction(flat, 0.0) is None
    assert view.direction(flat, 1.0) is None
    assert view.direction(first, 0.0) is None
    assert view.direction(last, 1.0) is None
    for chord, part in ((flat, 0.5), (first, 0.5), (first, 1.0), (last, 0.0), (first + 2, 0.0), (first + 2, 1.0)):
        assert view.direction(chord, part) is not None
    along = view.direction(first + 1, 0.0)
    assert along is not None
    point = profile.points[first + 1]
    assert along / abs(along) == pytest.approx(1j * point / abs(point), abs=1e-6)


def one_by_one(starts: Complexes, ends: Complexes, level: float, side: int) -> tuple[float, int]:
    """Return the utmost place at which chords cross a level, and the first chord that does so there."""
    found = [(-math.inf, 0)]
    for k, (a, b) in enumerate(zip(starts.tolist(), ends.tolist(), strict=True)):
        if min(a.imag, b.imag) <= level <= max(a.imag, b.imag):
            level_end = max(side * a.real, side * b.real)
            part = 0.0 if a.imag == b.imag else (level - a.imag) / (b.imag - a.imag)
            found.append((level_end if a.imag == b.imag else side * (a.real + part * (b.real - a.real)), -k))
    place, chord = max(found)
    return side * place, -chord


@pytest.mark.parametrize("most", [1, 7, 1 << 19])
@pytest.mark.parametrize("side", [1, -1])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_utmost_crossing_is_found_however_many_are_looked_at_in_one_pass(
    seed: int, side: int, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Coordinates in whole mm: many chords end on a level, and some lie on one."""
    monkeypatch.setattr(slide, "_MOST_CROSSINGS", most)
    random = np.random.default_rng(seed)
    starts: Complexes = random.integers(-6, 7, 40) + 1j * random.integers(-6, 7, 40)
    ends: Complexes = np.roll(starts, -1)
    levels: Floats = random.permutation(np.arange(-8.0, 9.0))
    found = _crossing(starts, ends, levels, side=side)
    for level, place, chord in zip(levels.tolist(), found[0].tolist(), found[1].tolist(), strict=True):
        wanted, first = one_by_one(starts, ends, level, side)
        assert place == pytest.approx(wanted, abs=1e-12)
        if math.isfinite(wanted):
            assert (starts[chord], ends[chord]) == (starts[first], ends[first])


def test_thousands_of_chords_take_little_memory() -> None:
    """Every chord against every level would be 36 million places; each level is crossed by six chords at most."""
    turns = np.arange(6000) * math.tau / 6000
    points = (50 + np.cos(5 * turns)) * np.exp(1j * turns)
    lines = [Line(complex(a), complex(b)) for a, b in zip(points, np.roll(points, -1), strict=True)]
    profile = Profile.from_outlines([Outline(tuple(lines))])
    a, b = (Crowd.from_standings([Standing(profile, 1, place)]) for place in (0j, 100 + 0j))
    tracemalloc.start()
    try:
        depth = slide_depth(a, b).depth_mm
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    widths = 50 + np.cos(5 * np.array([0.0, math.pi]))
    assert depth == pytest.approx(float(widths.sum()) - 100, abs=0.7)
    assert peak < 50e6


def crowd(*corners: complex, at: complex = 0j, turn: complex = 1 + 0j) -> Crowd:
    """Return one copy of a polygon (corners counter-clockwise) where it stands."""
    return Crowd.from_standings([Standing(Profile.from_outlines([Outline.from_points(corners)]), turn, at)])


def round_one(radius: float, at: complex) -> Crowd:
    return Crowd.from_standings([Standing(Profile.from_outlines([circle(0, radius)]), 1, at)])


BLOCK = (-3 - 2j, 3 - 2j, 3 + 2j, -3 + 2j)
TURNS = [1, 1j, -1, (3 + 4j) / 5]


@pytest.mark.parametrize("turn", TURNS)
def test_blocks_stand_in_each_other_by_what_their_widths_share_along_the_line_between(turn: complex) -> None:
    """Two of 6 mm, their middles 5 mm apart: 1 mm; 6.5 mm apart: .5 mm of room."""
    found = slide_depth(crowd(*BLOCK, turn=turn), crowd(*BLOCK, at=5 * turn, turn=turn))
    assert found.depth_mm == pytest.approx(1.0, abs=1e-9)
    assert (found.on_a / turn).real == pytest.approx(3.0)
    assert (found.on_b / turn).real == pytest.approx(2.0)
    assert abs((found.on_a / turn).imag) <= 2 + 1e-9
    assert found.lean == pytest.approx(0, abs=1e-15)
    apart = slide_depth(crowd(*BLOCK, turn=turn), crowd(*BLOCK, at=6.5 * turn, turn=turn))
    assert apart.depth_mm == pytest.approx(-0.5, abs=1e-9)


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("distance", [4.0, 8.5])
def test_discs_stand_in_each_other_by_their_radii_less_the_distance(turn: complex, distance: float) -> None:
    found = slide_depth(round_one(5.0, 1 + 1j), round_one(3.0, 1 + 1j + distance * turn))
    assert found.depth_mm == pytest.approx(8 - distance, abs=1e-10)
    assert abs(found.on_a - 1 - 1j) == pytest.approx(5.0)
    assert abs(found.on_b - 1 - 1j - distance * turn) == pytest.approx(3.0)


def test_on_true_curves_a_corner_goes_as_deep_as_the_disc_is_wide_there() -> None:
    """A wedge with its corner 3 mm over the middle of a disc of 5 mm, whose edge is 4 mm out there."""
    wedge = crowd(-2 + 3j, 6 - 1j, 6 + 7j, at=5 + 0j)
    found = slide_depth(round_one(5.0, 0j), wedge)
    assert found.depth_mm == pytest.approx(4 - 3, abs=1e-10)
    assert (found.on_a, found.on_b) == (pytest.approx(4 + 3j), pytest.approx(3 + 3j))
    # The disc runs there with slope -4 : 3 to the line: (u + lean n) stands upright on that.
    assert found.lean == pytest.approx(3 / 4, abs=1e-6)


@pytest.mark.parametrize(("rise", "lean"), [(4.0, 0.25), (-4.0, -0.25)])
def test_a_lean_is_told_by_the_side_that_slants(rise: float, lean: float) -> None:
    """A side that goes back (or out) 1 mm on 4 mm of height: B that sinks comes to stand so much deeper (or less)."""
    slant = crowd(-5 - 8j, complex(2 + 8 / rise, -8), complex(2 - 8 / rise, 8), -5 + 8j)
    block = crowd(-1.5 + 0j, 6 - 1j, 6 + 1j, at=3 + 0j)
    found = slide_depth(slant, block)
    assert found.depth_mm == pytest.approx(0.5, abs=1e-9)
    assert (found.on_a, found.on_b) == (pytest.approx(2 + 0j), pytest.approx(1.5 + 0j))
    assert found.lean == pytest.approx(lean, abs=1e-9)


def test_hooks_that_reach_round_each_other_stand_in_each_other() -> None:
    """A hook 10 mm wide whose tip hangs down to y = 6, and within it a bar up to y = 7.5 that begins at x = 4."""
    hook = crowd(0j, 2 + 0j, 2 + 8j, 8 + 8j, 8 + 6j, 10 + 6j, 10 + 10j, 10j)
    bar = crowd(-16 + 3j, -14 + 3j, -14 + 7.5j, -16 + 7.5j, at=20 + 0j)
    found = slide_depth(hook, bar)
    assert found.depth_mm == pytest.approx(6.0, abs=1e-9)
    assert (found.on_a.real, found.on_b.real) == pytest.approx((10.0, 4.0))
    apart = slide_depth(crowd(*BLOCK), crowd(*BLOCK, at=20 + 0j))
    assert apart.depth_mm == pytest.approx(-14.0, abs=1e-9)


def test_where_no_level_is_shared_there_is_no_depth() -> None:
    found = slide_depth(crowd(*BLOCK), crowd(-1 + 6j, 1 + 6j, 1 + 8j, at=9 + 0j))
    assert found == slide.Slide(-math.inf, 0j, 9 + 0j, 0.0)


def test_of_places_that_are_as_deep_only_some_are_looked_at() -> None:
    """The deepest of each three chords side by side, three places at most, none under the least."""
    depth = np.array([1.0, 5.0, 4.9, 4.8, 2.0, 4.0, 3.0, 3.5, 4.95])
    chord = np.array([0, 10, 11, 12, 30, 13, 40, 50, 20])
    assert slide._summits(depth, chord, 3.0) == [1, 8, 5]
    assert slide._summits(depth, chord, 4.9) == [1, 8]
    assert slide._summits(depth, chord, 5.1) == []
    assert slide._summits(depth[:5], chord[:5], 0.5) == [1, 4, 0]


def test_a_window_goes_on_round_the_outline_on_both_sides() -> None:
    view = _View(crowd(*BLOCK), 1)
    chords, parts = view.window(0, 0.25, 0.5)
    places = list(zip(chords.tolist(), parts.tolist(), strict=True))
    assert len(places) == 35
    assert (places[0], places[-1]) == ((3, 0.75), (0, 0.75))
    assert (0, 0.0) in places
    assert 0 not in [part for chord, part in places if chord == 3]
    far = list(zip(*(array.tolist() for array in view.window(3, 0.5, 1.6)), strict=True))
    assert far[0] == (1, pytest.approx(0.9))
    assert far[-1] == (1, pytest.approx(0.1))


def test_the_deepest_of_sampled_stretches_lies_between_two_samples_of_the_other() -> None:
    """A at (5, 1) and lower; B rises from (2, 0) to (3, 2) and passes the level of A half way, at x = 2.5."""
    before = slide.Slide(-math.inf, 0j, 0j)
    a, b = np.array([1 - 3j, 5 + 1j, 1 + 9j]), np.array([2 + 0j, 3 + 2j])
    found, where = slide._deepest(a, b, before)
    assert (found.depth_mm, found.on_a, found.on_b) == pytest.approx((2.5, 5 + 1j, 2.5 + 1j))
    assert where == ((1, 0), 0.0, pytest.approx(0.5))
    mirrored, there = slide._deepest(-b.conj(), -a.conj(), before)
    assert (mirrored.depth_mm, mirrored.on_a, mirrored.on_b) == pytest.approx((2.5, -2.5 + 1j, -5 + 1j))
    assert there == ((0, 1), pytest.approx(0.5), 0.0)


def test_stretches_that_share_no_level_are_looked_at_in_their_middles_next() -> None:
    before = slide.Slide(1.25, 3 + 0j, 2 + 0j)
    a, b = np.array([0j, 1j, 2j, 3j, 4j]), np.array([9j, 10j, 11j])
    assert slide._deepest(a, b, before) == (before, ((2, 1), 0.0, 0.0))


class Flat:
    """Stands in for a view whose curve runs in one direction everywhere."""

    def __init__(self, along: complex | None) -> None:
        self.along = along

    def direction(self, chord: int, part: float) -> complex | None:
        return self.along


@pytest.mark.parametrize(
    ("one", "other", "lean"),
    [
        (30 - 40j, None, 0.75),
        (None, 30 - 40j, 0.75),
        (3 + 4j, 8 + 4j, -0.75),
        (10 + 0.21j, None, -10 / 0.21),
        (10 + 0.19j, None, 0.0),
        (10 + 0.19j, 3 + 4j, -0.75),
        (None, None, 0.0),
    ],
)
def test_a_lean_comes_from_the_first_curve_that_has_a_direction_and_is_not_level(
    one: complex | None, other: complex | None, lean: float
) -> None:
    views: Any = (Flat(one), Flat(other))
    assert slide._lean(views, ((0, 0.5), (0, 0.5))) == pytest.approx(lean)
