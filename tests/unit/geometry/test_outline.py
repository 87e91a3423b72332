"""Outlines and regions: closed to the bit, directions kept under mirrors."""

from __future__ import annotations

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle


def test_a_gap_is_refused() -> None:
    with pytest.raises(ValueError, match="gap"):
        Outline((Line(0, 1), Line(1, 1j), Line(1j, 1e-12)))


def test_a_chain_shares_its_joints_and_wide_gaps_get_a_line() -> None:
    chain = [Line(0, 1), Line(1 + 1e-8j, 1 + 1j), Line(1 + 1j, 1 + 1j), Line(1 + 1j, 1j)]
    outline = Outline.from_chain(chain, joint_mm=1e-7)
    assert [segment.start for segment in outline.segments] == [0, 1, 1 + 1j, 1j]
    assert area_mm2(outline) == pytest.approx(1)


def test_a_polygon_takes_equal_neighbours_once_and_needs_three_points() -> None:
    assert len(Outline.from_points([0, 0, 1, 1j, 0]).segments) == 3
    with pytest.raises(ValueError, match="three"):
        Outline.from_points([0, 1, 1])


def test_a_mirrored_region_keeps_outer_and_holes_the_right_way_round() -> None:
    region = Region(rectangle(0, 0, 10, 6), (circle(5 + 3j, 1).reversed(),))
    mirrored = region.transformed(Affine.from_mirror())
    assert area_mm2(mirrored) == pytest.approx(area_mm2(region))
    assert area_mm2(mirrored.outer) > 0 > area_mm2(mirrored.holes[0])
    assert region.segment_count == 5


def test_shapes_without_size_are_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        ellipse(0, 5, 0)
