"""Joined letters on an edge: slits that no tool cuts are shut, all else stays open."""

from __future__ import annotations

import pytest

from frameforge.frame.letter_feet import without_slits
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle

CARD = Region(rectangle(-20, -10, 20, 0), (circle(-5j, 0.2).reversed(),))
"""Card with a hole of .4 mm of its own."""


def bridge(left_mm: float, wide_mm: float) -> list[Region]:
    """Return a letter like an n on the edge at y = 0, its legs so far apart and 3 mm high inside."""
    legs = [rectangle(left_mm, -0.3, left_mm + 2, 5), rectangle(left_mm + 2 + wide_mm, -0.3, left_mm + 4 + wide_mm, 5)]
    bar = rectangle(left_mm, 3, left_mm + 4 + wide_mm, 5)
    return [Region(outline) for outline in (*legs, bar)]


def joined(*letters: Region) -> tuple[Region, ...]:
    found = evaluate(union(CARD, *letters))
    return without_slits(found, (CARD, *letters), 1.0).regions


@pytest.mark.parametrize(("wide_mm", "holes"), [(0.02, 1), (0.6, 1), (0.99, 1), (1.01, 2), (3.0, 2)])
def test_a_slit_between_letter_and_edge_is_card(wide_mm: float, holes: int) -> None:
    (card,) = joined(*bridge(0.0, wide_mm))
    assert len(card.holes) == holes
    enclosed = 400 + 2 * 2 * 5 + 2 * wide_mm - 0.04 * 3.14159265
    assert area_mm2(card) == pytest.approx(enclosed + (3 * wide_mm if holes == 1 else 0), abs=1e-5)


def test_a_narrow_hole_of_a_letter_itself_stays() -> None:
    letter = Region(rectangle(4, -0.3, 9, 8), (circle(6.5 + 5j, 0.3).reversed(),))
    (card,) = joined(letter, *bridge(-10.0, 0.5))
    assert sorted(round(bounds(hole).width_mm, 6) for hole in card.holes) == [0.4, 0.6]


def test_what_a_letter_leaves_of_a_hole_of_the_card_is_looked_at_anew() -> None:
    """The letter's foot lies over most of a wide hole: .5 mm of it are left, and shut."""
    card = Region(rectangle(-20, -10, 20, 0), (rectangle(0, -4, 6, -1).reversed(),))
    foot = Region(rectangle(-1, -6, 5.5, 5))
    found = evaluate(union(card, foot))
    assert len(found.regions[0].holes) == 1
    assert without_slits(found, (card, foot), 1.0).regions[0].holes == ()
