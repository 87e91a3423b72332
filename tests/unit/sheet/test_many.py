"""Hundreds of pieces: sheets are repeated, and no piece is lost or laid twice."""

from __future__ import annotations

import pytest
from fixtures.batch import sixty

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sheet.design import Design, Sheet
from frameforge.sheet.lay import lay
from frameforge.sheet.stock import Stock, StockSheet
from frameforge.sheet.verify import faults_on

DISC = Design("disc", (Region(circle(0, 20)),), copies=110)
BAR = Design("bar", (Region(rectangle(0, 0, 60, 12)),), copies=70, turning="quarter")
A4 = Stock((StockSheet(Sheet(297, 210, 5, 2)),))


def test_two_hundred_pieces_lie_on_repeated_sheets() -> None:
    laid = lay((DISC, BAR), A4, tries=12)
    assert laid.layout.count == 180
    assert faults_on(laid.layout, (DISC, BAR), [s.sheet for s in laid.sheets], [s.used for s in laid.sheets]) == ()
    kinds = {tuple((p.design, p.x_mm, p.y_mm) for p in sheet.placed) for sheet in laid.sheets}
    assert len(kinds) < len(laid.sheets)
    assert laid.sheets_at_least <= len(laid.sheets) <= laid.sheets_at_least + 2


@pytest.mark.slow
def test_a_thousand_pieces_lie_on_48_sheets() -> None:
    designs = sixty(17)
    laid = lay(designs, Stock((StockSheet(Sheet(304.8, 304.8, 5, 1.5)),)))
    assert laid.layout.count == 1020
    assert len(laid.sheets) <= 48


@pytest.mark.slow
def test_a_begun_sheet_comes_before_the_repeated_ones() -> None:
    begun = StockSheet(A4.kinds[0].sheet, 1, (Region(rectangle(0, 0, 150, 210)),))
    laid = lay((DISC, BAR), Stock((begun, *A4.kinds)), tries=6)
    assert laid.layout.count == 180
    assert [sheet.kind for sheet in laid.sheets].count(0) == 1
    assert laid.sheets[0].used == begun.used
