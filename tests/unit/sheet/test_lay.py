"""Laying designs: all copies, refusals, several kinds of sheets, sheets cut from before."""

from __future__ import annotations

from functools import partial

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.sheet.design import Design, Sheet
from frameforge.sheet.lay import Laid, Progress, lay, worth_while
from frameforge.sheet.stock import Stock, StockSheet, too_big
from frameforge.sheet.verify import faults_on

RING = Design("ring", (Region(circle(0, 30), (circle(0, 22).reversed(),)),), copies=3)
DISC = Design("disc", (Region(circle(0, 15)),), copies=6)
BAR = Design("bar", (Region(rectangle(0, 0, 60, 12)),), copies=4, turning="quarter")
A4 = Sheet(297, 210, margin_mm=5, apart_mm=2)


def proved(laid: Laid, designs: tuple[Design, ...]) -> bool:
    return not faults_on(laid.layout, designs, [s.sheet for s in laid.sheets], [s.used for s in laid.sheets])


def test_all_is_laid_and_hosts_are_told() -> None:
    laid = lay((RING, DISC, BAR), Stock((StockSheet(A4),)), seed=1, tries=10)
    assert proved(laid, (RING, DISC, BAR))
    assert laid.layout.count == 13
    inside = [p for s in laid.sheets for p in s.placed if p.inside_of is not None]
    assert {p.design for p in inside} == {1}
    assert len(inside) == 3


def _asked(before: list[Progress], most: int, progress: Progress) -> bool:
    before.append(progress)
    return len(before) < most


def test_what_fits_no_sheet_is_told_before_any_try() -> None:
    hoop = Design("hoop", (Region(circle(0, 150)),), copies=2)
    asked: list[Progress] = []
    laid = lay((RING, hoop), Stock((StockSheet(A4),)), keep_going=partial(_asked, asked, 10**6))
    assert (laid.sheets, asked) == ((), [])
    (left,) = laid.left_over
    assert (left.design, left.copies, left.why, left.usable_mm) == (1, 2, "too big", (287, 200))
    assert left.width_mm == left.height_mm == pytest.approx(300)
    assert too_big((RING,), Stock((StockSheet(A4),))) == ()


def test_a_stock_that_runs_out_leaves_the_rest_over() -> None:
    tiles = Design("tile", (Region(rectangle(0, 0, 90, 90)),), copies=20)
    laid = lay((tiles,), Stock((StockSheet(A4, how_many=2),)), tries=3)
    assert [len(s.placed) for s in laid.sheets] == [6, 6]
    assert [(left.copies, left.why) for left in laid.left_over] == [(8, "no sheet left")]


def test_a_begun_sheet_is_used_first_and_what_is_cut_from_it_kept_free() -> None:
    hole = Region(rectangle(0, 0, 150, 210))
    tiles = Design("tile", (Region(rectangle(0, 0, 90, 90)),), copies=4)
    laid = lay((tiles,), Stock((StockSheet(A4, 1, (hole,)), StockSheet(A4))), tries=3)
    assert [s.kind for s in laid.sheets] == [0, 1]
    assert [len(s.placed) for s in laid.sheets] == [2, 2]
    assert proved(laid, (tiles,))


def test_an_interrupt_gives_the_best_so_far_proved() -> None:
    asked: list[Progress] = []
    laid = lay((RING, DISC, BAR), Stock((StockSheet(A4),)), tries=500, keep_going=partial(_asked, asked, 8))
    assert laid.interrupted
    assert (laid.tries, asked[-1].done, asked[-1].tries) == (7, 7, 500)
    assert asked[-1].sheets == 1
    assert laid.layout.count == 13
    assert proved(laid, (RING, DISC, BAR))


def test_an_interrupt_before_the_first_try_still_lays_all() -> None:
    laid = lay((RING, DISC, BAR), Stock((StockSheet(A4),)), keep_going=lambda _: False)
    assert (laid.interrupted, laid.tries, laid.layout.count) == (True, 0, 13)
    assert proved(laid, (RING, DISC, BAR))


def test_the_same_seed_and_tries_give_the_same_layout() -> None:
    one, two = (lay((RING, DISC, BAR), Stock((StockSheet(A4),)), seed=4, tries=5) for _ in range(2))
    assert one == two


