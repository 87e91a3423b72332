"""Slits and webs of a row: one finding each, in one sentence for them all, with the place and what would do."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fixtures.plain_motifs import disc, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.finding import Finding
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.row_findings import row_findings
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif


def told(model: RowModel, count: int, layout: Layout | None = None, fit: Fit | None = None) -> tuple[Finding, ...]:
    fit = fit or Fit(D100, count, 1.0)
    return row_findings(model, fit, layout or model.layout(D100, count, 1.0), range(1, count + 1), [0.0] * count)


def test_every_slit_is_told_with_its_place_and_measure() -> None:
    """19 bars of 16 mm: D sin(pi/n - asin(w/D)) between the feet, half-way on the edge's chord."""
    found = told(model_of(plain_rectangle(16, 4), count=19), 19)
    gap = 100 * math.sin(math.pi / 19 - math.asin(0.16))
    say = (
        "19 slits of 0.46 mm between the rectangles, this card needs 1.0 mm. "
        "Take --gap 0 --scale find (they touch), --count 18 (1.38 mm) or --size 103.3mm."
    )
    assert len(found) == 19
    assert {(one.code, one.severity, one.say, one.where, one.piece, one.unit) for one in found} == {
        ("narrow-slot", "warning", say, "", "hoop", "mm")
    }
    for k, one in enumerate(found):
        assert (one.measured, one.limit) == (pytest.approx(gap), 1.0)
        spot = math.sqrt(2500 - gap**2 / 4) * complex(
            math.sin((2 * k + 1) * math.pi / 19), math.cos((2 * k + 1) * math.pi / 19)
        )
        assert (one.x_mm, one.y_mm) == pytest.approx((spot.real, spot.imag), abs=1e-6)


def test_webs_between_windows_are_told_as_such() -> None:
    found = told(model_of(disc(2.0), count=63, place="window"), 63)
    assert len(found) == 63
    assert (found[0].code, found[0].limit) == ("thin-web", 1.5)
    assert found[0].say == (
        "63 webs of 0.48 mm between the discs, this card needs 1.5 mm. Take --count 51 (1.54 mm) or --size 120.4mm."
    )


def test_a_single_slit_is_one_and_of_several_the_narrowest_is_told() -> None:
    model = model_of(plain_rectangle(16, 4), count=19)
    layout = model.layout(D100, 19, 1.0)
    alone = replace(layout, gaps=(layout.gaps[0], *[None] * 18))
    (found,) = told(model, 19, alone)
    assert found.say.startswith("1 slit of 0.46 mm between the rectangles, this card needs 1.0 mm. Take ")
    both = replace(layout, gaps=(*layout.gaps[:2], *[None] * 17))
    assert told(model, 19, both)[0].say.startswith("2 slits of 0.46 mm between the rectangles")
    first = layout.gaps[0]
    assert first is not None
    wider = replace(layout, gaps=(replace(first, gap_mm=0.9), *layout.gaps[1:3], *[None] * 16))
    assert [one.measured for one in told(model, 19, wider)] == [0.9, first.gap_mm, pytest.approx(first.gap_mm)]
    assert told(model, 19, wider)[0].say.startswith("3 slits of 0.46 mm")


@pytest.mark.parametrize(("gap_mm", "count"), [(0.0, 0), (1e-9, 0), (0.01, 1), (0.99, 1), (1.0, 0), (1.2, 0)])
def test_what_touches_and_what_is_wide_enough_is_no_slit(gap_mm: float, count: int) -> None:
    model = model_of(plain_rectangle(16, 4), count=12)
    layout = model.layout(D100, 12, 1.0)
    first = layout.gaps[0]
    assert first is not None
    assert len(told(model, 12, replace(layout, gaps=(replace(first, gap_mm=gap_mm), *[None] * 11)))) == count


@pytest.mark.parametrize(
    ("cuts", "count"), [((True, True), 0), ((True, False), 12), ((False, True), 12), ((False, False), 12)]
)
def test_between_two_cut_aways_stands_a_tooth_and_no_slit(cuts: tuple[bool, bool], count: int) -> None:
    wide = 2 * 50 * math.sin(math.pi / 12) - 0.6
    motifs = [
        Motif(f"bar{k}", (Region(rectangle(-wide / 2, 0, wide / 2, 5)),), wide,
              cut_away=(Region(rectangle(-1, -2, 1, 0.5)),) if cut else ())
        for k, cut in enumerate(cuts)
    ]  # fmt: skip
    assert len(told(model_of(*motifs, count=12), 12)) == count


def test_what_was_taken_is_told_first() -> None:
    fit = Fit(D100, 12, 1.0, took=("took 12 for the maker",))
    (note,) = told(model_of(plain_rectangle(16, 4), count=12), 12, fit=fit)
    assert (note.code, note.severity, note.say, note.piece) == ("took", "note", "took 12 for the maker.", "hoop")
