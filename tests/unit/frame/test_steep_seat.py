"""steep-seat: on a circle a foot's end slopes by asin(w/D), and the edge rises R - sqrt(R^2 - w^2/4) over the foot."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.finding import Finding
from frameforge.frame.steep_seat import steep_seats


def told(foot_mm: float, height_mm: float, *, is_there: bool = True) -> list[Finding]:
    model = model_of(plain_rectangle(foot_mm, height_mm), start_deg=90.0)
    layout = replace(model.layout(D100, 1, 1.0), is_there=(is_there,))
    return steep_seats(model, layout, [3], [90.0])


def words(found: Finding) -> tuple[str, ...]:
    return found.code, found.severity, found.say, found.where, found.piece, found.unit


def test_a_foot_whose_ends_slope_by_more_than_45_degrees_is_told_with_its_slope() -> None:
    (found,) = told(72, 80)
    say = "the edge falls away by 46 degrees at the foot of rectangle 3, at 3 o'clock. Take a narrower foot."
    assert words(found) == ("steep-seat", "warning", say, "rectangle 3, at 3 o'clock", "hoop", "deg")
    assert (found.measured, found.limit) == (pytest.approx(math.degrees(math.asin(0.72))), 45.0)
    assert (found.x_mm, found.y_mm) == pytest.approx((math.sqrt(2500 - 36**2), 0.0), abs=1e-9)
    assert told(70.72, 80)
    assert told(70.70, 80) == []


def test_an_edge_that_rises_over_half_of_the_motif_is_told_in_mm() -> None:
    """Over a foot of 60 mm the edge of 100 mm rises 10."""
    (found,) = told(60, 19.99)
    say = "the edge rises 10 mm over the foot of rectangle 3, at 3 o'clock, more than half its height. "
    say += "Take a narrower foot."
    assert words(found) == ("steep-seat", "warning", say, "rectangle 3, at 3 o'clock", "hoop", "mm")
    assert (found.measured, found.limit) == pytest.approx((10.0, 9.995))
    assert (found.x_mm, found.y_mm) == pytest.approx((40.0, 0.0), abs=1e-9)
    assert told(60, 20.01) == []


def test_of_both_the_rise_is_told() -> None:
    (found,) = told(72, 20)
    assert found.unit == "mm"


def test_nothing_is_told_of_a_motif_that_is_left_out() -> None:
    assert told(72, 80, is_there=False) == []


def test_every_repeat_is_looked_at() -> None:
    """The first is left out, the others are told where they stand."""
    model = model_of(plain_rectangle(72, 80))
    layout = replace(model.layout(D100, 3, 1.0), is_there=(False, True, True))
    assert [one.where for one in steep_seats(model, layout, [1, 2, 3], [0.0, 120.0, 240.0])] == [
        "rectangle 2, at 4 o'clock", "rectangle 3, at 8 o'clock",
    ]  # fmt: skip


def test_half_of_the_height_is_not_rounded() -> None:
    """Over a foot of 62 mm the edge rises 10.77: under half of 21.9, over half of 21.5."""
    assert told(62, 21.9) == []
    assert told(62, 21.5)
