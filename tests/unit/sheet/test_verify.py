"""The proof of a layout catches what is planted, and passes what the search lays."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from frameforge.geometry.nearest import Closest, distance
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.draft import draft_from, numbered
from frameforge.sheet.filling import INSIDE, Filler
from frameforge.sheet.raster import variants
from frameforge.sheet.search import search_order
from frameforge.sheet.stock import Stock, StockSheet
from frameforge.sheet.verify import faults_of

RING = Design("ring", (Region(circle(0, 30), (circle(0, 22).reversed(),)),), copies=3)
DISC = Design("disc", (Region(circle(0, 15)),), copies=6)
BAR = Design("bar", (Region(rectangle(0, 0, 60, 12)),), copies=4, turning="quarter")
DESIGNS = (RING, DISC, BAR)
SHEET = Sheet(150, 120, margin_mm=5, apart_mm=2)
CELL_MM = 0.5
STOCK = Stock((StockSheet(SHEET),))


def filler() -> Filler:
    return Filler(STOCK.kinds, variants(DESIGNS, SHEET.apart_mm, CELL_MM), CELL_MM)


def searched(iterations: int = 30, seed: int = 3) -> Layout:
    order = [(i, INSIDE) for i in [0] * 3 + [1] * 6 + [2] * 4]
    tool = filler()
    draft = draft_from("search", tool, search_order(tool, order, iterations=iterations, seed=seed), STOCK)
    return Layout(tuple(placed for _, placed in numbered(draft.sheets)))


def test_what_is_laid_is_proved() -> None:
    layout = searched()
    assert layout.count == 13
    assert faults_of(layout, DESIGNS, SHEET) == ()


def test_laid_from_the_largest_down_discs_lie_in_rings() -> None:
    layout = searched(iterations=0)
    inside = [
        (ring, disc)
        for sheet in layout.sheets
        for ring in sheet
        for disc in sheet
        if ring.design == 0 and disc.design == 1 and abs(complex(ring.x_mm - disc.x_mm, ring.y_mm - disc.y_mm)) < 6
    ]
    assert len(inside) == 3


def test_the_same_seed_gives_the_same_layout() -> None:
    assert searched(seed=5) == searched(seed=5)


def test_searching_costs_no_more_than_the_first_order() -> None:
    order, tool = [(i, INSIDE) for i in [2] * 4 + [1] * 6 + [0] * 3], filler()
    first = tool.fill(order).cost
    found = search_order(tool, order, iterations=60, seed=1).cost
    assert found < first


def pair(gap_mm: float) -> Layout:
    left = Placed(0, 1, 40, 60, 0)
    return Layout(((left, replace(left, copy=2, x_mm=100 + gap_mm)),))


@pytest.mark.parametrize(
    ("gap", "apart", "is_good"), [(3, 3, True), (2.999, 3, False), (0, 0, True), (-0.001, 0, False)]
)
def test_a_thousandth_of_a_millimetre_is_seen(gap: float, apart: float, is_good: bool) -> None:
    two = (replace(RING, copies=2),)
    assert (faults_of(pair(gap), two, Sheet(200, 120, 5, apart)) == ()) is is_good


def test_lost_doubled_and_buried_pieces_are_seen() -> None:
    two = (replace(RING, copies=2),)
    wide = Sheet(200, 120, 5, 3)
    layout = pair(5)
    lost = Layout((layout.sheets[0][:1],))
    assert [fault.say for fault in faults_of(lost, two, wide)] == ["design 0, copy 2: laid 0 times"]
    doubled = Layout((layout.sheets[0], layout.sheets[0][1:]))
    assert [fault.say for fault in faults_of(doubled, two, wide)] == ["design 0, copy 2: laid 2 times"]
    button = Design("button", (Region(circle(0, 1)),))
    buried = Layout((((*layout.sheets[0], Placed(1, 1, 40 + 26, 60, 0))),))
    assert [fault.say for fault in faults_of(buried, (*two, button), wide)] == ["overlap"]


def test_the_margin_and_what_is_used_are_kept_free() -> None:
    one = (replace(RING, copies=1),)
    inside = Layout(((Placed(0, 1, 35, 60, 0),),))
    assert faults_of(inside, one, SHEET) == ()
    (fault,) = faults_of(Layout(((Placed(0, 1, 34.999, 60, 0),),)), one, SHEET)
    assert fault.measured_mm == pytest.approx(0.001)
    (used,) = faults_of(inside, one, SHEET, [Region(circle(35 + 40, 60), ())])
    assert "already used" in used.say


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_faults_planted_in_a_searched_layout_are_seen(seed: int) -> None:
    """One piece is pushed along the line to its nearest neighbour, 1e-3 too far; one is lost, one doubled."""
    rng = np.random.default_rng(seed)
    layout = searched(iterations=4, seed=seed)
    (sheet,) = layout.sheets[:1]
    k = int(rng.integers(len(sheet)))
    gaps = {j: closest(sheet[k], sheet[j]) for j in range(len(sheet)) if j != k}
    near = min(gaps.values(), key=lambda found: found.gap_mm)
    way = (near.at_b - near.at_a) / abs(near.at_b - near.at_a)
    by = (near.gap_mm - SHEET.apart_mm + 1e-3) * way
    pushed = replace(sheet[k], x_mm=sheet[k].x_mm + by.real, y_mm=sheet[k].y_mm + by.imag)
    moved = Layout(((*sheet[:k], pushed, *sheet[k + 1 :]), *layout.sheets[1:]))
    faults = [f for f in faults_of(moved, DESIGNS, SHEET) if f.say == "too near" and k in f.places]
    assert min(f.measured_mm for f in faults) <= SHEET.apart_mm - 0.9e-3
    lost = Layout(((*sheet[:k], *sheet[k + 1 :]), *layout.sheets[1:]))
    assert any("laid 0 times" in f.say for f in faults_of(lost, DESIGNS, SHEET))
    doubled = Layout((*layout.sheets, (sheet[k],)))
    assert [f.say for f in faults_of(doubled, DESIGNS, SHEET)] == [
        f"design {sheet[k].design}, copy {sheet[k].copy}: laid 2 times"
    ]


def closest(one: Placed, other: Placed) -> Closest:
    a, b = ([o for region in place.regions(DESIGNS) for o in region.outlines] for place in (one, other))
    return distance(a, b)
