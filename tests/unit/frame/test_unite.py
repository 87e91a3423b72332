"""Everything put together: order of taking and adding, how many segments come of it, and places where outlines meet.

Areas are chord and circle geometry.
"""

from __future__ import annotations

import math
from dataclasses import fields

import pytest
from fixtures.plain_motifs import arch, leaf, plain_rectangle, scallop
from fixtures.rows import D100, KNIFE, row_of

from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.frame.unite import RowParts, card_before_windows, unite
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.catalogue import load_motif, names


def made(*rows: RowSpec, size: Size = D100, **more: object) -> Piece:
    return make_piece(PieceSpec("hoop", size, rows=rows, **more), KNIFE)  # type: ignore[arg-type]


def segment_mm2(radius: float, chord: float) -> float:
    """Return the area between a circle and a chord of it."""
    half = math.asin(chord / 2 / radius)
    return radius**2 * (half - math.sin(half) * math.cos(half))


def test_what_one_row_clears_another_may_fill_and_pierces_come_last() -> None:
    square = Region(rectangle(-10, -10, 10, 10))
    clear = RowParts(clears=(Region(rectangle(0, -10, 10, 10)),))
    fill = RowParts(adds=(Region(rectangle(0, -10, 10, 0)),))
    pierce = RowParts(pierces=(Region(rectangle(-2, -8, 2, -4)),))
    for order in ([clear, fill, pierce], [pierce, fill, clear]):
        (region,) = unite(square, None, order, []).regions
        assert area_mm2(region) == pytest.approx(300 - 16, abs=1e-9)


def test_edges_are_raised_before_the_opening_is_cut() -> None:
    disc = Region(circle(0, 10))
    parts = RowParts(raised=(Region(circle(0, 12)),), hollow=(Region(rectangle(10, -20, 20, 20)),))
    (region,) = unite(disc, Region(circle(0, 5)), [parts], [Region(circle(8j, 1))]).regions
    wanted = math.pi * (144 - 25 - 1) - segment_mm2(12, 2 * math.sqrt(44))
    assert area_mm2(region) == pytest.approx(wanted, abs=1e-8)


@pytest.mark.parametrize("name", names())
@pytest.mark.parametrize("size", [Size(160, 160), Size(180, 130)], ids=["circle", "oval"])
def test_a_piece_has_no_more_segments_than_its_motifs_and_edges(name: str, size: Size) -> None:
    """One stretch of edge a repeat, what the motif has, one outline for the opening and one joint of the base."""
    motif = load_motif(name)
    own = sum(region.segment_count for region in (*motif.join, *motif.cut_away, *motif.window))
    piece = made(row_of(motif, count=6), size=size, opening=Size(size.width_mm - 80, size.height_mm - 80))
    assert piece.region.segment_count <= 6 * (own + 1) + 2


def test_touching_scallops_meet_in_points_of_three_outlines() -> None:
    """Feet of 12 mm as the sides of a 16-gon: two scallops and the base run through every corner."""
    piece = make_piece(PieceSpec("hoop", "find", rows=(row_of(scallop(), count=16, gap_mm=0.0),)), KNIFE)
    assert piece.size.width_mm == pytest.approx(12 / math.sin(math.pi / 16), abs=1e-8)
    assert [len(outline.segments) for outline in piece.region.outlines] == [16]
    wanted = 16 * (36 / math.tan(math.pi / 16) + segment_mm2(6.5, 12))
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=1e-6)
    assert to_polygon(piece.region).is_valid


@pytest.mark.parametrize("side", [-1, 1])
def test_a_foot_end_on_the_joint_of_the_base_leaves_no_trace(side: int) -> None:
    """A circle starts at 3 o'clock; the left or the right end of a 20 mm foot stands there, to the last bit or not."""
    start = 90 + side * math.degrees(math.asin(0.2))
    piece = made(row_of(plain_rectangle(), count=1, start_deg=start))
    elsewhere = made(row_of(plain_rectangle(), count=1, start_deg=40.0))
    assert piece.region.segment_count <= elsewhere.region.segment_count
    assert area_mm2(piece.region) == pytest.approx(2500 * math.pi + 200 - segment_mm2(50, 20), abs=1e-8)


def test_roots_inside_a_narrow_rim_do_not_come_out_of_it() -> None:
    """A foot of 16 mm on a 96 mm opening rises .67 mm from its edge; a straight root would leave 1 of 2 mm of rim."""
    piece = made(row_of(arch(), count=8, place="in"), opening=Size(96, 96))
    assert area_mm2(piece.region.outer) == pytest.approx(2500 * math.pi, abs=1e-8)
    assert len(piece.region.holes) == 1
    wanted = 48**2 * math.pi - 8 * (32 * math.pi + segment_mm2(48, 16))
    assert abs(area_mm2(piece.region.holes[0])) == pytest.approx(wanted, abs=1e-7)


def test_one_motif_on_a_tag_adds_what_stands_above_the_edge() -> None:
    piece = made(row_of(leaf(), count=1), size=Size(40, 40))
    wanted = 400 * math.pi + area_mm2(leaf().join[0]) - segment_mm2(20, 4.4)
    assert area_mm2(piece.region) == pytest.approx(wanted, abs=1e-8)
    assert bounds(piece.region).top == pytest.approx(math.sqrt(400 - 2.2**2) + 16, abs=1e-9)


def test_a_plain_card_is_what_it_was_and_nothing_is_done_unless_said() -> None:
    disc = Region(circle(0, 10))
    assert card_before_windows(disc, None, []) is disc
    assert unite(disc, None, [RowParts()], []).regions == (disc,)
    assert [getattr(RowParts(), field.name) for field in fields(RowParts)] == [()] * 6


def test_an_opening_is_filled_where_its_edge_is_and_all_rows_are_heard() -> None:
    square, opening = Region(rectangle(-10, -10, 10, 10)), Region(rectangle(-5, -5, 5, 5))
    fill = RowParts(filled=(Region(rectangle(-5, -5, 0, 5)),))
    corner = RowParts(clears=(Region(rectangle(8, 8, 12, 12)),), adds=(Region(rectangle(7, 7, 9, 9)),))
    pierce = RowParts(pierces=(Region(rectangle(-9, -9, -7, -7)),))
    hole = Region(rectangle(7, -9, 9, -7))
    (region,) = unite(square, opening, [fill, corner, pierce], [hole]).regions
    assert area_mm2(region) == pytest.approx(400 - 50 - 4 + 1 - 4 - 4)
    (whole,) = unite(square, opening, [], [hole]).regions
    assert area_mm2(whole) == pytest.approx(400 - 100 - 4)
