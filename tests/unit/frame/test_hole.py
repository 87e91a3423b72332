"""Holes: in the middle of a rim, well in from the edge of a solid piece, and the largest that goes."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
import shapely
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


@pytest.mark.parametrize(
    ("deg", "place"),
    [(180.0, "at the bottom"), (270.0, "at the left"), (450.0, "at the right"), (60.0, "at 2 o'clock")],
)
def test_a_hole_too_wide_for_its_rim_is_told_with_its_place_and_the_largest_that_goes(deg: float, place: str) -> None:
    """A rim of 7 mm bears 7 - 2 x 1.5 = 4 mm."""
    with pytest.raises(GeometryError) as caught:
        hole(9.0, deg, opening=Size(86, 86))
    assert str(caught.value) == (
        f"hoop: a hole of 9 mm {place} leaves less than 1.5 mm of card beside it, as much as this card needs. "
        "Make the hole 4 mm or less."
    )
    assert (caught.value.code, caught.value.numbers) == ("no-room", {"hole_mm": 9.0, "limit_mm": 1.5})


def test_a_rim_that_bears_a_tenth_is_told_so_and_a_narrower_one_has_to_be_wider() -> None:
    said = "hoop: a hole of 1 mm at the top leaves less than 1.5 mm of card beside it, as much as this card needs. "
    for opening, hint in ((93.8, "Make the hole 0.1 mm or less."), (93.84, "Make the rim wider.")):
        with pytest.raises(GeometryError) as caught:
            hole(1.0, opening=Size(opening, opening))
        assert str(caught.value) == said + hint


def test_a_bad_size_of_a_hole_is_told() -> None:
    with pytest.raises(InputError) as caught:
        hole(-2.0)
    assert str(caught.value) == "hoop: a hole of -2 mm. Write a size above 0."


def test_on_a_solid_piece_the_margin_is_the_radius_or_the_least_neck_whichever_is_more() -> None:
    assert centroid(hole(1.0)) == pytest.approx(48j, abs=1e-9)  # 50 - 1.5 - .5
    assert centroid(hole(3.0)) == pytest.approx(47j, abs=1e-9)
    assert centroid(hole(3.2)) == pytest.approx(46.8j, abs=1e-9)


@pytest.mark.parametrize(("opening", "middle"), [(80.0, 46.0), (83.9, 46.0), (84.1, 46.025), (86.0, 46.5)])
def test_in_a_wide_rim_a_hole_lies_as_far_out_as_in_a_solid_piece(opening: float, middle: float) -> None:
    """A hole of 4 mm with its margins takes 8 mm of the rim; in a narrower one it lies in the middle."""
    assert centroid(hole(4.0, opening=Size(opening, opening))) == pytest.approx(1j * middle, abs=1e-9)


def two_holes(apart_mm: float) -> tuple[Region, ...]:
    """Holes of 4 mm 46 mm from the middle, their middles so far apart."""
    deg = math.degrees(2 * math.asin(apart_mm / 92))
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0, 0.0), HoleSpec(4.0, deg)))
    return hole_regions(spec, Edge.from_size(D100), None, KNIFE)


def test_two_holes_as_far_apart_as_the_card_needs_hold() -> None:
    assert len(two_holes(5.5)) == len(two_holes(5.6)) == 2
    for apart, words, web in ((5.49, "1.49", 1.49), (3.0, "0", -1.0)):
        with pytest.raises(GeometryError) as caught:
            two_holes(apart)
        assert str(caught.value) == (
            f"hoop: two holes leave {words} mm of card between them, this card needs 1.5 mm. "
            "Leave one of them out, or write another place for it."
        )
        assert caught.value.code == "no-room"
        assert caught.value.numbers == {"web_mm": pytest.approx(web), "limit_mm": 1.5}


def test_the_third_hole_is_held_against_each_of_the_others() -> None:
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0, 0.0), HoleSpec(8.0, 90.0), HoleSpec(4.0, 3.0)))
    with pytest.raises(GeometryError, match="two holes leave 0 mm"):
        hole_regions(spec, Edge.from_size(D100), None, KNIFE)
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0, 0.0), HoleSpec(8.0, 90.0), HoleSpec(2.0, 180.0)))
    radii = [bounds(one).width_mm / 2 for one in hole_regions(spec, Edge.from_size(D100), None, KNIFE)]
    assert radii == pytest.approx([2.0, 4.0, 1.0], abs=1e-9)


def test_a_hole_lies_on_the_plumb_line_of_the_card_that_it_is_cut_from() -> None:
    """A disc whose weight lies 2 mm right of its middle: less the hole's own, x (A - a) = 2 A - x a, so x = 2 mm."""
    area = 2500 * math.pi
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0),))
    weighed = hole_regions(spec, Edge.from_size(D100), None, KNIFE, weight=Weight(area, 2 + 0j))
    assert centroid(weighed[0]).real == pytest.approx(2.0, abs=1e-7)
    # Beside the middle the margin is kept straight to the edge: at most 46 mm from the middle, at .1 mm a step.
    assert 45.85 < abs(centroid(weighed[0])) <= 46 + 1e-9
    even = hole_regions(spec, Edge.from_size(D100), None, KNIFE, weight=Weight(area, 5e-7 + 0j))
    assert centroid(even[0]) == pytest.approx(46j, abs=1e-9)


