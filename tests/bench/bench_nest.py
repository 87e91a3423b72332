"""How well and how fast pieces are placed: a batch of sixty, a thousand, equal discs, published strips."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

import pytest
from fixtures.batch import discs, sixty
from fixtures.strips import OUTSIDE, load_strip

from frameforge.sheet.design import Design, Sheet
from frameforge.sheet.lay import Laid, lay
from frameforge.sheet.stock import Stock, StockSheet
from frameforge.sheet.verify import faults_on

Holds = Callable[[str, float, float], None]

FOOT = Sheet(304.8, 304.8, 5, 1.5)
STRIP_TRIES = 150
BOUNDS = {"trousers": 0.85, "shirts": 0.85, "swim": 0.75}
"""Share of the best known density that is wanted of three strips; the others are only told."""


def _timed(designs: tuple[Design, ...], sheet: Sheet, **options: int) -> tuple[Laid, float]:
    start = time.process_time()
    laid = lay(designs, Stock((StockSheet(sheet),)), **options)  # type: ignore[arg-type]
    return laid, time.process_time() - start


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "sheet", "sheets", "last_mm"),
    [("12 x 12 in", FOOT, 3, 162), ("A4", Sheet(210, 297, 5, 1.5), 4, 195)],
)
def bench_sixty(holds: Holds, name: str, sheet: Sheet, sheets: int, last_mm: float) -> None:
    """Sixty pieces: sheets, length used on the last, pieces that lie inside others, seconds."""
    designs = sixty()
    laid, took = _timed(designs, sheet)
    last = laid.sheets[-1].placed
    length = max(p.x_mm + designs[p.design].box(p.turn_deg).width_mm / 2 for p in last) - sheet.margin_mm
    outside = sum(p.inside_of is None for s in laid.sheets for p in s.placed)
    holds(f"sixty on {name}: sheets", len(laid.sheets), sheets)
    holds(f"sixty on {name}: mm of the last", length, last_mm)
    holds(f"sixty on {name}: pieces not inside others", outside, 40)
    holds(f"sixty on {name}: seconds", took, 30)


def bench_thousand(holds: Holds) -> None:
    """A thousand pieces in the proportions of the sixty: sheets, seconds to place, seconds to prove."""
    designs = tuple(replace(d, copies=c) for d, c in zip(sixty(), (67, 67, 100, 133, 100, 233, 133, 167), strict=True))
    laid, took = _timed(designs, FOOT)
    assert laid.layout.count == 1000
    holds("thousand: sheets", len(laid.sheets), 48)
    holds("thousand: seconds to place and prove", took, 10)
    start = time.process_time()
    assert not faults_on(laid.layout, designs, [FOOT] * len(laid.sheets), [()] * len(laid.sheets))
    holds("thousand: seconds to prove", time.process_time() - start, 5)


@pytest.mark.long
@pytest.mark.parametrize(("part", "must"), [(1.02, True), (1.005, False)])
@pytest.mark.parametrize(
    ("count", "best"),
    [
        (10, 6.7474415232381),
        (19, 8.9074609393261),
        (30, 10.908568330834),
        (50, 14.010094916404),
        (68, 15.994861683194),
        (100, 19.454847252784),
    ],
)
def bench_discs(holds: Holds, count: int, best: float, part: float, must: bool) -> None:
    """Discs of radius 1 that one square holds (E. Specht, packomania.com, gives the best sides); sheets it takes."""
    laid, took = _timed((discs(2, count),), Sheet(part * best, part * best, 0, 0))
    holds(f"{count} discs on {part} x the best side ({took:.0f} s): sheets", len(laid.sheets), 1 if must else 2)


@pytest.mark.long
@pytest.mark.parametrize(
    "name",
    ["albano", "blaz1", "dagli", "fu", "jakobs1", "jakobs2", "mao", "marques", "shapes0", "shapes1", *BOUNDS],
)
def bench_strips(holds: Holds, name: str) -> None:
    """Published strips: the best known length against the length reached (the bound is the inverse share)."""
    if not OUTSIDE.is_dir():
        pytest.skip("FRAMEFORGE_OUTSIDE_DATA is not there")
    strip = load_strip(name)
    laid, took = _timed(strip.designs, strip.sheet, tries=STRIP_TRIES)
    share = strip.record_mm / strip.length_mm(laid)
    holds(
        f"{name}: best / reached length, {share:.3f} of the record ({took:.0f} s)", 1 / share, 1 / BOUNDS.get(name, 0.6)
    )
