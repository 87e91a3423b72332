"""Path commands become lines, arcs and cubics that run where SVG says.

Sources: SVG 1.1 (second edition) sections 8.3 and F.6; elementary geometry where a number is typed.
"""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.read.path_grammar import scan_path
from frameforge.read.svg_curves import Subpath, endpoint_arc, to_subpaths


def subpaths(data: str) -> tuple[Subpath, ...]:
    """Return the subpaths of path data."""
    scan = scan_path(data)
    assert scan.fault is None
    return to_subpaths(scan.commands)


def one(data: str) -> Subpath:
    """Return the only subpath of path data."""
    (subpath,) = subpaths(data)
    return subpath


def test_relative_and_absolute_commands_draw_the_same() -> None:
    absolute = one("M10 20L30 20H40V50C40 60 30 60 20 60S10 50 10 40Q5 30 10 25T10 22A4 3 20 0 1 12 20Z")
    relative = one("m10 20l20 0h10v30c0 10-10 10-20 10s-10-10-10-20q-5-10 0-15t0-3a4 3 20 0 12-2z")
    assert len(absolute.segments) == len(relative.segments)
    for a, b in zip(absolute.segments, relative.segments, strict=True):
        for t in (0, 0.3, 1):
            assert abs(a.point(t) - b.point(t)) < 1e-12


def test_a_smooth_command_mirrors_the_handle_only_after_its_own_kind() -> None:
    s_after_c, s_after_l = one("M0 0C0 1 1 2 2 2S4 1 4 0"), one("M0 0L2 2S4 1 4 0")
    assert s_after_c.segments[1].c1 == 3 + 2j  # type: ignore[union-attr]
    assert s_after_l.segments[1].c1 == 2 + 2j  # type: ignore[union-attr]
    chain = one("M0 0Q1 2 2 0T4 0T6 0")
    assert all(isinstance(segment, Cubic) for segment in chain.segments)
    assert chain.segments[2].point(0.5) == pytest.approx(5 + 1j)
    assert one("M0 0Q1 2 2 0C3 1 4 1 5 0T6 0").segments[2].point(0.5) == pytest.approx(5.25)


def test_quadratics_are_raised_exactly() -> None:
    (cubic,) = one("M1 2Q7 11 5 3").segments
    for t in (0.0, 0.17, 0.5, 0.83, 1.0):
        s = 1 - t
        assert abs(cubic.point(t) - (s * s * (1 + 2j) + 2 * s * t * (7 + 11j) + t * t * (5 + 3j))) < 1e-14


def test_after_a_closing_the_next_subpath_starts_where_the_last_one_did() -> None:
    first, second = subpaths("M10 10L10 20L20 10zL100 100L120 100")
    assert first.is_closed
    assert first.segments[-1] == Line(20 + 10j, 10 + 10j)
    assert (second.start, second.is_closed) == (10 + 10j, False)
    assert len(second.segments) == 2


def test_a_move_alone_draws_nothing_and_a_closed_move_is_a_dot() -> None:
    assert subpaths("M1 1M2 2") == ()
    assert subpaths("M1 1Z") == (Subpath(1 + 1j, (), is_closed=True),)
    assert subpaths("M1 1L1 1") == (Subpath(1 + 1j, ()),)
    assert len(subpaths("M1 1ZZ")) == 1


def test_a_path_that_comes_back_by_rounding_only_gets_no_closing_line() -> None:
    closed = one("M0.1 0l.1 0l.1 0l0 1l-.2 0z")
    assert len(closed.segments) == 5
    back = one("M.3 .1l.1 .1l.1-.2l-.2 .1z")
    assert len(back.segments) == 3
    assert back.end == back.start


def test_arcs_have_their_ends_to_the_bit_and_their_radii() -> None:
    arc = endpoint_arc(1 + 2j, 4 + 3j, 5, 3, 30, large=True, sweep=False)
    assert isinstance(arc, Arc)
    assert (arc.start, arc.end) == (1 + 2j, 4 + 3j)
    for t, end in ((0.0, arc.start), (1.0, arc.end)):
        q = arc.angle(t)
        assert abs(arc.center + arc.u * math.cos(q) + arc.v * math.sin(q) - end) < 1e-13
    assert abs(arc.u) == pytest.approx(5)
    assert abs(arc.v) == pytest.approx(3)
    assert math.degrees(cmath.phase(arc.u)) == pytest.approx(30)


@pytest.mark.parametrize(("large", "sweep"), [(False, False), (False, True), (True, False), (True, True)])
def test_the_four_flags_choose_the_four_arcs(large: bool, sweep: bool) -> None:
    """Large means at least half a turn; sweep means growing angles, clockwise where y points down."""
    arc = endpoint_arc(0j, 1 + 1j, 1, 1, 0, large=large, sweep=sweep)
    assert isinstance(arc, Arc)
    assert abs(arc.sweep_rad) == pytest.approx(1.5 * math.pi if large else 0.5 * math.pi)
    assert (arc.sweep_rad > 0) == sweep
    assert arc.center == pytest.approx(1j if large != sweep else 1 + 0j)


def test_arcs_out_of_range_are_mended_as_the_standard_says() -> None:
    """F.6.2 and F.6.6: no radius is a line, a negative one positive, a small one enlarged, equal ends nothing."""
    assert endpoint_arc(0j, 2 + 0j, 0, 5, 0, large=False, sweep=True) == Line(0j, 2 + 0j)
    assert endpoint_arc(1j, 1j, 3, 3, 0, large=True, sweep=True) is None
    minus, plus = (endpoint_arc(0j, 2 + 0j, r, r, 0, large=False, sweep=True) for r in (-3, 3))
    assert minus == plus
    small = endpoint_arc(0j, 4 + 0j, 1, 0.5, 0, large=False, sweep=True)
    assert isinstance(small, Arc)
    assert (abs(small.u), abs(small.v)) == pytest.approx((2, 1))
    assert abs(small.sweep_rad) == pytest.approx(math.pi)
    assert small.center == pytest.approx(2)


def test_two_half_arcs_enclose_their_ellipse_under_any_map() -> None:
    """Area pi a b times the determinant; kinds kept."""
    circle = one("M0 5A10 5 0 1 1 20 5A10 5 0 1 1 0 5Z")
    affine = Affine.from_matrix(1, 0.7, -0.2, 2, 3, 4)
    outline = circle.to_outline(affine, 1e-7)
    assert outline is not None
    assert all(isinstance(segment, Arc) for segment in outline.segments)
    assert abs(area_mm2(outline)) == pytest.approx(50 * math.pi * affine.determinant, rel=1e-12)


def test_a_fill_needs_something_to_enclose() -> None:
    assert one("M0 0L5 5").to_outline(Affine(), 1e-7) is None
    assert one("M0 0Z").to_outline(Affine(), 1e-7) is None
    assert one("M0 0L5 5L9 0").to_outline(Affine(), 1e-7) is not None
    assert one("M0 0L1e-9 0L0 1e-9").to_outline(Affine(), 1e-7) is None