def test_where_the_plumb_line_passes_the_card_by_a_hole_lies_on_its_spoke() -> None:
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0),))
    (far,) = hole_regions(spec, Edge.from_size(D100), None, KNIFE, weight=Weight(2500 * math.pi, 60 + 0j))
    assert centroid(far) == pytest.approx(46j, abs=1e-9)


def test_a_hole_keeps_its_margin_from_what_rows_take_away() -> None:
    """The card is taken from 45 mm up: the hole's upper edge is 2 mm below that, in steps of .1 mm."""
    gone = shapely.box(-20, 45, 20, 60)
    spec = PieceSpec("hoop", D100, holes=(HoleSpec(4.0),))
    (moved,) = hole_regions(spec, Edge.from_size(D100), None, KNIFE, (gone,))
    assert centroid(moved).imag == pytest.approx(41.0, abs=0.1 + 1e-9)
    assert centroid(moved).imag <= 41 + 1e-9
    beside = shapely.box(-20, -60, 20, -45)
    (same,) = hole_regions(spec, Edge.from_size(D100), None, KNIFE, (beside,))
    assert centroid(same) == pytest.approx(46j, abs=1e-9)


def test_round_holes_are_set_in_from_a_little_card_on_and_other_holes_stay() -> None:
    """Less than the chords of both can tell apart counts as cutting through."""
    card = Region(circle(0j, 20), (circle(-10 + 0j, 3).reversed(),))
    assert set_in((), ()) is None
    cut = set_in((card,), (Region(circle(17.9 + 0j, 2)), Region(circle(5j, 2))))
    assert cut is not None
    assert area_mm2(cut[0]) == pytest.approx(math.pi * (400 - 9 - 4 - 4), abs=1e-9)
    assert len(cut[0].holes) == 3
    assert set_in((card,), (Region(circle(18 + 0j, 2)),)) is None
    assert set_in((card,), (Region(circle(-10 + 0j, 2)),)) is None, "where a hole is already"
    assert set_in((card,), (Region(circle(40 + 0j, 2)),)) is None
    assert set_in((card,), (Region(circle(17.9 + 0j, 2)), Region(circle(19 + 0j, 2)))) is None


def test_the_weight_of_a_card_that_is_all_holes_is_left_as_it_was() -> None:
    assert Weight(math.pi, 1j).without([(0j, 1.0)]) == Weight(math.pi, 1j)
    left = Weight(10.0, 0j).without([(1 + 0j, 1.0), (1j, 0.5)])
    assert left.area_mm2 == pytest.approx(10 - 1.25 * math.pi)
    assert left.middle == pytest.approx(-(math.pi + 0.25j * math.pi) / left.area_mm2)
