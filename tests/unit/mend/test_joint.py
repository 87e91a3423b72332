"""Slivers taken out: neighbours that meet, or a short line across."""

from __future__ import annotations

from itertools import pairwise

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Outline
from frameforge.mend.joint import joined_over
from frameforge.tolerances import SLIVER_MM


def test_neighbours_that_meet_are_carried_on_to_the_corner() -> None:
    """A corner cut off by .01 mm comes back: 10 + 0j, on the lines of both neighbours."""
    square = Outline.from_points([10 + 0.007j, 10 + 10j, 10j, 0, 9.993])
    first = next(joined_over((square.segments[-1], *square.segments[:-1])))
    assert (first.before, first.after) == (1, 1)
    assert first.new[0].end == first.new[1].start == pytest.approx(10)
    assert (first.new[0].start, first.new[1].end) == (0, 10 + 10j)


def test_an_arc_is_carried_on_along_its_circle() -> None:
    arc = Arc.from_circle(0, 5, 0.0, 3.0)
    sliver, wall = Line(arc.end, arc.end - 0.008j), Line(arc.end - 0.008j, -9 - 4j)
    back = Line(wall.end, arc.start)
    found = next(joined_over((sliver, wall, back, arc)))
    assert isinstance(found.new[0], Arc)
    assert found.new[0].center == arc.center
    assert abs(found.new[0].end) == pytest.approx(5, abs=1e-9)


def test_a_step_between_parallel_edges_is_crossed_at_a_slant() -> None:
    step = Outline.from_points([0.01j, 10 + 0.01j, 10 + 5j, -10 + 5j, -10, 0])
    found = next(joined_over((step.segments[-1], *step.segments[:-1])))
    across = next(s for s in found.new if s.start.real < 0 < s.end.real or s.end.real > 0 > s.start.real)
    assert length_mm(across) >= SLIVER_MM
    assert length_mm(across) < 5 * SLIVER_MM
    chain = [*found.new]
    assert all(a.end == b.start for a, b in pairwise(chain))
    assert (chain[0].start, chain[-1].end) == (-10, 10 + 0.01j)


def test_a_tooth_of_several_slivers_goes_as_a_whole() -> None:
    tooth = [0.005, 0.005 + 0.01j, 0.011 + 0.01j, 0.011, 10, 10 - 5j, -10 - 5j, -10]
    segments = Outline.from_points(tooth).segments
    found = next(one for one in joined_over((*segments[1:], segments[0])) if one.before + one.after > 2)
    assert all(length_mm(segment) >= SLIVER_MM for segment in found.new)


def test_nothing_is_left_of_an_outline_of_two() -> None:
    lens = Arc.from_bulge(0, 0.01, 0.3), Arc.from_bulge(0.01, 0, 0.3)
    assert list(joined_over(lens)) == []
