"""Path data by hand: letters, rounding, the way round. SVG 1.1, section 8.3."""

from __future__ import annotations

import cmath
import math

import pytest
from fixtures.cut_pages import lines_page, page_of, ring

from frameforge.geometry.arc import Arc
from frameforge.geometry.box import Box
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.write.svg_path import path_data

PAGE = Box(0, 0, 100, 100)


def test_a_plate_with_a_hole_reads_as_written_by_hand() -> None:
    page = lines_page()
    wanted = "M20.5,25.5 L20.5,15.5 L40.5,15.5 L40.5,25.5 Z M0.5,40.5 L60.5,40.5 L60.5,0.5 L0.5,0.5 Z"
    assert path_data(page.pieces[0].cuts(), page.box) == wanted


def test_a_ring_is_eight_quarter_arcs_the_hole_opposite() -> None:
    page = page_of(ring(50, 42))
    data = path_data(page.pieces[0].cuts(), page.box)
    assert data.count("A42,42 0 0 1 ") == 4
    assert data.count("A50,50 0 0 0 ") == 4
    assert data.startswith("M92.5,50.5 ")


def test_the_last_line_home_is_left_to_z() -> None:
    triangle = Outline.from_points([10 + 10j, 20 + 10j, 15 + 20j]).segments
    assert path_data([triangle], PAGE) == "M10,90 L20,90 L15,80 Z"


def test_an_open_line_has_no_z() -> None:
    assert path_data([(Line(0, 10 + 0j), Line(10 + 0j, 10 + 5j))], PAGE) == "M0,100 L10,100 L10,95"


def test_a_cubic_keeps_its_handles() -> None:
    assert path_data([(Cubic(0, 1 + 1j, 2 + 1j, 3),)], PAGE) == "M0,100 C1,99 2,99 3,100"


def test_an_upright_ellipse_has_turn_0_whichever_axis_is_long() -> None:
    wide = path_data([(Arc.from_ellipse(50 + 50j, 30, 20j, 0, math.pi / 2),)], PAGE)
    high = path_data([(Arc.from_ellipse(50 + 50j, 20, 30j, 0, math.pi / 2),)], PAGE)
    assert wide == "M80,50 A30,20 0 0 0 50,30"
    assert high == "M70,50 A20,30 0 0 0 50,20"


@pytest.mark.parametrize(
    ("turn_deg", "written"), [(30, "A30,20 -30 0 0"), (-30, "A30,20 30 0 0"), (60, "A20,30 30 0 0")]
)
def test_a_turn_is_clockwise_on_screen_and_at_most_45_degrees(turn_deg: float, written: str) -> None:
    turn = cmath.rect(1, math.radians(turn_deg))
    assert written in path_data([(Arc.from_ellipse(50 + 50j, 30 * turn, 20j * turn, 0, math.pi / 2),)], PAGE)


@pytest.mark.parametrize(
    "arc",
    [
        Arc.from_ellipse(50 + 50j, 30, 0.3j, 0, 1),
        Arc.from_ellipse(50 + 50j, 30, 5j, 0, 1),
        Arc.from_ellipse(50 + 50j, 70 * cmath.rect(1, 0.3), 40j * cmath.rect(1, 0.3), 0, 1),
    ],
    ids=["thin", "flat", "long and askew"],
)
def test_ellipses_that_rounded_radii_would_not_carry_become_cubics(arc: Arc) -> None:
    data = path_data([(arc,)], PAGE)
    assert "A" not in data
    assert "C" in data


def test_what_rounds_to_nothing_is_left_out() -> None:
    speck = Outline.from_points([1 + 1j, 1.00001 + 1j, 1 + 1.00001j]).segments
    flat = Outline.from_points([1 + 1j, 5 + 1.00001j, 9 + 1j]).segments
    assert path_data([speck, flat], PAGE) == ""


def test_an_arc_of_a_radius_that_rounds_to_nothing_is_a_line_at_most() -> None:
    tiny = Arc.from_circle(5 + 5j, 0.00004, 0, math.pi / 2)
    assert "A" not in path_data([(Line(1 + 1j, tiny.start), tiny)], PAGE)


def test_numbers_that_are_not_finite_are_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        path_data([(Line(0, 1e308 + 1e308j),)], Box(-1e308, -1e308, 0, 0))
