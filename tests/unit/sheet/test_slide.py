"""Pieces moved together: onto the margin, apart by just the distance, alone in the middle of an opening."""

from __future__ import annotations

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.slide import slid
from frameforge.sheet.verify import faults_of

SHEET = Sheet(200, 150, margin_mm=5, apart_mm=3)
RING = Design("ring", (Region(circle(0, 30), (circle(0, 22).reversed(),)),))
DISC = Design("disc", (Region(circle(0, 10)),))
BLOCK = Design("block", (Region(rectangle(0, 0, 40, 20)),))


def test_a_lone_piece_goes_into_the_corner() -> None:
    (one,) = slid([Placed(2, 1, 120, 90, 0)], (RING, DISC, BLOCK), SHEET)
    assert (one.x_mm, one.y_mm) == pytest.approx((25, 15), abs=1e-4)


def test_the_next_one_stops_at_the_distance_asked() -> None:
    """A disc of radius 10 comes from the right against a block of 40 x 20: 45 + 3 + 10."""
    placed = [Placed(2, 1, 26, 16, 0), Placed(1, 1, 150, 15, 0)]
    block, disc = slid(placed, (RING, DISC, BLOCK), SHEET)
    assert disc.x_mm == pytest.approx(58, abs=2e-4)
    assert disc.y_mm == pytest.approx(15, abs=1e-4)
    assert disc.x_mm - 10 - (block.x_mm + 20) >= 3


def test_a_group_moves_as_one_and_its_lone_piece_to_the_middle() -> None:
    placed = [Placed(0, 1, 100, 80, 0), Placed(1, 1, 108, 80, 0, inside_of=0)]
    ring, disc = slid(placed, (RING, DISC, BLOCK), SHEET)
    assert (ring.x_mm, ring.y_mm) == pytest.approx((35, 35), abs=1e-4)
    assert (disc.x_mm, disc.y_mm) == pytest.approx((ring.x_mm, ring.y_mm), abs=1e-9)


def test_nothing_moves_twice_and_all_stays_proved() -> None:
    designs = (Design("ring", RING.regions, 2), Design("disc", DISC.regions, 3), Design("block", BLOCK.regions, 2))
    placed = [
        Placed(0, 1, 50, 50, 0), Placed(0, 2, 120, 60, 0), Placed(1, 1, 50, 52, 0, inside_of=0),
        Placed(1, 2, 90, 100, 0), Placed(1, 3, 170, 30, 0), Placed(2, 1, 150, 110, 90), Placed(2, 2, 60, 120, 0),
    ]  # fmt: skip
    once = slid(placed, designs, SHEET)
    assert faults_of(Layout((once,)), designs, SHEET) == ()
    again = slid(once, designs, SHEET)
    assert max(abs(complex(a.x_mm - b.x_mm, a.y_mm - b.y_mm)) for a, b in zip(once, again, strict=True)) < 2e-3


def test_what_was_cut_before_stops_a_piece() -> None:
    (one,) = slid([Placed(1, 1, 120, 60, 0)], (RING, DISC, BLOCK), SHEET, [Region(rectangle(0, 0, 60, 150))])
    assert one.x_mm == pytest.approx(73, abs=2e-4)
