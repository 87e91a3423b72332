"""Holes: in the middle of a rim, well in from the edge of a solid piece, and the largest that goes."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.hole import Weight, hole_regions, set_in
from frameforge.frame.make import make_piece
from frameforge.frame.spec import FoldSpec, HoleSpec, PieceSpec, Size
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds, centroid
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle


def hole(diameter: float, at_deg: float = 0.0, *, base: Size = D100, opening: Size | None = None) -> Region:
    edge = Edge.from_size(opening) if opening else None
    spec = PieceSpec("hoop", base, opening, holes=(HoleSpec(diameter, at_deg),))
    return hole_regions(spec, Edge.from_size(base), edge, KNIFE)[0]


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


@pytest.mark.parametrize(("deg", "place"), [(0.0, "at the top"), (90.0, "at the right"), (45.0, "at 2 o'clock")])
def test_a_hole_as_wide_as_the_piece_is_refused_with_the_largest_that_goes(deg: float, place: str) -> None:
    """With a margin of its radius a hole reaches to the middle of the piece when it is half as wide as the piece."""
    with pytest.raises(GeometryError) as caught:
        hole(100.0, deg)
    assert str(caught.value) == (
        f"hoop: a hole of 100 mm {place} would reach past the middle of a 100 mm circle. "
        "Make the hole 50 mm or less; for the middle write --opening."
    )
    hole(50.0, deg)
    with pytest.raises(GeometryError):
        hole(50.1, deg)


def test_beside_the_axes_of_an_oval_the_true_margin_is_kept() -> None:
    """The edge runs askew to the spoke there: along the spoke there is more card than there is."""
    region = hole(6.0, 60.0, base=Size(200, 60))
    ring = [complex(100 * math.sin(t), 30 * math.cos(t)) for t in np.linspace(0, math.tau, 20001)]
    middle = centroid(region)
    web = min(abs(middle - point) for point in ring) - 3.0
    assert web == pytest.approx(3.0, abs=0.1)


def test_two_holes_keep_a_web_between_them() -> None:
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0, 0.0), HoleSpec(4.0, 6.0)))
    with pytest.raises(GeometryError, match=r"two holes leave 0\.81 mm of card between them, this card needs 1\.5 mm"):
        hole_regions(spec, Edge.from_size(D100), None, KNIFE)


def test_a_hole_moves_in_where_the_edge_is_cut_flat() -> None:
    """Over the place left out the edge runs straight, 46.75 from the middle: the hole keeps its margin from that."""
    row = row_of(plain_rectangle(16, 8), count=12, skip=(1,), between="flat")
    piece = make_piece(PieceSpec("hoop", D100, rows=(row,), holes=(HoleSpec(4.0),)), KNIFE)
    (found,) = piece.region.holes
    bare = 50 * math.cos(math.radians(41.586 / 2))
    assert bounds(found).top == pytest.approx(bare - 2.0, abs=0.1)
    kept = make_piece(PieceSpec("hoop", D100, rows=(row_of(plain_rectangle(16, 8), count=12, skip=(1,)),),
                                holes=(HoleSpec(4.0),)), KNIFE)  # fmt: skip
    assert bounds(kept.region.holes[0]).top == pytest.approx(48.0, abs=1e-9)


def lopsided(at_deg: float = 0.0, **more: object) -> PieceSpec:
    """A hoop with rectangles on its right side only, and one hole."""
    row = row_of(plain_rectangle(6.0, 12.0), count=12, skip=(1, 7, 8, 9, 10, 11, 12))
    return PieceSpec("hoop", D100, rows=(row,), holes=(HoleSpec(4.0, at_deg),), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("deg", [0.0, 25.0, 90.0, 180.0, 310.0])
@pytest.mark.parametrize("opening", [None, Size(60, 60)])
def test_a_hole_lies_on_the_plumb_line_of_the_finished_card(deg: float, opening: Size | None) -> None:
    """The centre of gravity by shapely, apart from ours: straight below the hole when its direction points up."""
    piece = make_piece(lopsided(deg, opening=opening), KNIFE)
    [place] = piece.holes
    centre = to_polygon(piece.region, 1e-4).centroid
    up = complex(math.sin(math.radians(deg)), math.cos(math.radians(deg)))
    below = (place.middle - complex(centre.x, centre.y)) * up.conjugate()
    assert abs(below.imag) < 1e-3
    assert below.real > 20
    # The row weighs it to the right; a hole at the top therefore lies right of the middle.
    if deg == 0:
        assert place.middle.real > 0.5


def test_an_even_piece_has_its_hole_on_the_spoke_to_the_bit() -> None:
    row = row_of(plain_rectangle(6.0, 12.0), count=12, skip=("top",))
    piece = make_piece(PieceSpec("hoop", D100, rows=(row,), holes=(HoleSpec(4.0),)), KNIFE)
    assert piece.holes[0].middle.real == 0.0


def test_off_the_spoke_the_margin_is_kept_too() -> None:
    piece = make_piece(lopsided(), KNIFE)
    assert abs(piece.holes[0].middle) <= 50 - 2 - 2 + 1e-9


def test_several_holes_lie_on_lines_through_the_weight() -> None:
    spec = lopsided()
    pair = (HoleSpec(4.0, 330.0), HoleSpec(4.0, 30.0))
    piece = make_piece(PieceSpec("hoop", D100, rows=spec.rows, holes=pair), KNIFE)
    centre = centroid(piece.region)
    for place in piece.holes:
        up = complex(math.sin(math.radians(place.at_deg)), math.cos(math.radians(place.at_deg)))
        assert ((place.middle - centre) * up.conjugate()).imag == pytest.approx(0, abs=1e-6)


def test_a_hole_keeps_off_windows_and_the_fold() -> None:
    windows = row_of(plain_rectangle(5.0, 5.0), count=12, place="window", inset_mm=6.0)
    piece = make_piece(PieceSpec("hoop", D100, rows=(windows,), holes=(HoleSpec(4.0),)), KNIFE)
    assert len(piece.region.holes) == 13
    tent = make_piece(PieceSpec("hoop", D100, holes=(HoleSpec(4.0),), fold=FoldSpec(10)), KNIFE)
    assert tent.holes[0].middle.imag + 2 <= 40 - KNIFE.least_neck_mm + 1e-9
    assert len(tent.region.holes) == 2


def test_the_weight_of_holes_is_taken_off() -> None:
    weight = Weight(100.0, 1 + 0j).without([(complex(5, 0), 2.0)])
    area = 4 * math.pi
    assert weight.area_mm2 == pytest.approx(100 - area)
    assert weight.middle == pytest.approx((100 - 5 * area) / (100 - area))
    assert Weight(1.0, 1j).without([(0j, 2.0)]) == Weight(1.0, 1j)


def test_holes_are_set_in_only_where_they_are_whole() -> None:
    card = Region(circle(0j, 20))
    assert set_in((card,), (Region(circle(0j, 2)),)) is not None
    assert set_in((card,), (Region(circle(18.5 + 0j, 2)),)) is None
    assert set_in((card, card), (Region(circle(0j, 2)),)) is None


def test_in_a_rim_narrower_than_a_hole_with_its_margins_it_lies_in_the_middle_too() -> None:
    """A hole of 4 mm in a rim of 7.6 mm, 42.4 to 50 from the middle: 1.8 mm of card are left on both sides."""
    assert centroid(hole(4.0, opening=Size(84.8, 84.8))) == pytest.approx(46.2j, abs=1e-9)
