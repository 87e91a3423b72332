"""Which ways a tie may take from a loose part to what is held: what each costs, by hand on straight edges."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
import shapely
from fixtures.plain_motifs import plain_rectangle

from frameforge.frame import part_ties as ties
from frameforge.geometry.measure import bounds
from frameforge.tolerances import JOINT_MM, ROOT_MM

BLOCK = shapely.box(-10, 4, 10, 8)
WALL = shapely.box(-20, 0, 20, 2)
NO = np.zeros(2)


def many(*points: complex) -> np.ndarray:
    return np.array(points, dtype=np.complex128)


def test_the_card_below_a_foot_ends_half_a_tie_in_from_its_ends() -> None:
    assert ties._ground(5.0, 1.5).bounds == (-4.25, -ROOT_MM, 4.25, 0.0)
    assert ties._ground(0.5, 1.5).bounds == (-JOINT_MM, -ROOT_MM, JOINT_MM, 0.0)


def test_how_far_a_way_passes_beside_the_middle() -> None:
    found = ties._aside(many(3 + 0j, 0, 2 + 2j), many(3 - 5j, 4, 2 + 2j), 0j)
    assert np.abs(found) == pytest.approx([3, 0, 0])
    assert np.abs(ties._aside(many(3 + 1j), many(7 + 1j), 1 + 0j)) == pytest.approx([1])


def test_how_far_a_way_is_from_upright() -> None:
    """Down 0, up a tenth, level 1, under 30 degrees to the upright a half."""
    way = many(-5j, 5j, 5, cmath.rect(4, -math.pi / 3), cmath.rect(4, math.pi / 3), 0)
    assert ties._askew(way * 0, way) == pytest.approx([0, 0.1, 1, 0.5, 0.6, 0])


def test_a_way_must_leave_the_part_that_it_begins_at() -> None:
    """From the block down and away, from its lower edge up through it, and along its edge."""
    a, b = many(0 + 4j, 0 + 4j, -10 + 4j), many(0 + 2j, 0 + 12j, 20 + 4j)
    assert ties._is_free(a, b, BLOCK).tolist() == [True, False, False]
    assert ties._is_free(a[::-1], b[::-1], BLOCK).tolist() == [True, False, True], "the first is taken at its word"


def test_the_lowest_point_of_an_edge_straight_below_the_middle() -> None:
    ring = BLOCK.exterior
    assert ties._below(ring, shapely.Point(3, 6)).coords[0] == (3, 4)
    assert ties._below(ring, shapely.Point(3, 60)).coords[0] == (3, 4)
    aside = shapely.Point(30, 6)
    assert ties._below(ring, aside) is aside


def test_a_tie_that_stands_out_beside_the_card_is_counted_at_each_end() -> None:
    """1.5 mm wide: .5 mm from the corner of the block it stands out there, beyond the wall's end at both."""
    short = shapely.box(-10, 0, 9, 2)
    a, b = many(0 + 4j, 9.5 + 4j, 9.1 + 4j), many(0 + 2j, 9.5 + 2j, 9.1 + 2j)
    assert ties._is_beside(a, b, 1.5, BLOCK, WALL).tolist() == [0, 1, 0]
    assert ties._is_beside(a, b, 1.5, BLOCK, short).tolist() == [0, 2, 1]
    assert ties._is_beside(a, b, 1.5, BLOCK, shapely.GeometryCollection([WALL])).tolist() == [0, 1, 0]


@pytest.mark.parametrize(
    ("deep", "sunk"),
    [(9.0, 0.6), (0.61, 0.6), (0.59, 0.4), (0.41, 0.4), (0.39, 0.2), (0.21, 0.2), (0.19, 1.2), (0.0, 1.2)],
)
def test_a_strip_is_carried_on_until_its_end_lies_in_card(deep: float, sunk: float) -> None:
    """Three tenths of its 2 mm, where the card is so deep; less into thin card, and nowhere more than six tenths."""
    card = shapely.box(-5, -deep, 5, 0) if deep else shapely.box(-5, 1, 5, 2)
    assert ties._sunk(0j, -1j, 2.0, card) == pytest.approx(sunk)


def test_a_strip_is_carried_on_further_until_it_lies_in_card_all_across() -> None:
    """Beside the middle of a strip 2 mm wide card begins as much lower as the edge slopes on 1 mm: .25, .7 and 1 mm."""
    for slope, sunk in [(0.25, 0.6), (0.59, 0.6), (0.7, 0.8), (1.0, 1.0), (1.3, 1.4), (1.9, 2.0), (2.1, 1.2)]:
        card = shapely.Polygon([(-20, 20 * slope), (20, -20 * slope), (20, -60), (-20, -60)])
        assert ties._sunk(0j, -1j, 2.0, card) == pytest.approx(sunk)


def box_of(start: complex, end: complex, width_mm: float) -> tuple[float, ...]:
    box = bounds(ties._strip(start, end, width_mm, BLOCK, WALL).outer)
    return tuple(round(side, 9) for side in (box.left, box.bottom, box.right, box.top))


def test_a_strip_runs_from_card_to_card() -> None:
    assert box_of(1 + 4j, 1 + 2j, 1.5) == (0.25, 2 - 0.45, 1.75, 4 + 0.45)


