"""How much card an opening leaves, and the largest opening that would do."""

from __future__ import annotations

import re

import pytest
from fixtures.rows import D100, KNIFE

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.rim import check_opening, least_rim_mm
from frameforge.frame.spec import PieceSpec, Size


def rim(base: Size, opening: Size) -> float:
    return least_rim_mm(Edge.from_size(base), Edge.from_size(opening))


def check(base: Size, opening: Size, **more: float) -> None:
    spec = PieceSpec("hoop", base, opening=opening, **more)  # type: ignore[arg-type]
    check_opening(spec, Edge.from_size(base), Edge.from_size(opening), KNIFE)


def test_circles_and_parallels_are_exact() -> None:
    assert rim(D100, Size(70, 70)) == 15
    assert rim(D100, Size(110, 110)) == -5
    oval = Edge(75, 50)
    assert least_rim_mm(oval, oval.parallel(-9.0)) == 9


def test_an_oval_in_an_oval_is_measured_where_it_is_least() -> None:
    """Both axes less by 20 leaves 10 at the ends and a little less in between."""
    least = rim(Size(150, 100), Size(130, 80))
    assert 9 < least < 10


def test_an_opening_that_sticks_out_one_way_leaves_none() -> None:
    assert rim(D100, Size(120, 40)) == -10


@pytest.mark.parametrize(("base", "opening"), [(D100, Size(99, 99)), (D100, Size(99.5, 60))])
def test_the_offered_opening_holds_and_a_larger_one_does_not(base: Size, opening: Size) -> None:
    with pytest.raises(GeometryError) as caught:
        check(base, opening)
    assert caught.value.numbers["rim_mm"] < 1.5
    numbers = re.search(r"Make the opening ([\d.]+)(?:x([\d.]+))?mm or less", str(caught.value))
    assert numbers is not None
    offer = Size(float(numbers[1]), float(numbers[2] or numbers[1]))
    check(base, offer)
    with pytest.raises(GeometryError):
        check(base, Size(offer.width_mm + 0.2, offer.height_mm + 0.2))


def test_a_base_too_small_for_any_opening_says_so() -> None:
    with pytest.raises(GeometryError, match="too small for an opening"):
        check(Size(3, 3), Size(2.9, 2.9))


def test_a_rim_asked_for_is_answered_as_a_rim() -> None:
    with pytest.raises(GeometryError, match=r"Take --rim 1\.5mm or more"):
        check(D100, Size(98, 98), rim_mm=1.0)


def test_no_opening_and_just_enough_are_left_alone() -> None:
    check_opening(PieceSpec("hoop", D100), Edge.from_size(D100), None, KNIFE)
    check(D100, Size(97, 97))
