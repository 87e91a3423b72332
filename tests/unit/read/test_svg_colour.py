"""Of a colour only three things are asked: is it there, is it near white, is it a reference.

Source: CSS Color Level 3 (names, hex, rgb, hsl); the bound of near white is common practice, no source.
"""

from __future__ import annotations

import pytest

from frameforge.read.svg_colour import CURRENT_COLOUR, NO_PAINT, read_paint


@pytest.mark.parametrize("text", ["none", "transparent", "#0000", "#ffffff00", "rgba(1,2,3,0)", " NONE "])
def test_no_paint(text: str) -> None:
    assert read_paint(text) == NO_PAINT


@pytest.mark.parametrize(
    "text", ["white", "#fff", "#FFFFFF", "snow", "rgb(250, 248, 250)", "hsl(0, 0%, 98%)", "#fdfdfdcc"]
)
def test_near_white(text: str) -> None:
    paint = read_paint(text)
    assert paint is not None
    assert paint.is_near_white


@pytest.mark.parametrize(
    "text", ["black", "red", "#eee", "yellow", "#f0f0f0", "rgb(255,255,0)", "url(#a)", "currentColor"]
)
def test_not_white(text: str) -> None:
    paint = read_paint(text)
    assert paint is not None
    assert not paint.is_near_white


@pytest.mark.parametrize("text", ["", "bluish", "#12", "#12345", "url(", "rgb(1,2)"])
def test_what_is_no_paint_value_is_none(text: str) -> None:
    assert read_paint(text) is None


def test_references_keep_their_fallback() -> None:
    assert read_paint("currentcolor") == CURRENT_COLOUR
    alone, with_red, with_none = (read_paint(f"url( '#g' ) {rest}") for rest in ("", "red", "none"))
    assert alone is not None
    assert with_red is not None
    assert with_none is not None
    assert (alone.reference, alone.has_fallback) == ("#g", False)
    assert (with_red.has_fallback, with_none.has_fallback) == (True, False)
