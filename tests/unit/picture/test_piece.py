"""The picture of a piece: proportion, bench in the openings, words that do not run into the bar."""

from __future__ import annotations

import re

import pytest
import svgpathtools
from fixtures.raster import colour_at, raster
from lxml import etree

from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import BENCH, CARD_COLOURS, FLEECE, WET_SLATE
from frameforge.picture.piece import PieceDrawing, piece_picture

SVG = "{http://www.w3.org/2000/svg}"
SIGN = Region(ellipse(0, 75, 50), (ellipse(0, 55, 30).reversed(),))


def _texts(svg: str) -> list[tuple[str, float, float]]:
    found = etree.fromstring(svg.encode()).iter(SVG + "text")
    return [(element.text, float(element.get("x")), float(element.get("y"))) for element in found]


def _paths(svg: str) -> list[str]:
    return [element.get("d") for element in etree.fromstring(svg.encode()).iter(SVG + "path")]


@pytest.mark.parametrize("region", [SIGN, Region(circle(3 + 4j, 12)), Region(ellipse(0, 20, 300))])
def test_card_and_bar_are_at_one_scale(region: Region) -> None:
    svg = piece_picture(PieceDrawing("gate sign", (region,), "moss"))
    shape, rule = _paths(svg)[:2]
    left, right, top, bottom = svgpathtools.parse_path(shape).bbox()
    x0, x1, _, _ = svgpathtools.parse_path(rule).bbox()
    px_per_mm = (x1 - x0) / 50
    arc = region.outer.segments[0]
    assert isinstance(arc, Arc)
    width_mm, height_mm = 2 * abs(arc.u), 2 * abs(arc.v)
    assert right - left == pytest.approx(width_mm * px_per_mm, abs=0.1)
    assert bottom - top == pytest.approx(height_mm * px_per_mm, abs=0.1)


def test_the_opening_shows_the_bench() -> None:
    svg = piece_picture(PieceDrawing("gate sign", (SIGN,), "moss"))
    left, right, top, bottom = svgpathtools.parse_path(_paths(svg)[0]).bbox()
    image = raster(svg)
    middle = complex((left + right) / 2, (top + bottom) / 2)
    assert colour_at(image, middle) == BENCH
    assert colour_at(image, complex(left + (right - left) * 10 / 150, middle.imag)) == CARD_COLOURS["moss"]
    assert colour_at(image, complex(left - 6, middle.imag)) == BENCH


def test_name_and_lines_are_told() -> None:
    lines = ("150.0 x 100.0 mm", "16 cabbage edges")
    svg = piece_picture(PieceDrawing("gate sign", (SIGN,), "moss", lines))
    words = [words for words, _, _ in _texts(svg)]
    assert words == ["gate sign", "50 mm", *lines]
    assert "gate sign in moss card" in svg


@pytest.mark.parametrize("line", ["24 mm", "a line of small text that reaches far across the page to the other side"])
def test_small_text_never_runs_into_the_bar(line: str) -> None:
    svg = piece_picture(PieceDrawing("tag", (Region(circle(0, 40)),), lines=(line,)))
    (_, bar_x, bar_y), (_, x, y) = _texts(svg)[1:]
    bar_left = bar_x - text_width("50 mm", 14)
    assert y >= bar_y + 20 or x + text_width(line, 14) < bar_left


def test_a_tiny_piece_is_not_blown_up() -> None:
    svg = piece_picture(PieceDrawing("tag", (Region(circle(0, 6)),)))
    left, right, _, _ = svgpathtools.parse_path(_paths(svg)[0]).bbox()
    assert right - left == pytest.approx(12 * 6, abs=0.1)


def test_same_piece_same_bytes() -> None:
    drawing = PieceDrawing("gate sign", (SIGN,), "moss", ("150 mm",))
    assert piece_picture(drawing) == piece_picture(drawing)
    assert raster(piece_picture(drawing)).tobytes() == raster(piece_picture(drawing)).tobytes()
    assert not re.search(r"\d{4}-\d\d-\d\d", piece_picture(drawing))


def test_nothing_to_draw() -> None:
    with pytest.raises(ValueError, match=r"point|empty|region"):
        piece_picture(PieceDrawing("nothing", ()))


def test_cards_beneath_are_drawn_first_in_their_own_colours() -> None:
    """The lowest first; the page is as large as the largest of them."""
    low, top = Region(circle(0, 30)), Region(circle(0, 20))
    drawn = piece_picture(PieceDrawing("stack", (top,), "moss", beneath=((low, "cream"),)))
    fills = re.findall(r'fill="(#[0-9A-F]{6})" fill-rule="evenodd"', drawn)
    assert fills == [CARD_COLOURS["cream"], CARD_COLOURS["moss"]]
    alone = piece_picture(PieceDrawing("stack", (low,), "cream"))
    height = re.compile(r'height="(\d+)"')
    assert height.findall(drawn)[0] == height.findall(alone)[0]


def test_creases_and_marks_are_drawn_over_the_card() -> None:
    """A crease is a line of dashes in a light casing where it lies; a mark is a thin whole line."""
    crease, mark = (Line(-50 + 10j, 50 + 10j),), (Line(-20 - 30j, 20 - 30j),)
    plain = piece_picture(PieceDrawing("table", (Region(ellipse(0, 75, 50)),), "moss"))
    drawn = piece_picture(
        PieceDrawing("table", (Region(ellipse(0, 75, 50)),), "moss", creases=(crease,), marks=(mark,))
    )
    added = [
        element for element in etree.fromstring(drawn.encode()).iter(SVG + "path") if element.get("d") not in plain
    ]
    assert [(element.get("stroke"), element.get("stroke-dasharray") is None) for element in added] == [
        (WET_SLATE, True),
        (FLEECE, True),
        (WET_SLATE, False),
    ]
    left, right, top, bottom = svgpathtools.parse_path(_paths(plain)[0]).bbox()
    boxes = [svgpathtools.parse_path(element.get("d")).bbox() for element in added]
    px_per_mm = (right - left) / 150
    assert boxes[0][1] - boxes[0][0] == pytest.approx(40 * px_per_mm, abs=0.1)
    assert boxes[1][:2] == boxes[2][:2]
    assert boxes[1][2] == pytest.approx((top + bottom) / 2 - 10 * px_per_mm, abs=0.1)
