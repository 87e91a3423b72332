"""The largest disc and rectangle left: known by construction, and free of every piece."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sheet.design import Design, Placed, Sheet
from frameforge.sheet.off_cuts import off_cuts

SHEET = Sheet(200, 100)
RING = Design("ring", (Region(circle(0, 40), (circle(0, 30).reversed(),)),))
DISC = Design("disc", (Region(circle(0, 10)),))
BLOCK = Design("block", (Region(rectangle(0, 0, 100, 100)),))


def test_the_rest_beside_a_block_is_a_square_with_its_disc() -> None:
    (rest,) = off_cuts([Placed(0, 1, 50, 50, 0)], [BLOCK], SHEET)
    assert rest.opening_of is None
    assert rest.disc_mm == pytest.approx(100, abs=0.05)
    assert abs(rest.disc_at - (150 + 50j)) < 0.05
    assert (rest.rectangle.width_mm, rest.rectangle.height_mm) == pytest.approx((100, 100), abs=0.05)
    assert rest.rectangle.left >= 100


def test_an_opening_yields_its_disc_and_its_square() -> None:
    _, opening = off_cuts([Placed(0, 1, 50, 50, 0)], [RING], SHEET)
    assert opening.opening_of == 0
    assert opening.disc_mm == pytest.approx(60, abs=1e-6)
    assert type(opening.disc_mm) is float
    assert opening.rectangle.width_mm * opening.rectangle.height_mm == pytest.approx(1800, rel=0.02)
    corners = (
        opening.rectangle.left + 1j * opening.rectangle.bottom,
        opening.rectangle.right + 1j * opening.rectangle.top,
    )
    assert max(abs(corner - (50 + 50j)) for corner in corners) <= 30


def test_a_piece_in_the_opening_and_the_distance_asked_make_it_smaller() -> None:
    """Between a hole of radius 30 and a disc of radius 10 in its middle lies a disc of 20 across."""
    placed = [Placed(0, 1, 50, 50, 0), Placed(1, 1, 50, 50, 0)]
    _, opening = off_cuts(placed, [RING, DISC], SHEET, clear_mm=2)
    assert 16 - 0.05 < opening.disc_mm <= 16
    assert abs(opening.disc_at - (50 + 50j)) == pytest.approx(20, abs=0.02)


def test_what_was_used_before_is_not_left() -> None:
    (rest,) = off_cuts([], [], SHEET, [Region(rectangle(0, 0, 120, 100))], clear_mm=1)
    assert rest.disc_mm == pytest.approx(78, abs=0.05)
    assert math.isclose(rest.rectangle.left, 121, abs_tol=0.05)
    assert off_cuts([], [], SHEET, [Region(rectangle(0, 0, 195, 100))]) == ()
