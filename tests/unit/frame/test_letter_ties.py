"""Ties that hold the islands of letters, and bars that hold what would stand loose."""

from __future__ import annotations

import pytest

from frameforge.errors import GeometryError
from frameforge.frame.letter_ties import held_from_below, held_islands
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle


def ring(outer: float, inner: float) -> Region:
    return Region(circle(0, outer), (circle(0, inner).reversed(),))


def test_an_island_is_held_by_two_ties_of_the_width_asked() -> None:
    """A ring of 2 mm, parted above and below by ties 0.8 mm wide: 2 x 2 x 0.8 mm2 stay card, but for the arcs."""
    cut, ties = held_islands((ring(5, 3),), 0.8)
    assert ties == 2
    assert area_mm2((ring(5, 3),)) - area_mm2(cut) == pytest.approx(2 * 2 * 0.8, abs=0.02)
    assert all(not region.holes for region in cut)


def test_a_letter_without_an_island_stays_as_it_is() -> None:
    plain = (Region(circle(0, 5)),)
    assert held_islands(plain, 0.8) == (plain, 0)


def test_a_letter_too_small_for_its_ties_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"^letters are too small for ties 0\.8 mm wide\. Make them larger"):
        held_islands((ring(0.3, 0.15),), 0.8)


def test_what_would_stand_loose_gets_a_bar_down_to_the_baseline() -> None:
    """A dot stands 5 mm up; a hook as high has its middle beside its card, so that its bar goes where card is."""
    dot = Region(circle(6j, 1))
    (held,) = held_from_below((dot,), 0.3, 0.5)
    assert bounds(held).bottom == pytest.approx(0, abs=1e-12)
    hook = Region(Outline.from_points([-3 + 5j, 3 + 5j, 3 + 6j, -2 + 6j, -2 + 9j, 3 + 9j, 3 + 10j, -3 + 10j]))
    (held,) = held_from_below((hook,), 0.3, 1.0)
    assert bounds(held).bottom == pytest.approx(0, abs=1e-12)
    assert area_mm2(hook) + 5 <= area_mm2(held) < area_mm2(hook) + 6
    stem = Region(rectangle(0, 0, 1, 7))
    assert held_from_below((stem,), 0.3, 0.5) == (stem,)
