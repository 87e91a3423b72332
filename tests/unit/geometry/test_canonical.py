"""The order of regions and holes."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.canonical import regions_of
from frameforge.geometry.outline import Outline


def square(left: float, bottom: float, size: float) -> Outline:
    corner = complex(left, bottom)
    return Outline.from_points([corner, corner + size, corner + size * (1 + 1j), corner + size * 1j])


def test_regions_and_holes_are_sorted_by_where_they_start() -> None:
    outlines = {0: square(10, 0, 5), 1: square(13, 1, 1), 2: square(11, 1, 1), 3: square(0, 0, 5)}
    regions = regions_of(outlines, np.array([0, 0, 0, 1]))
    assert [region.outer.segments[0].start for region in regions] == [0, 10]
    assert [hole.segments[0].start for hole in regions[1].holes] == [11 + 1j, 13 + 1j]


def test_a_polygon_whose_outer_ring_is_gone_is_gone() -> None:
    assert regions_of({1: square(1, 1, 1)}, np.array([0, 0])) == ()


def test_rounding_errors_do_not_change_the_order() -> None:
    outlines = {0: square(1e-12, 3, 1), 1: square(0, 5, 1)}
    regions = regions_of(outlines, np.array([0, 1]))
    assert [region.outer.segments[0].start.imag for region in regions] == [3, 5]
