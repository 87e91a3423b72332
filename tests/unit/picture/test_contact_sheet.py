"""The contact sheet: one scale for all, nothing on top of anything else, nothing beyond the page."""

from __future__ import annotations

import pytest
import svgpathtools
from lxml import etree

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse
from frameforge.picture.contact_sheet import contact_sheet
from frameforge.picture.letter_widths import text_width
from frameforge.picture.piece import PieceDrawing

SVG = "{http://www.w3.org/2000/svg}"
CIRCLES_MM = (170, 108, 64, 76, 112)


def _drawings(count: int) -> list[PieceDrawing]:
    sizes = [CIRCLES_MM[i % 5] for i in range(count)]
    return [
        PieceDrawing(f"piece {i}", (Region(circle(7 - 3j, mm / 2)),), "sand", (f"{mm} mm across",) * (1 + i % 2))
        for i, mm in enumerate(sizes)
    ]


def _boxes(svg: str) -> list[tuple[float, float, float, float]]:
    """Boxes of the cards: the paths that are filled."""
    paths = [e.get("d") for e in etree.fromstring(svg.encode()).iter(SVG + "path") if e.get("fill") != "none"]
    return [svgpathtools.parse_path(d).bbox() for d in paths]


@pytest.mark.parametrize("count", [1, 2, 5, 9, 24])
def test_all_pieces_are_drawn_to_one_scale_and_apart(count: int) -> None:
    boxes = _boxes(contact_sheet("seed swap", _drawings(count)))
    scales = [(right - left) / CIRCLES_MM[i % 5] for i, (left, right, _, _) in enumerate(boxes)]
    assert len(boxes) == count
    assert max(scales) - min(scales) < 0.01
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            assert a[1] < b[0] or b[1] < a[0] or a[3] < b[2] or b[3] < a[2]


@pytest.mark.parametrize("count", [1, 5, 24])
def test_words_stay_on_the_page_and_off_the_cards(count: int) -> None:
    svg = contact_sheet("Brackenmoor seed swap", _drawings(count))
    root, boxes = etree.fromstring(svg.encode()), _boxes(svg)
    width, height = float(root.get("width")), float(root.get("height"))
    for element in root.iter(SVG + "text"):
        x, y, size = (float(element.get(key)) for key in ("x", "y", "font-size"))
        wide = text_width(element.text, size, is_bold=element.get("font-weight") == "700")
        left = x - {"start": 0, "middle": wide / 2, "end": wide}[element.get("text-anchor")]
        assert left > 0
        assert left + wide < width
        assert size < y < height - 10
        for x0, x1, y0, y1 in boxes:
            assert left > x1 or left + wide < x0 or y < y0 or y - size > y1


def test_the_page_is_neither_a_ribbon_nor_a_tower() -> None:
    for count in (2, 5, 12, 24):
        root = etree.fromstring(contact_sheet("seed swap", _drawings(count)).encode())
        assert 0.5 < float(root.get("width")) / float(root.get("height")) < 3.0, count


def test_a_long_title_widens_the_page() -> None:
    title = "the seed swap of the Brackenmoor Allotment Society, spring table, with everything that was cut"
    root = etree.fromstring(contact_sheet(title, [PieceDrawing("tag", (Region(ellipse(0, 9, 40)),))]).encode())
    assert float(root.get("width")) > text_width(title, 20, is_bold=True) + 50


def test_nothing_to_show() -> None:
    with pytest.raises(ValueError, match="at least one piece"):
        contact_sheet("seed swap", [])
