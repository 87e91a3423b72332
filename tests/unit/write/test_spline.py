"""Splines: control points and knots of a chain of cubics (Farin, Curves and Surfaces for CAGD, ch. 8)."""

from __future__ import annotations

from fixtures.cut_pages import disc, leaf_frame, lines_page, page_of

from frameforge.geometry.box import Box
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.write.dxf_place import DxfPlace
from frameforge.write.spline import run_spline


def test_one_cubic_is_its_four_points() -> None:
    found = run_spline((Cubic(0, 1 + 1j, 2 + 1j, 3),), DxfPlace(Box(0, 0, 9, 9)))
    assert found is not None
    assert found.control == ((0, 0), (1, 1), (2, 1), (3, 0))
    assert found.knots == (0, 0, 0, 0, 1, 1, 1, 1)
    assert not found.is_closed


def test_a_line_has_its_handles_at_thirds_and_joints_are_threefold_knots() -> None:
    found = run_spline((Line(0, 3), Line(3, 3 + 6j)), DxfPlace(Box(0, 0, 9, 9)))
    assert found is not None
    assert found.control == ((0, 0), (1, 0), (2, 0), (3, 0), (3, 2), (3, 4), (3, 6))
    assert found.knots == (0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2)


def test_a_closed_outline_comes_back_to_its_first_point() -> None:
    page = lines_page()
    found = run_spline(page.pieces[0].cuts()[0], DxfPlace(page.box))
    assert found is not None
    assert found.is_closed
    assert found.control[0] == found.control[-1]


def test_there_are_four_knots_more_than_control_points() -> None:
    page = page_of(leaf_frame())
    for run in page.pieces[0].cuts():
        found = run_spline(run, DxfPlace(page.box))
        assert found is not None
        assert len(found.knots) == len(found.control) + 4


def test_a_circle_of_50_needs_fourteen_cubics_for_a_hundred_thousandth() -> None:
    """50 x 2/27 sin^6(w/4) / cos^2(w/4) is 1.15e-5 mm for a thirteenth of a turn and 7.4e-6 mm for a fourteenth."""
    page = page_of(disc(50))
    found = run_spline(page.pieces[0].cuts()[0], DxfPlace(page.box))
    assert found is not None
    assert (len(found.control) - 1) / 3 == 14


def test_what_rounds_to_nothing_is_left_out() -> None:
    speck = Outline.from_points([1, 1 + 1e-8, 1 + 1e-8j]).segments
    assert run_spline(speck, DxfPlace(Box(0, 0, 9, 9))) is None
