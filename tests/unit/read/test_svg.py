"""A drawing in millimetres becomes regions of true curves with parts, foot and axis."""

from __future__ import annotations

import math

import pytest

from frameforge.errors import InputError
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.read.drawing import Drawing
from frameforge.read.svg import read_drawing


def drawing(body: str, *, head: str = 'width="20mm" height="30mm" viewBox="0 0 20 30"', **options: bool) -> Drawing:
    """Return the drawing of SVG elements on a page of 20 x 30 mm."""
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'
    return read_drawing(text.encode(), where="leaf.svg", **options)  # type: ignore[arg-type]


def test_an_arch_is_a_line_and_an_arc_in_mm_with_y_up() -> None:
    """Closed form: a half disc of radius 10 has the area 50 pi; its foot line is the page's lower side."""
    found = drawing('<path d="M0 30 A10 10 0 0 1 20 30 Z"/>')
    assert (found.width_mm, found.height_mm) == (20, 30)
    (region,) = found.join
    assert sorted(type(segment).__name__ for segment in region.outer.segments) == ["Arc", "Line"]
    assert area_mm2(region) == pytest.approx(50 * math.pi, rel=1e-12)
    assert bounds(region).bottom == pytest.approx(0, abs=1e-12)
    assert bounds(region).top == pytest.approx(10, abs=1e-12)


def test_parts_foot_and_axis_are_stated_in_the_file() -> None:
    found = drawing(
        '<g id="guides" fill="none" stroke="none"><line id="foot" x1="0" y1="30" x2="20" y2="30"/>'
        '<line id="axis" x1="10" y1="30" x2="10" y2="0"/></g>'
        '<rect id="join" y="10" width="20" height="20"/>'
        '<g id="window-2"><circle cx="10" cy="20" r="3"/></g>'
        '<g data-part="cut-away"><rect x="0" y="28" width="20" height="2"/></g>'
    )
    assert found.foot == (0j, 20 + 0j)
    assert found.axis == (10 + 0j, 10 + 30j)
    assert [sum(map(area_mm2, part)) for part in (found.join, found.cut_away, found.window)] == pytest.approx(
        [400, 40, 9 * math.pi], rel=1e-12
    )


def test_the_inner_outline_of_a_path_is_a_hole() -> None:
    found = drawing('<path fill-rule="evenodd" d="M0 0H20V30H0Z M5 5H15V15H5Z"/>')
    (region,) = found.join
    assert len(region.holes) == 1
    assert area_mm2(region) == pytest.approx(500, rel=1e-12)


def test_curves_stay_curves_under_any_transform() -> None:
    """An affine image of a circle is an ellipse with the area times the determinant (elementary)."""
    found = drawing('<g transform="matrix(1 .5 0 2 0 0)"><circle cx="8" cy="4" r="2"/></g>')
    (region,) = found.join
    assert all(isinstance(segment, Arc) for segment in region.outer.segments)
    assert area_mm2(region) == pytest.approx(8 * math.pi, rel=1e-12)
    found = drawing('<path transform="skewX(20)" d="M0 0Q5 10 10 0Z"/>')
    kinds = {type(segment) for segment in found.join[0].outer.segments}
    assert kinds == {Cubic, Line}


def test_a_drawing_without_anything_to_cut_is_refused() -> None:
    with pytest.raises(InputError, match=r"^leaf\.svg: the drawing holds nothing that can be cut"):
        drawing("<g/>")


def test_a_drawing_shrunk_to_nothing_is_refused() -> None:
    text = b'<svg width="1e-6mm" viewBox="0 0 20 20"><rect width="9" height="9"/></svg>'
    with pytest.raises(InputError, match=r"the drawing is 4\.?5?e-07 mm across, too small to cut"):
        read_drawing(text, where="leaf.svg")
