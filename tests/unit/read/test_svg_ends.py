"""Ends that bend more tightly than the pen become straight, within a thousandth of a millimetre."""

from __future__ import annotations

import itertools
import math

import pytest

from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.read.svg import read_drawing
from frameforge.read.svg_ends import halved, with_straight_ends


def test_a_handle_of_no_length_makes_a_straight_start() -> None:
    """Near such an end P(t) = 3 t^2 a + ..., so the radius of its bend goes to nothing with t."""
    curve = Cubic(0j, 0j, 20 + 30j, 60 + 0j)
    first, rest = with_straight_ends((curve,), 2.0)
    assert isinstance(first, Line)
    assert (first.start, first.end, rest.end) == (0j, rest.start, 60 + 0j)
    assert 0 < abs(first.end) < 0.5
    for k in range(1, 200):
        t = k / 200
        velocity, acceleration = rest.velocity(t), rest.acceleration(t)
        assert abs(velocity) ** 3 >= 2.0 * abs((velocity.conjugate() * acceleration).imag)


def test_both_ends_are_looked_at() -> None:
    chain = with_straight_ends((Cubic(0j, 0j, 20 + 30j, 60 + 0j), Cubic(60 + 0j, 70 + 30j, 90 + 5j, 90 + 5j)), 2.0)
    assert [type(segment) for segment in chain] == [Line, Cubic, Cubic, Line]
    assert all(a.end == b.start for a, b in itertools.pairwise(chain))
    assert chain[-1].end == 90 + 5j


def test_gentle_ends_and_lines_are_left_as_they_are() -> None:
    gentle = (Cubic(0j, 10 + 10j, 20 + 10j, 30 + 0j),)
    assert with_straight_ends(gentle, 2.0) == gentle
    assert with_straight_ends((Line(0j, 5 + 0j),), 2.0) == (Line(0j, 5 + 0j),)
    assert with_straight_ends((), 2.0) == ()


def test_a_hook_that_is_to_be_seen_stays_a_hook() -> None:
    hook = (Cubic(0j, 2 + 0j, 2 + 1j, -30 + 1j),)
    assert with_straight_ends(hook, 5.0) == hook


def test_halves_meet_in_the_middle_of_a_segment() -> None:
    first, second = halved((Line(0j, 4 + 0j), Line(4 + 0j, 4 + 6j), Line(4 + 6j, 0j)))
    assert (first[-1].end, second[0].start) == (4 + 3j, 4 + 3j)
    assert (len(first), len(second)) == (2, 2)


def test_an_open_line_back_to_its_start_has_one_disc_there() -> None:
    """A triangle drawn open with a round cap and mitred corners, by closed form.

    Sides 30, 40, 50 and a pen of 2: band of both sides is 2 * 120 less what the corners fold; mitres at the two drawn
    corners fold as much as they add; at the open corner of 2 q = atan(4/3) the wedge outside is a sector of the disc,
    (pi - 2 q) / 2, and r^2 / tan(q) is folded inside.
    """
    text = (
        '<svg width="99mm" height="99mm" viewBox="0 0 99 99"><path fill="none" stroke="red" stroke-width="2" '
        'stroke-linecap="round" d="M10 10H40V50L10 10"/></svg>'
    )
    (ring,) = read_drawing(text.encode(), where="leaf.svg").join
    q = math.atan2(4, 3) / 2
    assert area_mm2(ring) == pytest.approx(240 + (math.pi - 2 * q) / 2 - 1 / math.tan(q), rel=1e-9)
