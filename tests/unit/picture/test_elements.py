"""Single elements of a picture: well-formed whatever the words, and where they are said to be."""

from __future__ import annotations

import pytest
from lxml import etree

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.picture.elements import bar, bar_width, card, line, mm_to_px, page, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import BENCH, CARD_COLOURS, DRAB, WET_SLATE, card_colour

SVG = "{http://www.w3.org/2000/svg}"


def test_a_page_is_well_formed_with_any_words() -> None:
    """XML 1.0, 2.2 and 2.4: markup signs are escaped, control signs cannot be told at all and are left out."""
    words = 'Thyme & <Sorrel>\x00\x1b "O\'Radish, Minty" Élodeà\ufffe'
    root = etree.fromstring(page(200, 100.5, words, words, [text(10 + 20j, words)]).encode())
    kept = 'Thyme & <Sorrel> "O\'Radish, Minty" Élodeà'
    assert [root.findtext(SVG + tag) for tag in ("title", "desc", "text")] == [kept] * 3
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("200", "101", "0 0 200 101")


def test_the_bench_fills_the_page() -> None:
    root = etree.fromstring(page(200, 100, "t", "d", ()).encode())
    rect = root.find(SVG + "rect")
    assert rect is not None
    assert (rect.get("width"), rect.get("height"), rect.get("fill")) == ("200", "100", BENCH)


def test_millimetres_turn_over_and_keep_proportion() -> None:
    to_px = mm_to_px(3.0, 100 + 50j, 10 + 5j)
    assert to_px.apply(10 + 5j) == pytest.approx(100 + 50j)
    assert to_px.apply(20 + 5j) == pytest.approx(130 + 50j)
    assert to_px.apply(10 + 15j) == pytest.approx(100 + 20j)


def test_card_is_one_path_with_a_slate_edge() -> None:
    element = etree.fromstring(card([Region(rectangle(0, 0, 4, 2))], mm_to_px(10, 0), "#123456"))
    assert element.get("d") == "M 0 -20 L 0 0 L 40 0 L 40 -20 Z" or element.get("d").count("L") == 4
    assert (element.get("fill"), element.get("stroke")) == ("#123456", WET_SLATE)


def test_the_bar_is_fifty_millimetres_long() -> None:
    body = [etree.fromstring(part) for part in bar(500, 100, 4.0)]
    label, rule = body[0], body[1]
    _, x0, y0, _, x1, y1 = rule.get("d").split()
    assert float(x1) - float(x0) == pytest.approx(50 * 4.0)
    assert (x1, y0) == ("500", y1)
    assert label.text == "50 mm"
    assert float(label.get("x")) < float(x0)
    assert bar_width(4.0) == pytest.approx(500 - float(label.get("x")) + text_width("50 mm", 14))


def test_a_line_may_be_dashed() -> None:
    assert 'stroke-dasharray="4 3"' in line(0, 10 + 5j, stroke="#000000", width_px=1, dashes="4 3")
    assert "dasharray" not in line(0, 10 + 5j, stroke="#000000", width_px=1)


def test_unknown_card_is_drab() -> None:
    assert card_colour("moss") == CARD_COLOURS["moss"]
    assert card_colour(None) == card_colour("teal") == DRAB
