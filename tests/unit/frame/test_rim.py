"""How much card an opening leaves, and the largest opening that would do."""

from __future__ import annotations

import re

import pytest
from fixtures.rows import D100, KNIFE

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.make import make_piece
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
    numbers = re.search(r"Take --opening ([\d.]+)(?:x([\d.]+))?mm or less", str(caught.value))
    assert numbers is not None
    offer = Size(float(numbers[1]), float(numbers[2] or numbers[1]))
    check(base, offer)
    with pytest.raises(GeometryError):
        check(base, Size(offer.width_mm + 0.2, offer.height_mm + 0.2))


def test_a_base_too_small_for_any_opening_says_so() -> None:
    with pytest.raises(GeometryError, match="too small for an opening"):
        check(Size(3, 3), Size(2.9, 2.9))


def test_an_opening_far_too_large_is_answered_with_one_of_its_proportion() -> None:
    """584.2 x 817.9 mm less by the same on both axes leaves none under 86 mm high; smaller by a factor many do."""
    with pytest.raises(GeometryError, match=r"Take --opening (\S+)mm or less") as caught:
        check(Size(86, 86), Size(584.2, 817.9))
    found = re.search(r"--opening ([\d.]+)x([\d.]+)mm", str(caught.value))
    assert found
    width, height = float(found[1]), float(found[2])
    assert width / height == pytest.approx(584.2 / 817.9, abs=0.002)
    assert 1.5 <= rim(Size(86, 86), Size(width, height)) < 1.6


def test_a_rim_asked_for_is_answered_as_a_rim() -> None:
    with pytest.raises(GeometryError, match=r"Take --rim 1\.5mm or more"):
        check(D100, Size(98, 98), rim_mm=1.0)


@pytest.mark.parametrize(
    ("size", "rim_mm", "line"),
    [(D100, 60.0, "hoop: a rim of 60 mm takes all of a 100 mm circle, and nothing is left for a hole in the middle. "
      "Take --rim 49.9mm or less."),
     (Size(150, 100), 40.0, "hoop: a rim of 40 mm cannot be as wide all round a 150 x 100 mm oval: 33.33 mm in from "
      "its ends the inner edge comes to a point. Take --rim 33.3mm or less or --opening 70x20mm in place of --rim."),
     (Size(150, 100), 55.0, "hoop: a rim of 55 mm cannot be as wide all round a 150 x 100 mm oval: 33.33 mm in from "
      "its ends the inner edge comes to a point. Take --rim 33.3mm or less.")],
)  # fmt: skip
def test_a_rim_that_no_opening_goes_with_gets_what_does(size: Size, rim_mm: float, line: str) -> None:
    with pytest.raises(GeometryError) as caught:
        make_piece(PieceSpec("hoop", size, rim_mm=rim_mm), KNIFE)
    assert str(caught.value) == line
    offer = float(re.search(r"--rim ([\d.]+)mm", line)[1])  # type: ignore[index]
    assert len(make_piece(PieceSpec("hoop", size, rim_mm=offer), KNIFE).region.holes) == 1
    if other := re.search(r"--opening (\d+)x(\d+)mm", line):
        make_piece(PieceSpec("hoop", size, opening=Size(float(other[1]), float(other[2]))), KNIFE)


def test_no_opening_and_just_enough_are_left_alone() -> None:
    check_opening(PieceSpec("hoop", D100), Edge.from_size(D100), None, KNIFE)
    check(D100, Size(97, 97))
