"""Chords of outlines: where each begins and ends, on the curve it stands for."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.check.chords import to_chords
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle

LEAF = Outline((Cubic(0j, 4 - 3j, 9 - 3j, 12 + 0j), Cubic(12 + 0j, 9 + 3j, 4 + 3j, 1 + 1j), Line(1 + 1j, 0j)))


@pytest.fixture(scope="module")
def chords():  # type: ignore[no-untyped-def]
    return to_chords([Region(circle(5, 30), (LEAF.reversed(),)), Region(circle(80, 3))])


def test_chords_run_between_points_of_their_curves(chords) -> None:  # type: ignore[no-untyped-def]
    assert ((chords.t0 >= 0) & (chords.t0 < chords.t1) & (chords.t1 <= 1)).all()
    for k in range(len(chords.start)):
        segment = chords.outlines[chords.loop[k]].segments[chords.segment[k]]
        assert abs(segment.point(float(chords.t0[k])) - chords.start[k]) < 1e-9
        assert abs(segment.point(float(chords.t1[k])) - chords.end[k]) < 1e-9


def test_chords_follow_each_other_round_their_loop(chords) -> None:  # type: ignore[no-untyped-def]
    every = np.arange(len(chords.start))
    assert (chords.start[chords.after] == chords.end).all()
    assert (chords.after[chords.before] == every).all()
    assert (chords.loop[chords.after] == chords.loop).all()
    assert [chords.part[j] for j in range(3)] == [0, 0, 1]
    assert chords.is_outer.tolist() == [True, False, True]


def test_what_is_walked_adds_up_to_the_length_of_the_loop(chords) -> None:  # type: ignore[no-untyped-def]
    for j, outline in enumerate(chords.outlines):
        mine = np.flatnonzero(chords.loop == j)
        assert (mine == np.arange(chords.first[j], chords.first[j + 1])).all()
        steps = np.abs(chords.end[mine] - chords.start[mine])
        assert chords.along[mine] == pytest.approx(np.cumsum(steps) - steps, abs=1e-9)
        assert chords.loop_length[j] == pytest.approx(steps.sum())
        assert chords.loop_length[j] == pytest.approx(length_mm(outline), rel=2e-3)
