"""The guard: vertices at close approaches, in the right place and shared where curves touch."""

from __future__ import annotations

import cmath

import numpy as np
import pytest

from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Complexes
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.source import Source


def chords(*chains: tuple[Segment, ...]) -> list[Complexes]:
    """The vertices of each chain, guarded."""
    vertices = Source.from_chains(Chains.from_segments(chains).welded(), 0.01).vertices
    return np.split(vertices.point, vertices.first[1:-1])


@pytest.mark.parametrize("gap", [0.004, 1e-4, -1e-4, -0.02])
def test_circles_that_come_close_have_vertices_on_the_line_of_centres(gap: float) -> None:
    across = cmath.rect(1, 0.37)
    one, two = chords(circle(0, 10).segments, circle((15 + gap) * across, 5).segments)
    assert abs(one - 10 * across).min() < 1e-9
    assert abs(two - (10 + gap) * across).min() < 1e-9


def test_circles_that_touch_share_the_vertex() -> None:
    one, two = chords(circle(0, 10).segments, circle(15 * cmath.rect(1, 0.37), 5).segments)
    (common,) = set(one.tolist()) & set(two.tolist())
    assert common == pytest.approx(10 * cmath.rect(1, 0.37))


def test_curves_well_apart_get_nothing() -> None:
    far, _ = chords(circle(0, 10).segments, circle(15.05, 5).segments)
    alone = chords(circle(0, 10).segments)[0]
    assert far.tolist() == alone.tolist()


@pytest.mark.parametrize("inset", [0.02, 1e-4, -1e-4])
def test_a_corner_near_a_curve_drops_a_foot_on_it(inset: float) -> None:
    corner = cmath.rect(10 - inset, 0.4)
    spike = (Line(corner, corner - 3), Line(corner - 3, corner - 3j), Line(corner - 3j, corner))
    curve, _ = chords(circle(0, 10).segments, spike)
    assert abs(curve - cmath.rect(10, 0.4)).min() < 1e-9


def test_a_corner_on_a_curve_becomes_its_vertex() -> None:
    corner = cmath.rect(10, 0.4)
    spike = (Line(corner, corner - 3), Line(corner - 3, corner - 3j), Line(corner - 3j, corner))
    curve, corners = chords(circle(0, 10).segments, spike)
    assert corners[0] in curve


def test_curves_that_run_along_each_other_are_parted_at_common_places() -> None:
    inner, outer = chords(circle(0, 10).segments, circle(0, 10.003).segments)
    for angle in np.angle(inner):
        assert np.abs(np.angle(outer * cmath.rect(1, -angle))).min() < 1e-12


def test_what_lies_on_one_line_gets_the_same_new_vertices() -> None:
    tip = (Line(5 - 1e-3j, 4 - 4j), Line(4 - 4j, 6 - 4j), Line(6 - 4j, 5 - 1e-3j))
    low, high, _ = chords(rectangle(0, 0, 10, 5).segments, rectangle(2, -3, 8, 0).segments, tip)
    assert 5 in low
    assert 5 in high
