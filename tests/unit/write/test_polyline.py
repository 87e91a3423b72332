"""Vertices and bulges. Bulge = tan(sweep / 4): DXF reference, LWPOLYLINE; the table of bulges by that formula."""

from __future__ import annotations

import math

import pytest
from fixtures.cut_pages import disc, leaf_frame, lines_page, oval, page_of, ring

from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.write.dxf_place import DxfPlace
from frameforge.write.polyline import bulge_polyline, chord_polyline

PLACE = DxfPlace(Box(0, 0, 100, 100))


def test_a_circle_is_four_vertices_with_the_bulge_of_a_quarter() -> None:
    page = page_of(disc(50))
    found = bulge_polyline(page.pieces[0].cuts()[0], DxfPlace(page.box))
    assert found is not None
    assert found.is_closed
    assert [v[:2] for v in found.vertices] == [(100.5, 50.5), (50.5, 100.5), (0.5, 50.5), (50.5, 0.5)]
    assert [v[2] for v in found.vertices] == pytest.approx([0.4142135623731] * 4, abs=1e-12)


def test_a_hole_has_the_opposite_bulge() -> None:
    page = page_of(ring())
    hole, outside = (bulge_polyline(run, DxfPlace(page.box)) for run in page.pieces[0].cuts())
    assert hole is not None
    assert outside is not None
    assert {math.copysign(1, v[2]) for v in hole.vertices} == {-1}
    assert {math.copysign(1, v[2]) for v in outside.vertices} == {1}


@pytest.mark.parametrize(
    ("sweep_deg", "bulge"), [(30, 0.1316524975874), (45, 0.1989123673797), (60, 0.2679491924311), (90, 0.4142135623731)]
)
def test_bulges_are_those_of_the_table(sweep_deg: float, bulge: float) -> None:
    found = bulge_polyline((Arc.from_circle(50 + 50j, 20, 1, math.radians(sweep_deg)),), PLACE)
    assert found is not None
    assert not found.is_closed
    assert [v[2] for v in found.vertices] == pytest.approx([bulge, 0], abs=1e-12)


def test_a_plate_is_its_corners() -> None:
    page = lines_page()
    found = bulge_polyline(page.pieces[0].cuts()[1], DxfPlace(page.box))
    assert found is not None
    assert found.vertices == ((0.5, 0.5, 0), (60.5, 0.5, 0), (60.5, 40.5, 0), (0.5, 40.5, 0))


def test_cubics_come_as_few_arcs() -> None:
    page = page_of(leaf_frame())
    found = [bulge_polyline(run, DxfPlace(page.box)) for run in page.pieces[0].cuts()]
    vertices = sum(len(polyline.vertices) for polyline in found if polyline is not None)
    assert vertices <= 28 + 288 * 4.7


def test_an_oval_of_arcs_turns_with_the_curve() -> None:
    page = page_of(oval())
    found = bulge_polyline(page.pieces[0].cuts()[1], DxfPlace(page.box))
    assert found is not None
    assert all(v[2] > 0 for v in found.vertices)


def test_an_open_line_has_one_vertex_more_than_parts() -> None:
    found = bulge_polyline((Line(0, 5 + 0j), Line(5 + 0j, 5 + 5j)), PLACE)
    assert found is not None
    assert [v[:2] for v in found.vertices] == [(0, 0), (5, 0), (5, 5)]


@pytest.mark.parametrize("write", [bulge_polyline, chord_polyline])
def test_specks_and_slivers_leave_nothing(write: object) -> None:
    assert callable(write)
    nothing = Outline.from_points([1 + 1j, 1 + 1e-8 + 1j, 1 + 1j + 1e-8j]).segments
    assert write(nothing, PLACE) is None


def test_a_speck_of_an_ellipse_or_a_cubic_is_the_line_across_it() -> None:
    """Once the biarcs of a half ellipse of 3 nanometres divided by zero."""
    arc = Arc.from_ellipse(1.13537 - 0.00057j, 2.7e-6 + 1.8e-6j, 1.04e-6 + 2.7e-8j, -0.03, math.pi)
    dot = Cubic(arc.end, arc.end + 1e-7, arc.end + 1e-7j, arc.end + 2e-6)
    found = bulge_polyline((Line(0, arc.start), arc, dot, Line(dot.end, 3 + 0j)), PLACE)
    assert found is not None
    assert {v[2] for v in found.vertices} == {0}
    assert abs(complex(*found.vertices[1][:2]) - arc.start) <= 1e-6


def test_chords_of_a_circle_keep_their_distance() -> None:
    """Sagitta r (1 - cos(q / 2)) of n chords; 0.02 mm on R 50 needs 112 of them."""
    page = page_of(disc(50))
    found = chord_polyline(page.pieces[0].cuts()[0], DxfPlace(page.box))
    assert found is not None
    n = len(found.vertices)
    assert 112 <= n <= 114
    assert 50 * (1 - math.cos(math.pi / n)) <= 0.0198
    assert all(abs(abs(complex(x, y) - (50.5 + 50.5j)) - 50) <= 2e-6 for x, y, _ in found.vertices)


def test_chords_of_an_open_line_keep_both_ends() -> None:
    arc = Arc.from_circle(50 + 50j, 20, 0, 1)
    found = chord_polyline((Line(60 + 50j, 70 + 50j), arc), PLACE)
    assert found is not None
    assert found.vertices[:2] == ((60, 50, 0), (70, 50, 0))
    assert complex(*found.vertices[-1][:2]) == pytest.approx(arc.end, abs=1e-6)
