"""The narrowest card and the narrowest slit of plain shapes, whatever a card can bear."""

from __future__ import annotations

import math

import pytest

from frameforge.check.thinnest import narrowest_slit_mm, thinnest_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle


def plate(*holes: Outline) -> Region:
    return Region(rectangle(-30, -30, 30, 30), tuple(hole.reversed() for hole in holes))


@pytest.mark.parametrize("apart", [0.4, 1.7, 5.2, 9.0])
def test_card_between_two_round_holes_is_as_thin_as_they_are_apart(apart: float) -> None:
    card = plate(circle(-5 - apart / 2, 5), circle(5 + apart / 2, 5), circle(16j, 2))
    assert thinnest_mm([card], 12.0) == pytest.approx(apart, abs=1e-9)
    assert thinnest_mm([card], apart) is None, "under a width that nothing is under there is nothing"


def test_the_narrowest_of_many_places_counts() -> None:
    card = plate(circle(-10, 4), circle(0, 4), circle(9.1, 4))
    assert thinnest_mm([card], 20.0) == pytest.approx(1.1, abs=1e-9)


@pytest.mark.parametrize("wide", [0.5, 1.3, 2.9])
def test_a_slit_is_as_wide_as_its_largest_disc_and_round_holes_are_none(wide: float) -> None:
    card = plate(ellipse(0, wide / 2, 9), circle(15, 0.4))
    assert narrowest_slit_mm([card], 3.0) == pytest.approx(wide, abs=1e-6)
    assert narrowest_slit_mm([plate(circle(15, 0.4))], 3.0) is None


def test_a_slot_that_is_open_counts_too() -> None:
    comb = Outline.from_points([0, 20, 20 + 10j, 11 + 10j, 11 + 2j, 10.3 + 2j, 10.3 + 10j, 10j])
    assert narrowest_slit_mm([Region(comb)], 3.0) == pytest.approx(0.7, abs=1e-9)


def test_two_parts_that_touch_nowhere_leave_a_slit_between() -> None:
    parts = [Region(rectangle(0, 0, 10, 10)), Region(rectangle(10.6, 0, 20, 10))]
    assert narrowest_slit_mm(parts, 3.0) == pytest.approx(0.6, abs=1e-9)


@pytest.mark.parametrize(("angle_deg", "is_width"), [(4.0, True), (11.0, False), (18.0, False), (24.0, False)])
def test_a_blunt_end_counts_where_its_sides_hardly_part(angle_deg: float, is_width: bool) -> None:
    """A thorn of 10 mm on a block, cut off .8 mm wide."""
    half = 0.4 + 10 * math.tan(math.radians(angle_deg / 2))
    thorn = [-20 - 20j, 20 - 20j, 20, half, 0.4 + 10j, -0.4 + 10j, -half, -20]
    found = thinnest_mm([Region(Outline.from_points(thorn))], 3.0)
    assert (found == pytest.approx(0.8, abs=0.05)) if is_width else (found is None or found > 1.2)
