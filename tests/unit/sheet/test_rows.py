"""Rows and staggered rows against counts and pitches worked out by hand."""

from __future__ import annotations

import math

import pytest
from fixtures.batch import discs

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.rows import row_patterns
from frameforge.sheet.verify import faults_of

A4 = Sheet(297, 210, margin_mm=5, apart_mm=3)


def most(design: Design, sheet: Sheet, method: str) -> int:
    return max(len(p.middles) for p in row_patterns(design.regions, sheet) if p.method == method)


def test_discs_of_70_on_a4_are_six_in_rows_and_nine_staggered() -> None:
    """By hand: 73 a step takes 3 x 2; columns of two, 130 apart, take a middle one every sqrt(73^2 - 65^2)."""
    assert most(discs(70, 1), A4, "rows") == 6
    assert most(discs(70, 1), A4, "staggered rows") == 9


@pytest.mark.parametrize("seed", range(3))
def test_every_pattern_is_proved(seed: int) -> None:
    across, apart = 23 + 5.3 * seed, 1.5 * seed
    sheet = Sheet(110, 90, 5, apart)
    for pattern in row_patterns(discs(across, 1).regions, sheet):
        design = discs(across, len(pattern.middles))
        placed = tuple(Placed(0, k + 1, z.real, z.imag, 0) for k, z in enumerate(pattern.middles))
        assert faults_of(Layout((placed,)), (design,), sheet) == ()


def test_a_spacing_that_fills_the_row_lets_the_next_one_sink() -> None:
    """Discs of 40, 2 apart, on 142 x 200: three in a row are 50 apart; the next row lies sqrt(42^2 - 25^2) higher."""
    sheet = Sheet(150, 210, 5, 2)
    middles = [p.middles for p in row_patterns(discs(40, 1).regions, sheet) if p.method == "staggered rows"]
    deep = complex(50, 25 + math.sqrt(42**2 - 25**2))
    assert min(abs(z - deep) for places in middles for z in places) < 1e-3


def test_tiles_fill_their_sheet_to_the_edge() -> None:
    tile = Design("tile", (Region(rectangle(0, 0, 48, 28)),))
    assert most(tile, Sheet(210, 160, 5, 2), "rows") == 4 * 5
    assert row_patterns(tile.regions, Sheet(50, 160, 5, 2)) == []