def test_the_kind_of_sheet_that_costs_least_is_taken() -> None:
    """Two rings of 60 fit a sheet of 140 x 75; four need two of those or one A4, which is dearer."""
    two = Design("ring", RING.regions, copies=2)
    small = Sheet(140, 75, margin_mm=5, apart_mm=2)
    for kinds in ((StockSheet(A4), StockSheet(small)), (StockSheet(small), StockSheet(A4))):
        laid = lay((two,), Stock(kinds), tries=2)
        assert [s.sheet for s in laid.sheets] == [small]
    bar = Design("bar", (Region(rectangle(0, 0, 250, 20)),))
    laid = lay((two, bar), Stock((StockSheet(small), StockSheet(A4))), tries=4)
    assert [s.sheet for s in laid.sheets] == [A4]
    assert laid.layout.count == 3


def test_a_kind_that_runs_out_is_followed_by_the_next() -> None:
    rings = Design("ring", RING.regions, copies=6)
    small = Sheet(140, 75, margin_mm=5, apart_mm=2)
    laid = lay((rings,), Stock((StockSheet(small, how_many=2), StockSheet(A4))), tries=2)
    assert laid.layout.count == 6
    assert laid.left_over == ()
    assert proved(laid, (rings,))


def test_a_bonded_set_moves_as_one_and_takes_what_fits_its_opening() -> None:
    """Two rings that share an edge; a disc of 30 goes into the inner one's opening of 40."""
    outer, inner = circle(0, 40), circle(0, 30)
    bonded = Design("bonded", (Region(outer, (inner.reversed(),)), Region(inner, (circle(0, 20).reversed(),))))
    laid = lay((bonded, Design("disc", (Region(circle(0, 15)),))), Stock((StockSheet(Sheet(95, 95, 5, 2)),)), tries=3)
    (sheet,) = laid.sheets
    assert [place.inside_of for place in sheet.placed] == [None, 0]
    ring, disc = sheet.placed
    assert abs(complex(ring.x_mm - disc.x_mm, ring.y_mm - disc.y_mm)) < 1e-6


def test_pieces_that_may_not_turn_stay_as_drawn() -> None:
    bars = Design("bar", BAR.regions, copies=8, turning="none")
    laid = lay((bars,), Stock((StockSheet(A4),)), tries=5)
    assert {p.turn_deg for s in laid.sheets for p in s.placed} == {0.0}
    tall = Design("bar", (Region(rectangle(0, 0, 10, 205)),), turning="none")
    assert [left.why for left in too_big((tall,), Stock((StockSheet(A4),)))] == ["too big"]
    free = Design("bar", tall.regions, turning="quarter")
    assert too_big((free,), Stock((StockSheet(A4),))) == ()


def test_a_begun_sheet_without_room_leaves_all_over() -> None:
    hole = Region(rectangle(2, 2, 295, 208))
    laid = lay((DISC,), Stock((StockSheet(A4, 1, (hole,)),)), tries=2)
    assert laid.sheets == ()
    assert [(left.copies, left.why) for left in laid.left_over] == [(6, "no sheet left")]


def test_fewer_tries_are_worth_while_for_more_turns() -> None:
    free = Design("bar", BAR.regions, copies=60, turning="free")
    few, many = worth_while((RING, DISC)), worth_while((RING, DISC, free))
    assert few == 3600
    assert 120 <= many < few


def test_a_near_round_piece_that_fits_only_turned_is_turned() -> None:
    egg = Design("egg", (Region(ellipse(0, 98, 101)),))
    laid = lay((egg,), Stock((StockSheet(A4),)), tries=1)
    assert [p.turn_deg for s in laid.sheets for p in s.placed] == [90.0]
    still = Design("egg", egg.regions, turning="half")
    assert [left.height_mm for left in too_big((still,), Stock((StockSheet(A4),)))] == [pytest.approx(202)]


def test_pieces_that_differ_in_openings_only_lie_in_staggered_rows() -> None:
    """Nine discs of 70 go on A4, six in straight rows; each has a hole of its own."""
    sheet = Sheet(297, 210, 5, 3)
    badges = tuple(
        Design(f"badge {k}", (Region(circle(0, 35), (circle(complex(0, 10), 2 + k).reversed(),)),)) for k in range(9)
    )
    laid = lay(badges, Stock((StockSheet(sheet),)), tries=1)
    assert [len(s.placed) for s in laid.sheets] == [9]
    assert sorted(p.design for p in laid.sheets[0].placed) == list(range(9))
    assert laid.method == "staggered rows"
