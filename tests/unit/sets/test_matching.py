"""Holes that match one way only, and notches that are counted: hidden, clear of every edge."""

from __future__ import annotations

import math

import pytest
import shapely
from fixtures.rows import KNIFE
from fixtures.sets import piece_of

from frameforge.errors import GeometryError
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.sets.layers import LayerSpec, layers_of
from frameforge.sets.matching import MatchHole, matching_holes, notch_row, ways_to_match


def cards(size: object, opening: object = None, *, border: float = 5.0) -> list[Region]:
    """The regions of a stack of three."""
    piece = piece_of(size, opening)  # type: ignore[arg-type]
    specs = [LayerSpec("a", border), LayerSpec("b", border)]
    return [layer.region for layer in layers_of(piece, specs, KNIFE, has_opening=opening is not None)]


@pytest.mark.parametrize(
    ("holes", "ways"),
    [
        ([(30j, 3)], 2),
        ([(30j, 3), (-30j, 3)], 4),
        ([(30j, 3), (-30j, 4.5)], 2),
        ([(30j, 3), (30 + 0j, 3)], 2),
        ([(30j, 3), (20 + 0j, 3)], 1),
        ([(30j, 3), (30 + 0j, 4.5)], 1),
    ],
)
def test_ways_to_match(holes: list[tuple[complex, float]], ways: int) -> None:
    """One hole, or two on one line through the middle, stay where they are in a flip over that line; two like ones at
    a right angle change places in a flip over the bisector."""
    assert ways_to_match([MatchHole(*hole) for hole in holes]) == ways


@pytest.mark.parametrize(("size", "opening"), [((150, 100), (110, 60)), (100, 80), ((120, 80), None)])
def test_two_unlike_holes_are_hidden_and_match_one_way(size: object, opening: object) -> None:
    stack = cards(size, opening)
    holes = matching_holes(stack, KNIFE, where="mat")
    assert ways_to_match(holes) == 1
    assert [hole.diameter_mm for hole in holes] == [3, 4.5]
    for hole in holes:
        disc = shapely.Point(hole.middle.real, hole.middle.imag).buffer(
            hole.diameter_mm / 2 + KNIFE.least_web_mm - 0.02
        )
        assert all(to_polygon(card).contains(disc) for card in stack)
        assert area_mm2(hole.outline()) == pytest.approx(-math.pi * hole.diameter_mm**2 / 4)


def test_narrow_card_takes_the_least_holes_and_too_narrow_card_none() -> None:
    assert [hole.diameter_mm for hole in matching_holes(cards(100, 87), KNIFE, where="mat")] == [2, 3]
    with pytest.raises(GeometryError, match=r"holes of 2 and 3 mm that match one way only; it must be 6 mm wide"):
        matching_holes(cards(100, 89), KNIFE, where="mat")


def test_notches_lie_side_by_side_where_every_card_is() -> None:
    stack = cards(100, 80)
    row = notch_row(stack, 3, KNIFE, where="mat")
    shapes = [to_polygon(Region(notch.reversed())) for notch in row]
    assert [shape.area for shape in shapes] == pytest.approx([4.84, 4.84, 4.84])
    assert min(a.distance(b) for a in shapes for b in shapes if a is not b) >= KNIFE.least_web_mm - 1e-9
    for card in stack:
        whole = to_polygon(card)
        assert all(whole.contains(shape.buffer(KNIFE.least_web_mm - 0.02)) for shape in shapes)
    with pytest.raises(GeometryError, match="no room for 3 notches"):
        notch_row(cards(100, 91), 3, KNIFE, where="mat")
