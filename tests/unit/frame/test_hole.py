"""Holes: in the middle of a rim, well in from the edge of a solid piece, and the largest that goes."""

from __future__ import annotations

import math
import re

import pytest
from fixtures.rows import D100, KNIFE

from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.hole import hole_region
from frameforge.frame.spec import HoleSpec, PieceSpec, Size
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.region import Region


def hole(diameter: float, at_deg: float = 0.0, *, base: Size = D100, opening: Size | None = None) -> Region:
    edge = Edge.from_size(opening) if opening else None
    return hole_region(PieceSpec("hoop", base, opening), HoleSpec(diameter, at_deg), Edge.from_size(base), edge, KNIFE)


@pytest.mark.parametrize(("deg", "towards"), [(0, 1j), (90, 1), (180, -1j), (270, -1)])
def test_directions_are_clockwise_from_the_top(deg: float, towards: complex) -> None:
    region = hole(4.0, deg)
    assert area_mm2(region) == pytest.approx(4 * math.pi, abs=1e-9)
    assert centroid(region) == pytest.approx(46 * towards, abs=1e-9)


def test_in_a_rim_it_sits_in_the_middle() -> None:
    assert centroid(hole(4.0, opening=Size(84, 84))) == pytest.approx(46j, abs=1e-9)


def test_on_an_oval_it_follows_the_edge() -> None:
    region = hole(4.0, 90.0, base=Size(150, 100))
    assert centroid(region).real == pytest.approx(75 - 2 - 2, abs=1e-9)


def test_the_hole_offered_goes_and_a_wider_one_does_not() -> None:
    with pytest.raises(GeometryError) as caught:
        hole(9.0, opening=Size(86, 86))
    offer = float(re.search(r"Make the hole ([\d.]+) mm", str(caught.value))[1])  # type: ignore[index]
    assert offer == pytest.approx(4.0)
    hole(offer, opening=Size(86, 86))
    with pytest.raises(GeometryError):
        hole(offer + 0.1, opening=Size(86, 86))


def test_a_rim_too_narrow_for_any_hole_says_so() -> None:
    with pytest.raises(GeometryError, match="Make the rim wider"):
        hole(1.0, opening=Size(95, 95))


@pytest.mark.parametrize("diameter", [0.0, -2.0, math.nan, math.inf])
def test_a_hole_has_a_size_above_0(diameter: float) -> None:
    with pytest.raises(InputError, match="above 0"):
        hole(diameter)
