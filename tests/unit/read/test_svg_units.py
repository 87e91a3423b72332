"""Lengths are read in user units and in millimetres.

Source: CSS Values and Units Level 3, section 6.2 (absolute lengths): 1 in = 96 px = 72 pt = 6 pc = 2.54 cm = 101.6 q.
"""

from __future__ import annotations

import pytest

from frameforge.read.svg_units import length, length_mm, number


@pytest.mark.parametrize("text", ["1in", "96", "96px", "72pt", "6pc", "2.54cm", "25.4mm", "101.6Q", " 96 ", "+9.6e1"])
def test_an_inch_is_96_pixels_however_written(text: str) -> None:
    assert length(text, whole=None) == pytest.approx(96, rel=1e-14)
    assert length_mm(text) == pytest.approx(25.4, rel=1e-14)


def test_millimetres_are_kept_to_the_bit() -> None:
    for text, wanted in (("20mm", 20), ("1.1mm", 1.1), ("2cm", 20), ("1in", 25.4)):
        assert length_mm(text) == wanted


def test_a_percentage_is_of_something() -> None:
    assert length("25%", whole=200) == 50
    assert length("25%", whole=None) is None
    assert length("2em", whole=None, font_px=12) == 24
    assert length("2ex", whole=None, font_px=12) == 12


@pytest.mark.parametrize("text", ["", "px", "1 2", "1furlong", "NaN", "inf", "1e400", "--1", "1" * 200])
def test_what_is_no_length_is_none(text: str) -> None:
    assert length(text, whole=100) is None
    assert length_mm(text) is None


def test_a_number_may_be_a_percentage() -> None:
    assert (number("0.5", 1), number("50%", 1), number("red", 1), number("1px", 7)) == (0.5, 0.5, 1, 7)
