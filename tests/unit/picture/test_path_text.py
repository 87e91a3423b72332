"""Path text read back by svgpathtools, which knows nothing of us. Grammar: SVG 1.1, 8.3; arcs: its appendix F.6."""

from __future__ import annotations

import math

import pytest
import svgpathtools
from fixtures.path_area import path_area, signed_area

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.picture.path_text import number_text, outline_text, region_text

LEAF = Outline((Line(-2 + 0j, 2 + 0j), Cubic(2 + 0j, 9 + 5j, 3 + 12j, 16j), Cubic(16j, -3 + 12j, -9 + 5j, -2 + 0j)))
SHEARED = Affine.from_matrix(1.0, 0.6, 0.1, 1.3, 5.0, -2.0)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.00001, "0"), (12.5, "12.5"), (100.0, "100"), (-3.14159265, "-3.1416"), (1e-4, "0.0001")],
)
def test_numbers_are_short(value: float, text: str) -> None:
    assert number_text(value) == text


def test_a_whole_number_keeps_its_zeros() -> None:
    assert number_text(100.0, 0) == "100"


@pytest.mark.parametrize(
    ("outline", "area"),
    [
        (rectangle(1, 2, 4, 6), 12.0),
        (circle(3 + 4j, 10), math.pi * 100),
        (ellipse(-7j, 75, 50), math.pi * 75 * 50),
        (circle(0, 10).transformed(SHEARED), math.pi * 100 * SHEARED.determinant),
    ],
)
def test_another_reader_finds_the_area_of_the_textbook(outline: Outline, area: float) -> None:
    """Area of rectangle and ellipse (any handbook), by svgpathtools from the written text."""
    assert path_area(outline_text(outline)) == pytest.approx(area, rel=1e-4)


@pytest.mark.parametrize("outline", [LEAF, LEAF.transformed(SHEARED), LEAF.reversed()])
def test_another_reader_passes_through_the_same_points(outline: Outline) -> None:
    path = svgpathtools.parse_path(outline_text(outline))
    assert len(path) == len(outline.segments)
    for ours, theirs in zip(outline.segments, path, strict=True):
        for t in (0.0, 0.3, 0.5, 0.8, 1.0):
            assert theirs.point(t) == pytest.approx(ours.point(t), abs=1e-4)


@pytest.mark.parametrize("sweep_deg", [-359.0, -180.0, -90.0, 30.0, 179.9, 180.0, 200.0, 359.0])
def test_arcs_of_every_sweep_keep_their_middle(sweep_deg: float) -> None:
    """Half turns are where a rounded radius moves the middle most: all written parts stay on the ellipse."""
    arc = Arc.from_ellipse(20 + 5j, 40 + 9j, -3 + 25j, 0.7, math.radians(sweep_deg))
    outline = Outline((arc, Line(arc.end, arc.start)))
    parts = svgpathtools.parse_path(outline_text(outline))[:-1]
    to_unit_circle = _frame(arc).inverse()
    for i, part in enumerate(parts):
        assert part.end == pytest.approx(arc.point((i + 1) / len(parts)), abs=1e-4)
        for t in (0.25, 0.5, 0.75):
            assert abs(to_unit_circle.apply(part.point(t))) == pytest.approx(1, abs=1e-5)


def _frame(arc: Arc) -> Affine:
    """Return the map of the unit circle onto the arc's ellipse."""
    return Affine.from_matrix(arc.u.real, arc.v.real, arc.u.imag, arc.v.imag, arc.center.real, arc.center.imag)


def test_holes_stand_before_their_outline_and_run_the_other_way() -> None:
    ring = Region(circle(0, 20), (circle(0, 8).reversed(),))
    path = svgpathtools.parse_path(region_text([ring]))
    hole, outer = path.continuous_subpaths()
    assert signed_area(hole) == pytest.approx(-math.pi * 64, rel=1e-4)
    assert signed_area(outer) == pytest.approx(math.pi * 400, rel=1e-4)
