"""Builders of plain outlines."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.shapes import circle, ellipse, rectangle


def test_areas_and_bounds() -> None:
    assert area_mm2(circle(1 + 1j, 5)) == pytest.approx(25 * math.pi)
    assert area_mm2(ellipse(0, 6, 4)) == pytest.approx(24 * math.pi)
    assert area_mm2(rectangle(0, 1, 4, 3)) == pytest.approx(8)
    box = bounds(ellipse(1 + 1j, 6, 4))
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-5, -3, 7, 5))


def test_a_circle_is_one_arc_counter_clockwise_from_the_right() -> None:
    (arc,) = circle(2j, 3).segments
    assert arc.start == arc.end == 3 + 2j
    assert arc.point(0.25) == pytest.approx(5j)


@pytest.mark.parametrize("radii", [(0, 1), (1, -1), (math.nan, 1)])
def test_half_axes_must_be_above_nothing(radii: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        ellipse(0, *radii)
