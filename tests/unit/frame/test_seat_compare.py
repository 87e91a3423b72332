"""A row as drawn and bent beside each other, against what arcs and chords of a circle give."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.seat_compare import both_seats

SIZE = 50.0


def test_a_rectangle_widens_outwards_when_it_is_bent_and_stays_as_it_is_otherwise() -> None:
    """Foot w = 8, height h = 5, R = 50: bent, its top is w (R + h) / R long and its area w (h + h^2 / 2R); as drawn it
    stands h - R (1 - cos a) off the edge at the most, sin a = w / 2R being where its foot ends."""
    model = model_of(plain_rectangle(8, 5), count=12)
    drawn, bent = both_seats(model, fit_row(model, D100), counts_too=True)
    assert (drawn.seat, bent.seat) == ("as-drawn", "bent")
    assert (drawn.top_mm, drawn.across_mm, drawn.area_mm2) == pytest.approx((8, 8, 40), abs=1e-9)
    assert drawn.height_mm == pytest.approx(math.hypot(math.sqrt(SIZE**2 - 16) + 5, 4) - SIZE, abs=1e-9)
    assert bent.top_mm == pytest.approx(8 * 55 / 50, abs=1e-9)
    assert bent.across_mm == pytest.approx(2 * 55 * math.sin(8 / 100), abs=1e-9)
    assert bent.height_mm == pytest.approx(5, abs=1e-9)
    assert bent.area_mm2 == pytest.approx(8 * (5 + 25 / 100), abs=1e-9)
    assert bent.foot_gap_mm == pytest.approx(math.pi * 100 / 12 - 8, abs=1e-9)
    assert drawn.foot_gap_mm is not None
    assert bent.foot_gap_mm is not None
    assert drawn.foot_gap_mm < bent.foot_gap_mm
    assert (drawn.count, drawn.most, bent.most) == (12, 31, 31)
    assert drawn.refusal is bent.refusal is None


def test_a_tip_has_no_level_top_and_how_many_go_round_is_told_when_asked() -> None:
    model = model_of(disc(3.0), count=12)
    drawn, bent = both_seats(model, fit_row(model, D100), counts_too=False)
    assert drawn.top_mm == bent.top_mm == 0
    assert drawn.most is bent.most is None
    assert drawn.height_mm == pytest.approx(6, abs=1e-6)


def test_a_seat_that_cannot_be_made_says_why() -> None:
    """An arch as wide as the circle finds no seat as drawn; bent, its foot is an arc."""
    model = model_of(arch(60), count=1)
    drawn, bent = both_seats(model, Fit(D100, 1, 1.0), counts_too=False)
    assert drawn.refusal is not None
    assert "120" in drawn.refusal
    assert drawn.gap_mm is drawn.height_mm is None
    assert bent.refusal is None
