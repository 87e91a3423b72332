"""Tent cards: where fold and foot lie, both halves one exact blank, refusals that say what would do."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import FoldSpec, HoleSpec, PieceSpec, Size
from frameforge.frame.tent import StraightLine, Tent, _reach_of_chord_mm, chord_mm, tent_of, unfolded
from frameforge.geometry.arc import Arc
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle


def order(fold: FoldSpec, size: Size = D100, **more: object) -> PieceSpec:
    return PieceSpec("table", size, fold=fold, **more)  # type: ignore[arg-type]


def lines(fold: FoldSpec, size: Size = D100) -> Tent:
    tent = tent_of(order(fold, size), size, KNIFE)
    assert tent is not None
    return tent


def test_a_piece_without_a_fold_has_no_lines() -> None:
    assert tent_of(PieceSpec("plain", D100), D100, KNIFE) is None


def test_fold_and_foot_lie_straight_in_from_the_edge() -> None:
    tent = lines(FoldSpec(10, flat_mm=8))
    assert tent.foot is not None
    assert (tent.hinge.normal, tent.hinge.reach_mm) == (1j, 40)
    assert (tent.foot.normal, tent.foot.reach_mm) == (-1j, 42)


@pytest.mark.parametrize(("deg", "normal"), [(90, 1), (180, -1j), (270, -1), (360, 1j)])
def test_quarter_turns_are_exact(deg: float, normal: complex) -> None:
    assert lines(FoldSpec(10, deg)).hinge.normal == normal


@pytest.mark.parametrize("deg", [0, 25, 90, 140, 301])
@pytest.mark.parametrize("size", [D100, Size(150, 100), Size(70, 120)])
def test_a_chord_is_as_long_as_the_line_inside_the_drawn_base(deg: float, size: Size) -> None:
    """By chords of the drawn ellipse and shapely, apart from the closed form."""
    hinge = lines(FoldSpec(12, deg), size).hinge
    t = [2 * math.pi * k / 20000 for k in range(20000)]
    base = shapely.Polygon([(size.width_mm / 2 * math.cos(q), size.height_mm / 2 * math.sin(q)) for q in t])
    middle, along = hinge.reach_mm * hinge.normal, 1000 * hinge.along
    ends = (middle - along, middle + along)
    inside = shapely.intersection(base, shapely.LineString([(z.real, z.imag) for z in ends]))
    assert chord_mm(size, hinge) == pytest.approx(inside.length, abs=1e-4)


def test_a_mirror_leaves_the_line_and_takes_one_side_to_the_other() -> None:
    line = StraightLine(complex(0.6, 0.8), 7.0)
    on = 7 * line.normal + 3 * line.along
    assert line.mirror.apply(on) == pytest.approx(on)
    assert line.beyond_mm(line.mirror.apply(0j)) == pytest.approx(7.0)
    assert line.mirror.apply(line.mirror.apply(3 + 4j)) == pytest.approx(3 + 4j)


def test_the_blank_of_a_disc_is_two_discs_less_what_is_cut_off() -> None:
    """Segments of height s: R^2 acos((R - s)/R) - (R - s) sqrt(2 R s - s^2)."""

    def segment(s: float) -> float:
        return 2500 * math.acos((50 - s) / 50) - (50 - s) * math.sqrt(100 * s - s * s)

    region = make_piece(order(FoldSpec(10, flat_mm=8)), KNIFE).region
    assert area_mm2(region) == pytest.approx(2 * (2500 * math.pi - segment(10) - segment(8)), abs=1e-6)
    box = bounds(region)
    assert (box.width_mm, box.height_mm) == (pytest.approx(100, abs=1e-9), pytest.approx(164, abs=1e-9))
    # One curve for each side of each half, and the two feet: nothing is split at the fold.
    assert len(region.outer.segments) == 6


@pytest.mark.parametrize(("deg", "opening"), [(0, None), (33, Size(60, 40)), (270, Size(60, 40))])
def test_the_blank_is_its_own_mirror_image(deg: float, opening: Size | None) -> None:
    fold = FoldSpec(9, deg, 6)
    row = row_of(plain_rectangle(4.0, 6.0), count=14)
    spec = order(fold, Size(120, 90), opening=opening, rows=(row,), holes=(HoleSpec(4, deg + 90),))
    piece = make_piece(spec, KNIFE)
    assert piece.tent is not None
    image = piece.region.transformed(piece.tent.hinge.mirror)
    one, other = to_polygon(piece.region), to_polygon(image)
    assert shapely.symmetric_difference(one, other).area < 0.05
    assert len(piece.region.holes) == (4 if opening else 2)
    assert shapely.is_valid(one)


def test_a_fold_through_the_opening_has_two_hinges_and_one_hole() -> None:
    piece = make_piece(order(FoldSpec(8), opening=Size(90, 90)), KNIFE)
    assert len(piece.region.holes) == 1
    # The hole is what both openings leave beyond each other: it spans the fold.
    box = bounds(piece.region.holes[0])
    assert box.bottom < 42 < box.top


def test_points_of_a_half_come_twice_and_none_from_beyond() -> None:
    tent = lines(FoldSpec(10, flat_mm=8))
    points = np.array([0j, 45j, -45j, 30 + 0j])
    both = tent.mirrored(points)
    assert sorted(both.tolist(), key=lambda z: (z.real, z.imag)) == pytest.approx([0j, 80j, 30 + 0j, 30 + 80j])
    assert tent.half(np.array([80j, 30 + 0j])).tolist() == pytest.approx([0j, 30 + 0j])


@pytest.mark.parametrize("flat", [0.0, 40.0])
def test_a_depth_that_leaves_nothing_is_refused_and_the_one_offered_holds(flat: float) -> None:
    fold = FoldSpec(99.5 - flat, flat_mm=flat)
    with pytest.raises(GeometryError, match="of card") as caught:
        make_piece(order(fold), KNIFE)
    offer = float(re.search(r"depth of ([\d.]+) mm", str(caught.value))[1])  # type: ignore[index]
    assert tent_of(order(replace(fold, depth_mm=offer)), D100, KNIFE) is not None
    with pytest.raises(GeometryError):
        make_piece(order(replace(fold, depth_mm=offer + 0.2)), KNIFE)


@pytest.mark.parametrize("fold", [FoldSpec(0.001), FoldSpec(10, flat_mm=0.001)])
def test_a_line_too_short_to_hold_is_refused(fold: FoldSpec) -> None:
    with pytest.raises(GeometryError, match=r"0\.\d+ mm wide, this card needs 1\.5 mm") as caught:
        make_piece(order(fold), KNIFE)
    offer = float(re.search(r"Take it ([\d.]+) mm in", str(caught.value))[1])  # type: ignore[index]
    held = replace(fold, flat_mm=offer) if fold.flat_mm else replace(fold, depth_mm=offer)
    assert make_piece(order(held), KNIFE).region


def test_a_ring_cut_through_by_its_foot_says_what_would_hold() -> None:
    spec = order(FoldSpec(10, 30, 8), opening=Size(90, 90))
    with pytest.raises(GeometryError, match=r"falls into 2 parts.*Take --flat 4mm or --opening 81mm") as caught:
        make_piece(spec, KNIFE)
    assert caught.value.code == "loose"
    assert make_piece(replace(spec, fold=FoldSpec(10, 30, 4)), KNIFE).region
    assert make_piece(replace(spec, opening=Size(81, 81)), KNIFE).region


def test_a_block_covers_all_beyond_its_line() -> None:
    line = StraightLine(1j, 40)
    block = to_polygon(line.block(D100))
    assert shapely.contains(block, to_polygon(Region(rectangle(-120, 40.001, 120, 150))))
    assert not shapely.intersects(block, to_polygon(Region(rectangle(-120, -100, 120, 39.999))))


@pytest.mark.parametrize(
    ("fold", "line"),
    [
        (
            FoldSpec(98.6),
            "a fold 98.6 mm below the edge of a 150 x 100 mm oval leaves 1.4 mm of card below it. "
            "Take a depth of 98.5 mm or less.",
        ),
        (
            FoldSpec(100.0),
            "a fold 100 mm below the edge of a 150 x 100 mm oval leaves no card below it. "
            "Take a depth of 98.5 mm or less.",
        ),
        (
            FoldSpec(90.0, flat_mm=9.0),
            "a fold 90 mm below the edge of a 150 x 100 mm oval and a foot cut off 9 mm deep leave 1 mm of card "
            "between them. Take a depth of 89.5 mm or less.",
        ),
        (
            FoldSpec(149.0, 90.0, flat_mm=2.0),
            "a fold 149 mm below the edge of a 150 x 100 mm oval and a foot cut off 2 mm deep leave no card "
            "between them. Take a depth of 146.5 mm or less.",
        ),
        (
            FoldSpec(10.0, flat_mm=98.5),
            "a fold 10 mm below the edge of a 150 x 100 mm oval and a foot cut off 98.5 mm deep leave no card "
            "between them. Take a smaller flat.",
        ),
        (
            FoldSpec(0.0001),
            "a fold 0.0001 mm in from the edge of a 150 x 100 mm oval is 0.3 mm wide, this card needs 1.5 mm. "
            "Take it 0.1 mm in or more.",
        ),
        (
            FoldSpec(10.0, 90.0, flat_mm=0.0001),
            "a foot 0.0001 mm in from the edge of a 150 x 100 mm oval is 0.16 mm wide, this card needs 1.5 mm. "
            "Take it 0.1 mm in or more.",
        ),
    ],
)
def test_what_is_wrong_with_a_fold_or_a_foot_is_told_with_its_depth(fold: FoldSpec, line: str) -> None:
    size = Size(150, 100)
    with pytest.raises(GeometryError) as caught:
        tent_of(order(fold, size), size, KNIFE)
    assert (caught.value.say, caught.value.where, caught.value.code) == (line, "table", "fold")
    assert caught.value.numbers == {"depth_mm": fold.flat_mm if fold.flat_mm == 0.0001 else fold.depth_mm}


def test_a_half_as_high_as_the_least_neck_is_high_enough() -> None:
    assert lines(FoldSpec(98.5)).lines == (StraightLine(1j, -48.5),)
    tent = lines(FoldSpec(90.0, flat_mm=8.5))
    assert tent.lines == (tent.hinge, tent.foot)


def test_a_chord_by_hand_and_a_line_that_passes_the_base_by() -> None:
    """On a circle at depth s: 2 sqrt(2 R s - s^2)."""
    assert chord_mm(D100, StraightLine(1j, 40.0)) == pytest.approx(60.0)
    assert chord_mm(Size(150, 100), StraightLine(1j, 40.0)) == pytest.approx(90.0)
    assert chord_mm(Size(150, 100), StraightLine(-1 + 0j, 60.0)) == pytest.approx(60.0)
    assert chord_mm(D100, StraightLine(1j, 50.0)) == 0
    assert chord_mm(D100, StraightLine(1j, 70.0)) == 0


def test_how_far_beyond_a_line_points_lie_and_what_lies_along_it() -> None:
    line = StraightLine(1j, 40.0)
    assert line.along == 1
    assert line.beyond_mm(7 + 43j) == 3
    assert line.beyond_mm(7 + 38j) == -2
    assert line.furthest_mm(np.array([39j, 5 + 42j, 41j])) == 2
    assert line.lies_along(Line(3 + 40j, 9 + 40j))
    assert not line.lies_along(Line(3 + 40j, 9 + 40.1j))
    assert not line.lies_along(Line(3 + 40.1j, 9 + 40j))
    assert not line.lies_along(Arc.from_bulge(-3 + 40j, 3 + 40j, 0.2))


def test_a_block_is_eight_times_as_wide_as_the_piece_and_high_enough_for_any_motif() -> None:
    box = bounds(StraightLine(1j, 40.0).block(Size(150, 100)).outer)
    assert (box.left, box.bottom, box.right, box.top) == (-1000, 40, 1000, 1040)
    tent = lines(FoldSpec(10, flat_mm=8))
    assert [bounds(block.outer).top for block in tent.blocks(D100)] == [840, -42]


def test_points_on_the_fold_stay_and_those_on_the_foot_are_kept() -> None:
    tent = lines(FoldSpec(10, flat_mm=8))
    assert tent.half(np.array([3 + 40j, 3 + 40.1j, 3 - 60j])).tolist() == pytest.approx([3 + 40j, 3 + 39.9j, 3 - 60j])
    assert tent.mirrored(np.array([3 - 42j, 3 - 42.1j, 3 + 40j])).tolist() == pytest.approx(
        [3 - 42j, 3 + 40j, 3 + 122j, 3 + 40j]
    )
    assert len(tent.mirrored(np.array([60j, -60j]))) == 0


def test_what_does_not_reach_the_fold_is_laid_beside_its_image() -> None:
    apart = Region(rectangle(-3, 0, 3, 10), (rectangle(-1, 4, 1, 6).reversed(),))
    here, there = unfolded((apart,), StraightLine(1j, 20.0))
    assert here == apart
    box = bounds(there.outer)
    assert (box.left, box.bottom, box.right, box.top) == (-3, 30, 3, 40)
    assert [bounds(hole).bottom for hole in there.holes] == [34]
    assert area_mm2(there) == pytest.approx(area_mm2(apart))


def test_halves_are_joined_at_the_fold_with_their_free_holes_on_both_sides() -> None:
    """An arch of two legs that reach the fold, with a hole in its bow: one ring, two holes beside it."""
    bow = Outline.from_points([-9 + 20j, -9 + 0j, 9 + 0j, 9 + 20j, 5 + 20j, 5 + 8j, -5 + 8j, -5 + 20j])
    half = Region(bow, (rectangle(-1, 2, 1, 4).reversed(),))
    (whole,) = unfolded((half,), StraightLine(1j, 20.0))
    assert area_mm2(whole) == pytest.approx(2 * area_mm2(half))
    box = bounds(whole.outer)
    assert (box.left, box.bottom, box.right, box.top) == (-9, 0, 9, 40)
    assert len(whole.outer.segments) == 4 + 2
    spans = sorted((bounds(hole).bottom, bounds(hole).top) for hole in whole.holes)
    assert spans == [(2, 4), (8, 32), (36, 38)]


def test_pieces_of_a_blank_come_in_the_order_of_where_they_begin() -> None:
    left, right = Region(rectangle(-9, 0, -7, 4)), Region(rectangle(7, 0, 9, 4))
    starts = [region.outer.segments[0].start for region in unfolded((right, left), StraightLine(1j, 20.0))]
    assert starts == sorted(starts, key=lambda z: (z.real, z.imag))
    assert len(starts) == 4


def test_a_chord_longer_than_the_base_is_wide_lies_at_its_middle_at_the_furthest() -> None:
    """On a circle of 10 mm one of 8 mm lies sqrt(25 - 16) = 3 mm out; of 10 mm or more none lies off the middle."""
    line = StraightLine(1j, 2.0)
    found = [_reach_of_chord_mm(Size(10, 10), line, chord) for chord in (8.0, 9.98, 10.0, 12.0)]
    assert found == pytest.approx([3.0, math.sqrt(25 - 4.99**2), 0.0, 0.0])
