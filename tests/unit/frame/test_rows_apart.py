"""Slits between two rows: bars on one circle, D sin(turn/2 - asin(w/D)) apart."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fixtures.plain_motifs import leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.finding import Finding
from frameforge.frame.fit import Fit
from frameforge.frame.piece import RowResult
from frameforge.frame.row import build_row
from frameforge.frame.rows_apart import slits_between_rows
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif

CARD = Region(circle(0, 50))
BAR = plain_rectangle(6, 8)


def row(count: int, start_deg: float = 0.0, motif: Motif = BAR) -> RowResult:
    return build_row(model_of(motif, count=count, start_deg=start_deg), Fit(D100, count, 1.0), is_trial=True).result


SIX = row(6)


def slits(*rows: RowResult, region: Region = CARD, limit: float = 1.0) -> list[tuple[int, Finding]]:
    return list(slits_between_rows(rows, region, limit))


def test_a_slit_is_told_with_both_motifs_and_where_it_is() -> None:
    ((number, found),) = slits(SIX, row(1, 187.8, replace(BAR, name="leaf-bar")))
    gap = 100 * math.sin(math.radians(3.9) - math.asin(0.06))
    assert number == 1
    assert (found.code, found.severity, found.piece, found.unit) == ("narrow-slot", "warning", "", "mm")
    assert found.say == (
        "A slit of 0.8 mm between the rectangles and the leaf bars of two rows, this card needs 1.0 mm."
    )
    assert found.where == "leaf bar 1, at 6 o'clock"
    assert (found.measured, found.limit) == (pytest.approx(gap), 1.0)
    spot = math.sqrt(2500 - gap**2 / 4) * complex(math.sin(math.radians(183.9)), math.cos(math.radians(183.9)))
    assert (found.x_mm, found.y_mm) == pytest.approx((spot.real, spot.imag), abs=1e-6)


@pytest.mark.parametrize(("start", "count"), [(6.0, 0), (6.95, 1), (7.99, 1), (8.04, 0), (30.0, 0)])
def test_what_meets_and_what_is_far_enough_apart_is_no_slit(start: float, count: int) -> None:
    """Bars of 6 mm meet where their turn is under 6.88 degrees, and are 1 mm apart at 8.03."""
    assert len(slits(SIX, row(1, start))) == count


def test_a_wider_limit_finds_more() -> None:
    assert len(slits(SIX, row(1, 9.0), limit=2.0)) == 1
    assert slits(SIX, row(1, 9.0), limit=1.8) == []


def test_every_pair_of_rows_is_looked_at_and_the_later_one_named() -> None:
    found = slits(row(1, 187.8), SIX, row(1, 67.8))
    assert [number for number, _ in found] == [1, 2]
    assert [one.where for _, one in found] == ["rectangle 4, at 6 o'clock", "rectangle 1, at 2 o'clock"]


def test_windows_and_rows_without_repeats_are_passed_over() -> None:
    near = row(1, 7.8)
    assert slits(SIX, replace(near, place="window")) == []
    assert slits(SIX, replace(near, repeats=())) == []
    assert [number for number, _ in slits(SIX, replace(near, place="window"), near)] == [2]


def test_where_card_lies_between_there_is_no_slit() -> None:
    near = row(1, 7.8)
    assert slits(SIX, near, region=Region(rectangle(-80, -80, 80, 80))) == []
    # A card whose edge runs .2 mm past the middle of the gap does not fill it.
    ((_, found),) = slits(SIX, near)
    assert found.y_mm is not None
    assert len(slits(SIX, near, region=Region(rectangle(-80, -80, 80, found.y_mm + 0.2)))) == 1
    assert slits(SIX, near, region=Region(rectangle(-80, -80, 80, found.y_mm + 0.6))) == []


def test_motifs_that_come_near_over_several_outlines_are_told_once() -> None:
    assert len(slits(row(8, motif=leaf()), row(1, 15.2, leaf()), limit=1.5)) <= 1
