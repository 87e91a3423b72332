"""Digits as single lines."""

from __future__ import annotations

import itertools

import pytest

from frameforge.geometry.measure import bounds
from frameforge.machine.digits import STROKES, marked_number, number_width


@pytest.mark.parametrize("sign", sorted(STROKES))
def test_every_sign_stays_in_its_box_and_has_no_gap(sign: str) -> None:
    for run in STROKES[sign]:
        assert all(a.end == b.start for a, b in itertools.pairwise(run))
    box = bounds(segment for run in STROKES[sign] for segment in run)
    assert box.left >= -1e-9
    assert box.right <= 0.601
    assert box.bottom >= -0.01
    assert box.top <= 1.01
    assert sign == "." or box.height_mm > 0.97


def test_a_number_is_centred_and_as_high_as_asked() -> None:
    box = bounds(segment for run in marked_number("70", 5 + 3j, 2.5) for segment in run)
    assert box.center == pytest.approx(5 + 3j, abs=0.05)
    assert box.height_mm == pytest.approx(2.5, abs=0.06)
    assert box.width_mm == pytest.approx(number_width("70", 2.5), abs=0.06)


def test_other_signs_are_refused() -> None:
    with pytest.raises(KeyError):
        marked_number("7x", 0, 2.5)
