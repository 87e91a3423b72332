"""Laying designs: all copies, refusals, several kinds of sheets, sheets cut from before."""

from __future__ import annotations

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sheet.design import Design, Sheet
from frameforge.sheet.lay import Laid, Progress, lay
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


def test_what_fits_no_sheet_is_told_before_any_try() -> None:
    hoop = Design("hoop", (Region(circle(0, 150)),), copies=2)
    asked: list[Progress] = []
    laid = lay((RING, hoop), Stock((StockSheet(A4),)), keep_going=lambda p: not asked.append(p))
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
