"""Fonts: letters as true curves, lines set by HarfBuzz, runs from right to left by UAX 9."""

from __future__ import annotations

import io
from importlib import resources

import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.ttLib import TTFont

from frameforge.errors import InputError
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.read.font_file import Font, _runs, read_font


def _data(name: str = "Overpass-Bold.ttf") -> bytes:
    return resources.files("frameforge.picture").joinpath("fonts", name).read_bytes()


@pytest.fixture(scope="module")
def font() -> Font:
    return read_font(_data(), "own")


def test_name_height_of_capitals_and_digest_are_the_files_own(font: Font) -> None:
    own = TTFont(io.BytesIO(_data()))
    assert font.name == own["name"].getDebugName(4)
    assert font.cap_height == own["OS/2"].sCapHeight
    assert len(font.digest) == 64


@pytest.mark.parametrize("sign", ["O", "S", "i", "8", "é", "&"])
def test_letters_keep_their_area_and_their_curves(font: Font, sign: str) -> None:
    """Area by fontTools' own pen; of the signs taken here no two outlines overlap."""
    own = TTFont(io.BytesIO(_data()))
    name = own.getBestCmap()[ord(sign)]
    pen = AreaPen(own.getGlyphSet())
    own.getGlyphSet()[name].draw(pen)
    regions = font.glyph_regions(own.getGlyphID(name))
    assert area_mm2(regions) == pytest.approx(abs(pen.value), rel=1e-9)
    if sign in "OS8&":
        assert any(isinstance(segment, Cubic) for region in regions for segment in region.outer.segments)


def test_a_line_is_as_long_as_its_advances_with_kerning(font: Font) -> None:
    own = TTFont(io.BytesIO(_data()))
    cmap, widths = own.getBestCmap(), own["hmtx"].metrics
    for sign in "HIA.":
        assert sum(glyph.advance for glyph in font.set_line(sign)) == widths[cmap[ord(sign)]][0]
    kerned = sum(glyph.advance for glyph in font.set_line("AVAVA"))
    assert kerned < sum(widths[cmap[ord(sign)]][0] for sign in "AVAVA")


def test_letters_know_the_sign_they_stand_for(font: Font) -> None:
    assert [glyph.letter for glyph in font.set_line("Élodeà")] == [0, 1, 2, 3, 4, 5]


def test_missing_signs_are_named_once(font: Font) -> None:
    assert font.missing("a א b א ш") == ("א",)


@pytest.mark.parametrize(
    ("words", "runs"),
    [
        ("abc", ["abc"]),
        ("abc אבג def", ["abc ", "אבג", " def"]),
        # Numbers in words from right to left keep their own direction: UAX 9, rules W2 and L2.
        ("אבג 12 דה", [" דה", "12", "אבג "]),
        ("אבג 12 abc", ["abc", " ", "12", "אבג "]),
    ],
)
def test_runs_stand_from_left_to_right_as_they_are_read(words: str, runs: list[str]) -> None:
    found = _runs(words)
    assert [text for _, text, _ in found] == runs
    assert all(words[start : start + len(text)] == text for start, text, _ in found)


def test_a_glyph_of_a_blank_has_no_area(font: Font) -> None:
    (blank,) = font.set_line(" ")
    assert font.glyph_regions(blank.glyph) == ()
    assert blank.advance > 0


def test_letters_stand_on_their_baseline(font: Font) -> None:
    (glyph,) = font.set_line("H")
    box = bounds(font.glyph_regions(glyph.glyph))
    assert (box.bottom, box.top) == (0, font.cap_height)


@pytest.mark.parametrize("data", [b"", b"not a font", _data()[:2000]])
def test_what_is_no_font_is_refused_in_one_line(data: bytes) -> None:
    with pytest.raises(InputError, match="no font with outlines") as caught:
        read_font(data, "mine.ttf")
    assert str(caught.value).startswith("mine.ttf: ")
