"""Small holes enlarged in their shape, moved where there is card, or filled."""

from __future__ import annotations

import math

import pytest
from fixtures.mending import KNIFE, codes_left

from frameforge.geometry.measure import area_mm2, bounds, centroid
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.mend.whole import mend_piece


def plate(*holes: Outline) -> Region:
    """Return a plate of 80 x 40 with holes."""
    return Region(rectangle(-40, -20, 40, 20), tuple(hole.reversed() for hole in holes))


def holes_of(regions: tuple[Region, ...]) -> list[tuple[complex, float]]:
    """Return middle and diameter (of equal area) of all holes, from left to right."""
    found = [(centroid(hole), 2 * math.sqrt(abs(area_mm2(hole)) / math.pi)) for r in regions for hole in r.holes]
    return sorted(found, key=lambda hole: hole[0].real)


def test_a_hole_with_room_grows_about_its_middle() -> None:
    mended = mend_piece([plate(circle(3 + 2j, 0.8))], KNIFE, ("small-hole",))
    ((middle, across),) = holes_of(mended.regions)
    assert abs(middle - (3 + 2j)) < 1e-9
    assert across == pytest.approx(2.005)
    (change,) = mended.changes
    assert change.removed_mm2 == pytest.approx(math.pi * (1.0025**2 - 0.8**2), abs=0.01)
    assert change.added_mm2 == pytest.approx(0, abs=0.01)
    assert mended.left == ()


def test_a_hole_too_small_is_filled_since_that_changes_less() -> None:
    """(2 / d)^2 - 1 > 1 below d = 1.414."""
    mended = mend_piece([plate(circle(0, 0.7))], KNIFE, ("small-hole",))
    assert mended.regions[0].holes == ()
    assert mended.changes[0].added_mm2 == pytest.approx(math.pi * 0.49)


def test_a_hole_at_an_edge_moves_inwards_just_enough() -> None:
    before = plate(circle(40 - 1.5 - 0.75, 0.75))
    mended = mend_piece([before], KNIFE, ("small-hole",))
    ((middle, _),) = holes_of(mended.regions)
    assert middle.imag == pytest.approx(0, abs=1e-3)
    assert 40 - middle.real == pytest.approx(1.5 + 1.0, abs=0.05)
    assert codes_left(mended.regions, KNIFE) == ["waste-crumb"]


def test_two_neighbours_move_apart_alike() -> None:
    before = plate(circle(-1.5, 0.75), circle(1.5, 0.75))
    mended = mend_piece([before], KNIFE, ("small-hole",))
    (left, _), (right, _) = holes_of(mended.regions)
    assert left + right == pytest.approx(0, abs=1e-9)
    assert (right - left).real == pytest.approx(2 + 1.5, abs=0.05)


def test_holes_hemmed_in_are_filled_all_alike() -> None:
    strip = Region(rectangle(-20, -2.2, 20, 2.2), tuple(circle(x, 0.75).reversed() for x in (-10, 0, 10)))
    mended = mend_piece([strip], KNIFE, ("small-hole",))
    assert mended.regions[0].holes == ()
    assert [change.code for change in mended.changes] == ["small-hole"] * 3


def test_a_heart_stays_a_heart() -> None:
    """A hole of any shape is scaled: its box keeps its proportion."""
    half = [0.95 + 0.1j, 0.8 + 0.7j, 0.4 + 0.85j]
    points = [-0.9j, *half, 0.5j, *(-p.conjugate() for p in reversed(half))]
    heart = Outline.from_points(1.35 * p for p in points)
    mended = mend_piece([plate(heart)], KNIFE, ("small-hole",))
    assert mended.left == ()
    was, is_now = bounds(heart), bounds(mended.regions[0].holes[0])
    assert is_now.width_mm / is_now.height_mm == pytest.approx(was.width_mm / was.height_mm, abs=1e-9)
    assert is_now.width_mm > was.width_mm
