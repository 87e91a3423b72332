"""Loose parts tied, touches joined or parted, crumbs left out or filled."""

from __future__ import annotations

import cmath
import math

import pytest
from fixtures.mending import KNIFE, codes_left

from frameforge.check.thickness import thin_places
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.tie_places import tie_count, tie_places
from frameforge.mend.view import View
from frameforge.mend.whole import mend_piece


def plate(hole: float, *islands: Region) -> list[Region]:
    """Return a disc of 60 with a round hole, and islands in it."""
    return [Region(circle(0, 60), (circle(0, hole).reversed(),)), *islands]


def test_a_small_island_is_tied_by_one_strip_of_the_least_neck() -> None:
    mended = mend_piece(plate(9, Region(circle(2, 2))), KNIFE, ("loose",))
    assert len(mended.regions) == 1
    assert mended.left == ()
    (change,) = mended.changes
    # The gap is 5 mm where the circles come nearest; a strip of 1.51 mm across it, ends curved.
    assert change.added_mm2 == pytest.approx(5 * 1.51, abs=0.3)
    assert change.ties == 1


def test_a_larger_island_gets_two_ties_and_they_stand_opposite() -> None:
    mended = mend_piece(plate(20, Region(circle(3, 10))), KNIFE, ("loose",))
    assert len(mended.regions) == 1
    assert [place for place in thin_places(mended.regions, KNIFE.least_neck_mm) if place.kind != "tip"] == []
    (change,) = mended.changes
    assert change.ties == 2
    # The shortest way is 7 mm to the right, the one opposite is 13 mm to the left.
    assert change.added_mm2 == pytest.approx((7 + 13) * 1.51, abs=0.3)
    halves = sorted(bounds(hole).center.imag for hole in mended.regions[0].holes)
    assert halves[0] == pytest.approx(-halves[1], abs=1e-3)


def test_the_larger_the_more_ties_all_round() -> None:
    wide = tie_count(Region(circle(0, 30)), 1.5)
    assert [tie_count(Region(circle(0, r)), 1.5) for r in (2, 2.3, 5, 15, 40, 400)] == [1, 2, 2, 2, 5, 6]
    parts = [Region(circle(0, 60), (circle(0, 40).reversed(),)), Region(circle(0, 30))]
    ties = tie_places(View.from_regions(parts, KNIFE), parts[1], parts[:1], 1.5)
    assert len(ties) == wide == 4
    turns = sorted(math.degrees(cmath.phase(start / ties[0][0])) % 360 for start, _ in ties)
    assert turns == pytest.approx([0, 90, 180, 270], abs=0.5)
    assert all(abs(start) == pytest.approx(30, abs=1e-9) and abs(end) == pytest.approx(40) for start, end in ties)


def test_ties_keep_off_thin_card_and_off_ways_that_are_barred() -> None:
    """Opposite the first tie a hole .8 mm from the edge makes the plate thin; the second tie stands beside it."""
    hole = circle(-21.8, 1).reversed()
    parts = [Region(circle(0, 60), (circle(0, 20).reversed(), hole)), Region(circle(4, 8))]
    view = View.from_regions(parts, KNIFE)
    ties = tie_places(view, parts[1], parts[:1], 1.5)
    assert len(ties) == 2
    (thin,) = (place.middle for place in view.survey.card_places)
    assert abs(ties[1][1] - thin) >= 1.5 * 1.5


def test_far_walls_are_not_reached_for() -> None:
    """3 mm to the one side, 49 to the other: both ties stand where the way is short."""
    mended = mend_piece(plate(30, Region(circle(23, 4))), KNIFE, ("loose",))
    (change,) = mended.changes
    assert change.added_mm2 < 1.51 * 3 * (1 + 3) + 1


def test_a_thin_ring_round_a_disc_is_tied_to_it_on_its_inside() -> None:
    parts = [Region(circle(0, 20)), Region(circle(0, 26), (circle(0, 24).reversed(),))]
    mended = mend_piece(parts, KNIFE, ("loose",))
    assert len(mended.regions) == 1
    assert mended.changes[0].ties == 3
    assert bounds(mended.regions).width_mm == pytest.approx(52)


def test_parts_that_lie_side_by_side_in_a_drawing_are_left_apart_and_islands_are_tied() -> None:
    parts = [Region(circle(0, 30), (circle(0, 20).reversed(),)), Region(circle(0, 8)), Region(circle(70, 25))]
    mended = mend_piece(parts, KNIFE, ("loose",), joins_parts=False)
    assert len(mended.regions) == 2
    assert [change.ties for change in mended.changes] == [2]
    assert [finding.code for finding in mended.left] == ["loose"]


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
