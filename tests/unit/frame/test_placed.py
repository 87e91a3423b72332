"""Regions looked up by place: which a part meets, what it shares with them, and what may lie in the middle."""

from __future__ import annotations

import pytest

from frameforge.frame.placed import Crowd, Placed, placed_leaves
from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.combine import Copies, union
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle

SQUARE = Region(rectangle(0, 0, 4, 4))
FRAME = Region(rectangle(-9, -9, 9, 9), (rectangle(-6, -6, 6, 6).reversed(),))


def test_leaves_are_regions_and_all_copies_where_they_stand() -> None:
    copies = Copies(SQUARE, (IDENTITY, Affine.from_move(10 + 0j)))
    found = [placed.region for placed in placed_leaves([FRAME, copies, union(SQUARE, FRAME)])]
    assert [bounds(region.outer).left for region in found] == [-9, 0, 10]
    assert found[0] == FRAME


def test_a_region_stands_where_it_is_placed_with_its_holes() -> None:
    placed = Placed(FRAME, Affine.from_move(100 + 0j))
    assert placed.shape.area == pytest.approx(18**2 - 12**2)
    assert placed.shape.bounds == (91, -9, 109, 9)
    assert bounds(placed.region.outer).right == 109


def test_a_part_meets_what_it_touches_in_the_order_given() -> None:
    items = [Placed(SQUARE, Affine.from_move(complex(x, 0))) for x in (8.0, 0.0, 4.0)]
    crowd = Crowd(items)
    assert not crowd.is_empty
    assert crowd.near(Placed(Region(rectangle(5, 1, 9, 2)))) == [items[0], items[2]]
    assert crowd.near(Placed(Region(rectangle(5, 5, 9, 6)))) == []
    assert crowd.near(Placed(Region(rectangle(12, 1, 15, 2)))) == [items[0]], "also where edges only touch"


def test_what_a_part_shares_with_all_of_them() -> None:
    crowd = Crowd([Placed(SQUARE), Placed(SQUARE, Affine.from_move(6 + 0j))])
    shared = crowd.overlap(Placed(Region(rectangle(3, 1, 8, 2))))
    assert sum(map(area_mm2, shared)) == pytest.approx(1 + 2)
    assert crowd.overlap(Placed(Region(rectangle(20, 1, 28, 2)))) == ()


def test_nothing_is_near_to_nothing() -> None:
    crowd = Crowd([])
    assert crowd.is_empty
    assert crowd.near(Placed(SQUARE)) == []
    assert crowd.overlap(Placed(SQUARE)) == ()
    assert not crowd.may_meet([SQUARE], IDENTITY)


@pytest.mark.parametrize(("x", "may"), [(0.0, True), (5.0, True), (6.99, True), (7.01, False), (20.0, False)])
def test_a_disc_round_the_middle_tells_what_may_meet(x: float, *, may: bool) -> None:
    """All lies within 5 mm of 0; a square of 4 mm may come nearer than its corners by half a side."""
    crowd = Crowd([Placed(Region(rectangle(-3, -4, 3, 4)))])
    assert crowd.may_meet([SQUARE], Affine.from_move(complex(x, 0))) is may
    assert not crowd.may_meet([], IDENTITY)


def test_round_regions_are_looked_at_by_all_their_outlines() -> None:
    crowd = Crowd([Placed(Region(circle(0, 5)))])
    ring = Region(circle(0, 40), (circle(0, 30).reversed(),))
    assert not crowd.may_meet([ring], IDENTITY)
    assert crowd.may_meet([ring, SQUARE], IDENTITY)
    assert crowd.may_meet([Region(circle(0, 40), (circle(0, 4).reversed(),))], IDENTITY)
