"""Widths of text against the font file itself, read by fontTools."""

from __future__ import annotations

import pytest
from fixtures.raster import FONTS
from fontTools.ttLib import TTFont

from frameforge.picture.letter_widths import text_width


def _true_width(words: str, size_px: float, name: str) -> float:
    font = TTFont(next(path for path in FONTS if name in path.name))
    letters, advances = font.getBestCmap(), font["hmtx"]
    return float(sum(advances[letters[ord(c)]][0] for c in words) * size_px / font["head"].unitsPerEm)


@pytest.mark.parametrize(("is_bold", "name"), [(False, "Regular"), (True, "Bold")])
def test_every_plain_letter_has_the_width_of_the_font_file(is_bold: bool, name: str) -> None:
    """Table against the hmtx table of the shipped font (OpenType 1.9, hmtx), thousandths of the size."""
    font = TTFont(next(path for path in FONTS if name in path.name))
    letters, advances = font.getBestCmap(), font["hmtx"]
    for code in range(32, 127):
        expected = advances[letters[code]][0] * 1000 / font["head"].unitsPerEm
        assert text_width(chr(code), 1000, is_bold=is_bold) == pytest.approx(expected, abs=0.5), chr(code)


def test_a_line_of_words_is_the_sum_of_its_letters() -> None:
    words = "107.9 mm across (4 1/4 in)"
    assert text_width(words, 14) == pytest.approx(_true_width(words, 14, "Regular"), abs=0.02)


def test_an_accent_adds_no_width() -> None:
    """The accented letters of the font are as wide as the plain ones below them."""
    words = "Élodeà Crësswick"
    assert text_width(words, 14) == text_width("Elodea Cresswick", 14)
    assert text_width(words, 14) == pytest.approx(_true_width(words, 14, "Regular"), rel=0.02)


def test_other_signs_and_nothing() -> None:
    assert text_width("", 14) == 0
    assert text_width("種", 100) == 65
