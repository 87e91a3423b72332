"""The DXF document around the lines. DXF reference, HEADER and ENTITIES sections; group codes by that."""

from __future__ import annotations

import re

import pytest
from fixtures.cut_pages import RECIPE, disc, every_page, leaf_frame, page_of, sheet, tent

from frameforge.write.dxf import DXF_STYLES, DxfStyle, to_dxf
from frameforge.write.marker import is_marked
from frameforge.write.svg import to_svg


def _header(text: str, name: str) -> str | None:
    """Return the value of a header variable."""
    found = re.search(rf"\n{re.escape(name)}\n *\d+\n(.*)\n", text)
    return found[1].strip() if found else None


def _entities(text: str) -> list[str]:
    """Return the types of the entities in their order."""
    section = text.partition("\nENTITIES\n")[2].partition("\nENDSEC\n")[0]
    return re.findall(r"^  0\n([A-Z]+)$", section, re.MULTILINE)


@pytest.mark.parametrize(("unit", "codes"), [("mm", ("4", "1")), ("in", ("1", "0"))])
def test_r2000_states_its_unit(unit: str, codes: tuple[str, str]) -> None:
    text = to_dxf(page_of(disc()), unit="in" if unit == "in" else "mm")
    assert _header(text, "$ACADVER") == "AC1015"
    assert (_header(text, "$INSUNITS"), _header(text, "$MEASUREMENT")) == codes


def test_r12_states_none() -> None:
    text = to_dxf(page_of(disc()), style="r12")
    assert _header(text, "$ACADVER") == "AC1009"
    assert _header(text, "$INSUNITS") is None


@pytest.mark.parametrize(
    ("style", "kinds"),
    [
        ("bulges", {"LWPOLYLINE"}),
        ("lines", {"LWPOLYLINE"}),
        ("splines", {"SPLINE"}),
        ("r12", {"POLYLINE", "VERTEX", "SEQEND"}),
    ],
)
def test_each_style_has_its_entities(style: DxfStyle, kinds: set[str]) -> None:
    assert set(_entities(to_dxf(page_of(leaf_frame()), style=style))) == kinds


def test_there_is_one_entity_for_each_outline_holes_first() -> None:
    text = to_dxf(sheet())
    assert _entities(text) == ["LWPOLYLINE"] * 5
    first = re.findall(r"^ 10\n(.*)\n 20\n(.*)\n", text.partition("\nENTITIES\n")[2], re.MULTILINE)
    assert first[0] == ("60.0", "75.0")


def test_a_closed_polyline_is_flagged_and_does_not_repeat_its_first_vertex() -> None:
    section = to_dxf(page_of(disc())).partition("AcDbPolyline\n")[2].partition("  0\n")[0]
    assert section.startswith(" 90\n4\n 70\n1\n")
    assert section.count(" 10\n") == 4


def test_kinds_of_line_are_layers() -> None:
    text = to_dxf(tent())
    section = text.partition("\nENTITIES\n")[2]
    assert re.findall(r"^  8\n(.*)$", section, re.MULTILINE)[:9] == ["CUT"] + ["CREASE"] * 8
    for layer in ("CUT", "CREASE", "MARK"):
        assert f"AcDbLayerTableRecord\n  2\n{layer}\n" in text


def test_y_is_the_height_of_the_page_less_that_of_the_svg() -> None:
    page = tent()
    svg = re.search(r'<g id="crease">\n<path d="M([\d.]+),([\d.]+) ', to_svg(page))
    dxf = re.search(r"  8\nCREASE\n(?:.*\n)*? 10\n(.*)\n 20\n(.*)\n", to_dxf(page).partition("\nENTITIES\n")[2])
    assert svg
    assert dxf
    assert float(dxf[1]) == float(svg[1])
    assert float(dxf[2]) == page.box.height_mm - float(svg[2])


@pytest.mark.parametrize("style", DXF_STYLES)
def test_same_page_same_text_marked_and_ascii(style: DxfStyle) -> None:
    for page in every_page().values():
        text = to_dxf(page, recipe=RECIPE + "# é\n", style=style)
        assert text == to_dxf(page, recipe=RECIPE + "# é\n", style=style)
        assert text.isascii()
        assert is_marked(text.encode("ascii"))


def test_no_date_and_no_version_stands_in_it() -> None:
    text = to_dxf(page_of(disc()))
    assert "2000-01-01" in text
    assert not re.search(r"\b20[1-9]\d-\d\d-\d\d", text)


def test_the_recipe_stands_in_an_xrecord_or_in_comments_at_the_top() -> None:
    line = 'frameforge recipe "name = \\"seal\\"\\n"'
    assert f"AcDbXrecord\n280\n1\n  1\n{line}\n" in to_dxf(page_of(disc()), recipe='name = "seal"\n')
    assert to_dxf(page_of(disc()), recipe='name = "seal"\n', style="r12").startswith(f"999\n{line}\n999\nframeforge")
