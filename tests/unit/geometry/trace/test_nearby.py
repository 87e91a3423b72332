"""The guard: vertices at close approaches, in the right place and shared where curves touch."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.segment_table import Complexes, SegmentTable
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace import nearby
from frameforge.geometry.trace.added import Added
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


@pytest.mark.parametrize("gap", [0.0, 0.02, -0.02])
@pytest.mark.parametrize("away", [-0.25, 0.1, 0.2])
def test_a_common_normal_of_two_circles_is_on_the_line_of_centres(gap: float, away: float) -> None:
    """Also of one in the other, and where they touch; found from a quarter of a radian off."""
    turn = 0.37
    one = Arc.from_circle(0, 10, turn - 1, 2)
    others = (
        Arc.from_circle((15 + gap) * cmath.rect(1, turn), 5, turn + math.pi - 1, 2),
        Arc.from_circle((5 + gap) * cmath.rect(1, turn), 5, turn + 1, -2),
    )
    table = SegmentTable.from_segments([one, *others])
    starts = np.full(2, 0.5 + away), np.array([0.5 - away, 0.5 - away])
    t, s, is_found = nearby._normal(table, np.array([0, 0]), starts[0], np.array([1, 2]), starts[1])
    assert is_found.tolist() == [True, True]
    assert t == pytest.approx([0.5, 0.5], abs=1e-10)
    assert s == pytest.approx([0.5, 0.5], abs=1e-10)


def test_normals_of_cubics_stand_square_on_both() -> None:
    low, high = Cubic(0j, 3 + 2j, 6 + 2j, 9 - 1j), Cubic(0 + 5j, 2 + 1j, 7 + 3j, 9 + 6j)
    table = SegmentTable.from_segments([low, high])
    (t,), (s,), found = nearby._normal(table, np.array([0]), np.array([0.4]), np.array([1]), np.array([0.5]))
    assert found[0]
    apart = high.point(s) - low.point(t)
    for velocity in (low.velocity(t), high.velocity(s)):
        assert (apart.conjugate() * velocity).real == pytest.approx(0, abs=1e-8)


def test_lines_that_are_not_parallel_have_no_common_normal() -> None:
    table = SegmentTable.from_segments([Line(0j, 10 + 0j), Line(1j, 10 + 2j), Line(3j, 10 + 3j)])
    for other in (1, 2):
        found = nearby._normal(table, np.array([0]), np.array([0.5]), np.array([other]), np.array([0.5]))[2]
        assert found.tolist() == [False]


def _source(*chains: tuple[Segment, ...], chord_mm: float = 0.01) -> Source:
    return Source.from_chains(Chains.from_segments(chains).welded(), chord_mm)


def test_the_strips_at_a_cusp_are_the_last_and_the_first_of_its_segments() -> None:
    """A thorn of 15 degrees on a square, and a corner of 30: only what turns back within 20 degrees is a cusp."""
    points = [0j, 30 + 0j, 30 + cmath.rect(25, math.radians(180 - 15)), 5 + 20j, -5 + 20j]
    chain = tuple(Line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True))
    source = _source(chain)
    before, after = nearby._strips_at_cusps(source.chains, source.strips)
    assert source.strips.segment[before].tolist() == [0]
    assert source.strips.segment[after].tolist() == [1]


def test_curves_that_meet_steeper_than_half_a_radian_part_at_once() -> None:
    """Lines through one point at 0.45 and 0.55 radians: the flat pair gets rungs, the other none."""
    for angle, rungs in ((0.45, True), (0.55, False)):
        table = SegmentTable.from_segments([Line(-1 + 0j, 1 + 0j), Line(-cmath.rect(1, angle), cmath.rect(1, angle))])
        for segments in (table, table.taken(np.array([1, 0]))):
            strips = _source((Line(-1 + 0j, 1 + 0j),), (Line(-cmath.rect(1, angle), cmath.rect(1, angle)),)).strips
            along = nearby._run_along(
                segments, strips, (np.array([0]), np.array([1])), (np.array([0.5]), np.array([0.5]))
            )
            assert along.tolist() == [rungs]


def test_loops_of_cubics_that_chords_may_overlook_get_their_crossing_and_their_far_point() -> None:
    loop = Cubic(0j, 12 + 6j, -8 + 6j, 4 + 0j)
    added = nearby._small_loops(SegmentTable.from_segments([Line(0j, 1 + 0j), loop]))
    assert added.segment.tolist() == [1, 1, 1]
    low, high, middle = added.t.tolist()
    assert abs(loop.point(low) - loop.point(high)) < 1e-9
    assert added.point[:2].tolist() == pytest.approx([loop.point(low)] * 2)
    assert middle == pytest.approx((low + high) / 2)
    assert added.point[2] == pytest.approx(loop.point(middle))
    assert low < 0.5 < high


def test_rungs_are_feet_of_one_strips_vertices_on_the_other_unless_there_are_too_many(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Circles 0.003 mm apart: the outer one gets the inner one's angles."""
    source = _source(circle(0, 10).segments, circle(0, 30).segments, circle(0, 10.003).segments)
    strips = source.strips
    one = np.flatnonzero(source.chains.chain[strips.segment] == 0)
    two = np.flatnonzero(source.chains.chain[strips.segment] == 2)
    pairs = np.repeat(one, len(two)), np.tile(two, len(one))
    added = nearby._rungs(source.chains, strips, *pairs, 0.025)
    assert len(added.t) > 0
    assert np.abs(added.point) == pytest.approx(np.full(len(added.t), 10.003))
    assert set(source.chains.chain[added.segment].tolist()) == {2}
    monkeypatch.setattr(nearby, "MOST_FEET", len(pairs[0]))
    assert len(nearby._rungs(source.chains, strips, *pairs, 0.025).t) == len(added.t)
    monkeypatch.setattr(nearby, "MOST_FEET", len(pairs[0]) - 1)
    assert len(nearby._rungs(source.chains, strips, *pairs, 0.025).t) == 0


def test_an_added_vertex_gets_feet_on_all_curves_near_it_but_not_on_its_neighbours() -> None:
    """The middle one of three bars 0.01 mm apart, its corner on the left at 1e-3 mm from the vertex added."""
    bars = [rectangle(0, low, 10, low + 3).segments for low in (0.0, 0.01, 0.02)]
    source = _source(*bars)
    added = Added(np.array([4]), np.array([1e-4]), np.array([0.001 + 0.01j]))
    found = nearby._rungs_at(source.chains, np.arange(12), source.strips, added, 0.025)
    order = np.argsort(found.segment)
    assert found.segment[order].tolist() == [0, 3, 8]
    assert found.point[order] == pytest.approx([0.001, 0.01j, 0.001 + 0.02j], abs=1e-12)
