"""How many go on a sheet: best known packings of discs, counts of the seed-swap job, and a batch of sixty.

Sides of the smallest known square round N discs of radius 1: E. Specht, "The best known packings of equal circles in a
square", packomania.com. The counts of the job were worked out by hand from sizes, margin 5 mm and 3 mm apart.
"""

from __future__ import annotations

import pytest
from fixtures.batch import bumped, discs, sixty

from frameforge.geometry.measure import area_mm2
from frameforge.sheet.design import Design, Sheet, Turning
from frameforge.sheet.lay import Laid, lay
from frameforge.sheet.stock import Stock, StockSheet

BEST_SIDE = {
    10: 6.7474415232381,
    19: 8.9074609393261,
    30: 10.908568330834,
    50: 14.010094916404,
    68: 15.994861683194,
    100: 19.454847252784,
}
FOOT_MM = 304.8


def laid_on(sheet: Sheet, *designs: Design, tries: int = 60) -> Laid:
    return lay(designs, Stock((StockSheet(sheet),)), tries=tries)


@pytest.mark.parametrize("count", [10, 19, *(pytest.param(n, marks=pytest.mark.slow) for n in (30, 50, 68, 100))])
def test_discs_on_a_square_two_hundredths_wider_than_the_best_known(count: int) -> None:
    side = 1.02 * BEST_SIDE[count]
    laid = laid_on(Sheet(side, side, margin_mm=0, apart_mm=0), discs(2, count), tries=1200)
    assert [len(sheet.placed) for sheet in laid.sheets] == [count]


@pytest.mark.parametrize(
    ("across", "width", "height", "least"),
    [
        pytest.param(107.87, FOOT_MM, FOOT_MM, 6, id="invitation"),
        pytest.param(64.2, 297, 210, 12, id="seal"),
        pytest.param(76, 210, 297, 8, id="badge"),
        pytest.param(115.5, FOOT_MM, FOOT_MM, 5, id="bunting"),
        pytest.param(111.95, FOOT_MM, FOOT_MM, 5, id="collar"),
        pytest.param(155.08, FOOT_MM, FOOT_MM, 2, id="rings"),
        pytest.param(70, 297, 210, 9, id="70 on A4"),
    ],
)
def test_pieces_of_the_job_on_one_sheet(across: float, width: float, height: float, least: int) -> None:
    laid = laid_on(Sheet(width, height, 5, 3), discs(across, least))
    assert [len(sheet.placed) for sheet in laid.sheets] == [least]


@pytest.mark.parametrize(("turning", "sheets"), [("quarter", 1), ("none", 2)])
def test_two_gate_signs_share_a_sheet_only_when_turned(turning: Turning, sheets: int) -> None:
    sign = bumped((170.04, 121.86), (75.0, 50.0), 16, 8.0, (110.0, 60.0))
    laid = laid_on(Sheet(297, 210, 5, 3), Design("gate sign", (sign,), 2, turning))
    assert len(laid.sheets) == sheets


def length_of_last(laid: Laid, designs: tuple[Design, ...]) -> float:
    """Return how far the last sheet is used, from the margin."""
    last = laid.sheets[-1]
    ends = (place.x_mm + designs[place.design].box(place.turn_deg).width_mm / 2 for place in last.placed)
    return max(ends) - last.sheet.margin_mm


def inside(laid: Laid) -> int:
    return sum(place.inside_of is not None for sheet in laid.sheets for place in sheet.placed)


def test_sixty_pieces_are_of_the_sizes_they_should_be() -> None:
    sizes = {design.name: (design.box().width_mm, design.copies) for design in sixty()}
    assert sizes["round frame"] == (pytest.approx(150), 4)
    assert sizes["oval mat"] == (pytest.approx(132), 4)
    assert sum(copies for _, copies in sizes.values()) == 60
    assert area_mm2(sixty()[4].regions[0]) < 3.1416 * 35**2


@pytest.mark.slow
@pytest.mark.parametrize(
    ("sheet", "sheets", "last_mm"),
    [
        pytest.param(Sheet(FOOT_MM, FOOT_MM, 5, 1.5), 3, 162, id="12 in"),
        pytest.param(Sheet(210, 297, 5, 1.5), 4, 195, id="A4"),
    ],
)
def test_sixty_pieces(sheet: Sheet, sheets: int, last_mm: float) -> None:
    designs = sixty()
    laid = lay(designs, Stock((StockSheet(sheet),)))
    assert len(laid.sheets) == sheets
    assert length_of_last(laid, designs) <= last_mm
    assert inside(laid) >= 20
