"""Regions."""

from __future__ import annotations

import pytest
from fixtures.outlines import leaf, ring

from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2


def test_outlines_come_outer_first_and_segments_are_counted() -> None:
    region = ring(5, 3)
    assert region.outlines == (region.outer, *region.holes)
    assert region.segment_count == 2
    assert leaf().segment_count == 7


def test_a_mirror_keeps_outer_outlines_counter_clockwise() -> None:
    mirrored = ring(5, 3).transformed(Affine.from_mirror(0.3))
    polygon = to_polygon(mirrored, 0.01)
    assert polygon.exterior.is_ccw
    assert not polygon.interiors[0].is_ccw
    assert area_mm2(mirrored) == pytest.approx(area_mm2(ring(5, 3)))