def test_a_strip_through_a_point_goes_the_way_in_which_it_is_sunk_least() -> None:
    at_joint = ties._strip(0j, 0j, 1.5, shapely.box(-5, -4, 5, 0), shapely.box(-5, 0, 5, 4))
    box = bounds(at_joint.outer)
    assert (box.left, box.right) == pytest.approx((-0.75, 0.75))
    assert box.height_mm == pytest.approx(0.9)


def test_a_way_is_turned_square_to_the_edge_where_that_is_about_as_short() -> None:
    ring, cluster = BLOCK.exterior, shapely.GeometryCollection([WALL])
    assert ties._straight(ring, cluster, 1 + 4j, 1.3 + 2j) == (1 + 4j, 1 + 2j)
    tilted = shapely.GeometryCollection([shapely.Polygon([(-20, 2), (20, -6), (20, -9), (-20, -9)])])
    end = 1 + 4j + cmath.rect(6.2 * math.cos(math.atan(0.2)), -math.pi / 2 - math.atan(0.2))
    start, hit = ties._straight(ring, tilted, 1 + 4j, end)
    assert (start, hit.real) == (1 + 4j, pytest.approx(1.0))
    assert hit.imag == pytest.approx(2 - 21 / 5)


def test_a_way_stays_where_square_to_the_edge_is_far_longer_or_it_has_no_length() -> None:
    ring = BLOCK.exterior
    far = shapely.GeometryCollection([shapely.box(5, 0, 9, 2)])
    assert ties._straight(ring, far, 2 + 4j, 5 + 2j) == (2 + 4j, 5 + 2j)
    assert ties._straight(ring, far, 6 + 4j, 6 + 4j) == (6 + 4j, 6 + 4j)


def test_of_ways_about_as_short_the_one_by_the_middle_is_taken_and_the_upright_one() -> None:
    def one(a: np.ndarray, b: np.ndarray, beside: np.ndarray = NO) -> complex:
        return ties._one(a, b, np.abs(b - a), 0j, beside)[0]

    # Straight down beside the middle against through it: .15 for 4 mm of 5 beside it is .75 mm of length.
    a = many(-5j, 4 - 3j)
    assert one(a, many(-8j, 4 - 6j)) == -5j
    assert one(a, many(-8.7j, 4 - 6j)) == 4 - 3j
    assert one(a, many(-8.5j, 4 - 6j)) == -5j
    # A tie that stands out beside the card costs .4 of the part's size, which is 2 mm here.
    assert one(a, many(-8j, 4 - 6j), np.array([1.0, 0.0])) == 4 - 3j
    assert one(a, many(-8j, 4 - 8.5j), np.array([1.0, 0.0])) == -5j
    # Level or upright, as long and both through the middle.
    assert one(many(5, -5j), many(8, -8j)) == -5j
    assert one(many(5j, -5j), many(8j, -8j)) == -5j


def two(
    places: list[float],
    ends: list[complex],
    beside: list[float] | None = None,
    *,
    most: float = 9.0,
    clear: float = 3.0,
) -> tuple[int, int] | None:
    """Return the pair taken of ways from the lower edge (y = 0) of a bar 20 mm long, 48 mm round, down to ``ends``."""
    a, b = many(*places), many(*ends)
    return ties._two(a, b, np.array(places) % 48, 48.0, 10 + 0j, most, clear, np.array(beside or [0.0] * len(places)))


def test_two_ties_too_long_too_near_or_on_one_side_are_none() -> None:
    assert two([0.0, 20.0], [-3j, 20 - 3j]) == (0, 1)
    assert two([0.0, 20.0], [-3j, 20 - 9.01j]) is None
    assert two([0.0, 20.0], [-3j, 20 - 9j]) == (0, 1)
    assert two([0.0, 20.0], [9 - 3j, 11.9 - 3j], most=20.0) is None, "their far ends leave a narrow slot"
    assert two([0.0, 20.0], [9 - 3j, 12 - 3j], most=20.0) == (0, 1)
    assert two([9.0, 11.9], [-3j, 20 - 3j], most=20.0) is None
    # Half of six tenths of half the edge round: 7.2 mm along it.
    assert two([5.0, 12.1], [5 - 3j, 12.1 - 3j]) is None
    assert two([5.0, 12.3], [5 - 3j, 12.3 - 3j]) == (0, 1)
    assert two([5.0], [5 - 3j]) is None


def test_of_two_pairs_as_far_apart_the_even_the_shorter_and_the_one_on_card_is_taken() -> None:
    # (0, 1) lies 4 mm to one side, (2, 3) evenly about the middle at 10.
    places = [-2.0, 14.0, 2.0, 18.0]
    down = [complex(x, -3) for x in places]
    assert two(places, down) == (2, 3)
    assert two(places, down, [0, 0, 1, 0]) == (0, 3)
    longer = [complex(x, -3 if k < 2 else -9) for k, x in enumerate(places)]
    assert two(places, longer) == (0, 1)


def test_ties_of_parts_are_worked_out_once() -> None:
    motif = plain_rectangle(4, 10)
    assert ties.tied_parts(motif, frozenset(), 1.5) is ties.tied_parts(motif, frozenset(), 1.5)
