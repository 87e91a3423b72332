"""Profiles: chords of outlines, each with the bit of true curve that it stands for."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.frame.profile import Profile
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import rectangle

ARC = Arc.from_circle(1 + 1j, 5, 0.0, math.pi).with_ends(6 + 1j, -4 + 1j)
"""From 6 + i over 1 + 6i to -4 + i."""
CUBIC = Cubic(-4 + 1j, -3 - 6j, 3 - 2j, 6 + 1j)
BOTH = Outline((ARC, CUBIC))
SQUARE = rectangle(10, 0, 14, 4)
PROFILE = Profile.from_outlines([SQUARE, BOTH])


def test_chords_run_from_point_to_point_of_their_own_outline() -> None:
    assert PROFILE.outlines == (SQUARE, BOTH)
    assert PROFILE.points[:4].tolist() == [10, 14, 14 + 4j, 10 + 4j]
    assert PROFILE.ends[:4].tolist() == [14, 14 + 4j, 10 + 4j, 10]
    assert PROFILE.following[:5].tolist() == [1, 2, 3, 0, 5]
    assert PROFILE.preceding[:5].tolist() == [3, 0, 1, 2, len(PROFILE.points) - 1]
    assert PROFILE.following[-1] == 4
    assert (PROFILE.ends == PROFILE.points[PROFILE.following]).all()
    assert (PROFILE.preceding[PROFILE.following] == np.arange(len(PROFILE.points))).all()


def test_every_chord_knows_its_bit_of_curve() -> None:
    assert PROFILE.segment[:4].tolist() == [0, 1, 2, 3]
    assert set(PROFILE.segment[4:].tolist()) == {4, 5}
    assert PROFILE.is_arc.tolist() == [False] * 4 + [True, False]
    for part, at in ((0.0, PROFILE.points), (1.0, PROFILE.ends)):
        segment, t = PROFILE.along(np.arange(len(at)), np.full(len(at), part))
        assert np.abs(PROFILE.curve(segment, t)[0] - at).max() < 1e-12
    middle = PROFILE.curve(*PROFILE.along(np.arange(4), np.full(4, 0.25)))[0]
    assert middle.tolist() == pytest.approx([11, 14 + 1j, 13 + 4j, 10 + 3j])


@pytest.mark.parametrize("t", [0.0, 0.3, 1.0])
def test_places_and_rates_on_lines_arcs_and_cubics(t: float) -> None:
    line, arc, cubic = (PROFILE.curve(np.array([k]), np.array([t])) for k in (0, 4, 5))
    assert [one[0] for one in line] == pytest.approx([10 + 4 * t, 4, 0])
    turn = 5 * cmath.exp(1j * math.pi * t)
    assert [one[0] for one in arc] == pytest.approx([1 + 1j + turn, 1j * math.pi * turn, -(math.pi**2) * turn])
    s, (p0, p1, p2, p3) = 1 - t, (CUBIC.start, CUBIC.c1, CUBIC.c2, CUBIC.end)
    assert [one[0] for one in cubic] == pytest.approx(
        [
            s**3 * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t**3 * p3,
            3 * (s * s * (p1 - p0) + 2 * s * t * (p2 - p1) + t * t * (p3 - p2)),
            6 * (s * (p0 - 2 * p1 + p2) + t * (p1 - 2 * p2 + p3)),
        ]
    )


def test_of_lines_and_cubics_alone_the_same_comes() -> None:
    straight = Profile.from_outlines([Outline((CUBIC, Line(6 + 1j, -4 + 1j)))])
    for t in (0.0, 0.3, 1.0):
        alone = straight.curve(np.array([0]), np.array([t]))
        assert [one[0] for one in alone] == pytest.approx(
            [one[0] for one in PROFILE.curve(np.array([5]), np.array([t]))]
        )


def test_chords_stay_as_near_to_the_curves_as_asked() -> None:
    for chord_mm in (0.5, 0.02):
        profile = Profile.from_outlines([BOTH], chord_mm)
        chords = np.arange(len(profile.points))
        middle = profile.curve(*profile.along(chords, np.full(len(chords), 0.5)))[0]
        off = np.abs(middle - (profile.points + profile.ends) / 2)
        assert off.max() <= chord_mm
        assert off.max() > chord_mm / 8


def test_so_many_chords_as_told_at_equal_steps() -> None:
    profile = Profile.from_chord_counts([SQUARE, BOTH], [np.array([1, 2, 1, 1]), np.array([4, 2])])
    assert len(profile.points) == 11
    assert profile.segment.tolist() == [0, 1, 1, 2, 3, 4, 4, 4, 4, 5, 5]
    assert profile.t0.tolist() == [0, 0, 0.5, 0, 0, 0, 0.25, 0.5, 0.75, 0, 0.5]
    assert profile.t1.tolist() == [1, 0.5, 1, 1, 1, 0.25, 0.5, 0.75, 1, 0.5, 1]
    assert profile.points[5:7].tolist() == pytest.approx([6 + 1j, 1 + 1j + 5 * cmath.exp(1j * math.pi / 4)])
