"""Loose parts tied, touches joined or parted, crumbs left out or filled."""

from __future__ import annotations

import math

import pytest
from fixtures.mending import KNIFE, codes_left

from frameforge.check.thickness import thin_places
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.whole import mend_piece


def test_an_island_is_tied_by_a_strip_of_the_least_neck() -> None:
    ring, island = Region(circle(0, 30), (circle(0, 20).reversed(),)), Region(circle(3, 10))
    mended = mend_piece([ring, island], KNIFE, ("loose",))
    assert len(mended.regions) == 1
    assert mended.left == ()
    assert [place for place in thin_places(mended.regions, KNIFE.least_neck_mm) if place.kind != "tip"] == []
    (change,) = mended.changes
    # The gap is 7 mm where the circles come nearest; a strip of 1.51 mm across it, ends curved.
    assert change.added_mm2 == pytest.approx(7 * 1.51, abs=0.2)


def test_parts_in_a_row_are_tied_one_to_the_next() -> None:
    parts = [Region(circle(x, 10 - x / 10)) for x in (0, 25, 50)]
    mended = mend_piece(parts, KNIFE, ("loose",))
    assert len(mended.regions) == 1
    assert len(mended.changes) == 2


def test_a_crumb_of_card_is_left_out_and_the_largest_part_never() -> None:
    parts = [Region(rectangle(-40, -40, 40, 40)), Region(circle(60, 0.9))]
    mended = mend_piece(parts, KNIFE, ("card-crumb",))
    assert mended.regions == (parts[0],)
    assert mended.changes[0].removed_mm2 == pytest.approx(math.pi * 0.81)
    crumbs = [Region(circle(0, 0.5)), Region(circle(9, 0.6))]
    assert mend_piece(crumbs, KNIFE, ("card-crumb",)).regions == (crumbs[1],)


def test_a_crumb_of_waste_is_filled_only_when_it_is_named() -> None:
    piece = Region(rectangle(-40, -40, 40, 40), (circle(0, 1.05).reversed(),))
    assert mend_piece([piece], KNIFE, ("small-hole", "thin-web")).changes == ()
    assert mend_piece([piece], KNIFE, ("waste-crumb",)).regions[0].holes == ()


def test_discs_that_touch_are_joined_in_one_piece_and_parted_in_a_drawing_of_two() -> None:
    parts = [Region(circle(-10, 10)), Region(circle(10, 10))]
    joined = mend_piece(parts, KNIFE, ("point-touch",))
    assert len(joined.regions) == 1
    assert joined.left == ()
    assert [p for p in thin_places(joined.regions, KNIFE.least_neck_mm) if p.kind in ("neck", "web")] == []
    parted = mend_piece(parts, KNIFE, ("point-touch",), joins_parts=False)
    assert len(parted.regions) == 2
    assert parted.left == ()
    assert all(change.added_mm2 == 0 for change in parted.changes)


def test_holes_that_touch_get_card_between_them() -> None:
    piece = Region(circle(0, 30), (circle(-8, 8).reversed(), circle(8, 8).reversed()))
    mended = mend_piece([piece], KNIFE, ("point-touch",))
    assert mended.left == ()
    assert len(mended.regions[0].holes) == 2
    assert "thin-web" not in codes_left(mended.regions, KNIFE)


def test_a_near_miss_is_joined_as_wide_as_a_neck() -> None:
    """Two corners .05 apart: closing the slit alone would leave a thin neck."""
    left = Region(Outline.from_points([-0.025, -20 + 20j, -20 - 20j]))
    right = Region(Outline.from_points([0.025, 20 - 20j, 20 + 20j]))
    mended = mend_piece([left, right], KNIFE, ("near-miss",))
    assert len(mended.regions) == 1
    assert "thin-neck" not in codes_left(mended.regions, KNIFE)


def test_parts_of_a_drawing_that_all_but_touch_are_moved_apart() -> None:
    parts = [Region(circle(-10.02, 10)), Region(circle(10.02, 10))]
    mended = mend_piece(parts, KNIFE, ("near-miss",), joins_parts=False)
    assert len(mended.regions) == 2
    assert mended.left == ()
    assert area_mm2(mended.regions) < area_mm2(parts)
