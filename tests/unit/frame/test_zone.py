"""Which repeats reach into a zone kept free: a bar's foot corners are seen from the middle under asin(w/D)."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.frame.zone import reaches_into

HALF_DEG = math.degrees(math.asin(0.2))
LAYOUT = model_of(plain_rectangle(20, 10)).layout(D100, 4, 1.0)


@pytest.mark.parametrize(("k", "middle"), [(0, 30.0), (0, -30.0), (0, 330.0), (1, 60.0), (1, 120.0), (3, 300.0)])
def test_a_bar_reaches_as_far_as_its_foot_is_wide(k: int, middle: float) -> None:
    free = 2 * (30 - HALF_DEG)
    assert not reaches_into(LAYOUT, k, free - 0.01, middle)
    assert reaches_into(LAYOUT, k, free + 0.01, middle)


def test_what_ends_just_at_the_zone_stays_out_of_it() -> None:
    assert not reaches_into(LAYOUT, 0, 2 * (30 - HALF_DEG), 30.0)


def test_a_zone_over_the_motif_or_wider_than_the_rest_takes_it() -> None:
    assert reaches_into(LAYOUT, 2, 2 * HALF_DEG + 1, 180.0)
    assert reaches_into(LAYOUT, 2, 359.0, 0.0)
    assert not reaches_into(LAYOUT, 2, 180.0, 0.0)
