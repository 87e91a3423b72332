"""The check of written DXF finds nothing in what we write, and each fault that is planted."""

from __future__ import annotations

import re

import pytest
from fixtures.cut_pages import RECIPE, every_page, leaf_frame, lines_page, oval, page_of, ring, tent

from frameforge.write.check_dxf import DXF_MM, check_dxf
from frameforge.write.dxf import DXF_STYLES, DxfStyle, to_dxf
from frameforge.write.dxf_place import DxfUnit


@pytest.mark.parametrize("name", every_page())
@pytest.mark.parametrize("style", DXF_STYLES)
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_what_we_write_is_good(name: str, style: DxfStyle, unit: DxfUnit) -> None:
    page = every_page()[name]
    text = to_dxf(page, recipe=RECIPE, style=style, unit=unit)
    assert check_dxf(text, page, recipe=RECIPE, style=style, unit=unit) == ()


def test_the_bounds_are_a_tenth_above_what_is_stated() -> None:
    assert pytest.approx({"bulges": 0.011, "r12": 0.011, "splines": 1.2e-5, "lines": 0.022}) == DXF_MM


FAULTS = {
    "cut off": ("  0\nEOF\n", "", "does not end with EOF"),
    "not ASCII": ("units", "unités", "not ASCII"),
    "too long a line": ("frameforge recipe ", "frameforge recipe " + " " * 250, "255 allowed"),
    "another recipe": ("58.4", "58.5", "recipe kept inside"),
    "another version": ("$ACADVER\n  1\nAC1015", "$ACADVER\n  1\nAC1014", "$ACADVER is AC1014"),
    "another unit": ("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n6", "$INSUNITS is 6"),
    "another measurement": ("$MEASUREMENT\n 70\n1", "$MEASUREMENT\n 70\n0", "$MEASUREMENT is 0"),
    "another layer": ("AcDbEntity\n  8\nCUT", "AcDbEntity\n  8\nBLUE", "a line on layer 'BLUE'"),
    "a layer without its record": ("AcDbLayerTableRecord\n  2\nCUT", "AcDbLayerTableRecord\n  2\nX", "layer 'CUT'"),
    "an open outline": (" 90\n4\n 70\n1\n", " 90\n4\n 70\n0\n", "is not closed"),
    "a corner moved": (" 10\n60.5\n", " 10\n60.512\n", "from the other"),
    "a corner bulged": (" 10\n60.5\n 20\n0.5\n", " 10\n60.5\n 20\n0.5\n 42\n0.01\n", "from the other"),
    "a half circle": (" 10\n60.5\n 20\n0.5\n", " 10\n60.5\n 20\n0.5\n 42\n1.0\n", "180.00 deg, 90 allowed"),
    "a spike": (
        " 10\n60.5\n 20\n0.5\n",
        " 10\n60.5\n 20\n0.5\n 10\n70.5\n 20\n0.5\n 10\n60.5\n 20\n0.5\n",
        "runs back over itself",
    ),
    "an unknown entity": ("  0\nLWPOLYLINE", "  0\nTEXT", "an entity TEXT"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_planted_faults_are_found(fault: str) -> None:
    old, new, said = FAULTS[fault]
    text = to_dxf(lines_page(), recipe=RECIPE)
    assert old in text
    found = check_dxf(text.replace(old, new, 1), lines_page(), recipe=RECIPE)
    assert any(said in line for line in found), found


def test_any_change_breaks_the_marker() -> None:
    text = to_dxf(lines_page())
    changed = text.replace("  0\nSECTION", "999\nhello\n  0\nSECTION", 1)
    assert check_dxf(changed, lines_page()) == ("the marker does not agree with the text",)


def test_another_style_than_asked_is_found() -> None:
    page = page_of(ring())
    assert any("an entity SPLINE" in line for line in check_dxf(to_dxf(page, style="splines"), page))
    assert any("$ACADVER" in line for line in check_dxf(to_dxf(page), page, style="r12"))


def test_inches_taken_for_millimetres_are_found() -> None:
    page = page_of(ring())
    assert any("area" in line for line in check_dxf(to_dxf(page, style="r12", unit="in"), page, style="r12"))


def test_chords_where_arcs_were_asked_are_found() -> None:
    """Chords within 0.02 mm are further from the curves than 0.011 mm."""
    page = page_of(leaf_frame())
    assert any("from the other" in line for line in check_dxf(to_dxf(page, style="lines"), page))


def test_lines_of_one_kind_in_between_those_of_another_are_found() -> None:
    text = to_dxf(tent())
    assert any("one after the other" in line for line in check_dxf(text.replace("  8\nCUT", "  8\nMARK"), tent()))


def test_each_vertex_moved_outward_by_a_few_hundredths_is_found() -> None:
    page = page_of(oval())
    text = to_dxf(page)
    start = text.index("\nENTITIES\n")
    vertices = list(re.finditer(r" 10\n([\d.]+)\n 20\n([\d.]+)\n", text[start : text.index("\nOBJECTS\n")]))
    assert len(vertices) > 30
    for vertex in vertices[::5]:
        z = complex(float(vertex[1]), float(vertex[2])) - (60.5 + 40.5j)
        z = 60.5 + 40.5j + z * (1 + 0.03 / abs(z))
        moved = f" 10\n{z.real:.6f}\n 20\n{z.imag:.6f}\n"
        changed = text[: start + vertex.start()] + moved + text[start + vertex.end() :]
        assert any("from the other" in line for line in check_dxf(changed, page)), vertex
