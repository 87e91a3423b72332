"""Our own reading of path data: SVG 1.1, section 8.3, and appendix F.6 for arcs."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.write.svg_text import PathDataError, read_path


def test_lines_cubics_and_the_closing_line() -> None:
    ((run, is_closed),) = read_path("M1,2 L5,2 C6,3 6,4 5,5 Z", 10)
    assert is_closed
    assert run == (Line(1 + 8j, 5 + 8j), Cubic(5 + 8j, 6 + 7j, 6 + 6j, 5 + 5j), Line(5 + 5j, 1 + 8j))


def test_open_and_closed_subpaths_are_told_apart() -> None:
    found = read_path("M1,1 L2,1 M3,3 L4,3 L4,4 Z M5,5 L6,6", 10)
    assert [is_closed for _, is_closed in found] == [False, True, False]


@pytest.mark.parametrize(("sweep", "middle"), [(0, 1 + 1j), (1, -1 - 1j)])
def test_the_sweep_flag_1_is_clockwise_on_screen(sweep: int, middle: complex) -> None:
    """A quarter of radius 10 from the right to the top of the circle about 0 is sweep 0 (F.6.5)."""
    ((run, _),) = read_path(f"M10,0 A10,10 0 0 {sweep} 0,-10", 0)
    (arc,) = run
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx(0 if sweep == 0 else 10 + 10j, abs=1e-12)
    assert abs(arc.sweep_rad) == pytest.approx(math.pi / 2)
    assert arc.turns_left == (sweep == 0)
    assert (arc.point(0.5) - arc.center) * middle.conjugate() == pytest.approx(10 * math.sqrt(2), abs=1e-9)


def test_a_turned_ellipse_passes_where_the_formula_says() -> None:
    """rx 30, ry 10 turned by -30 deg on screen (up on the right); centre 50,50; from its long to its short axis."""
    c, s = math.cos(math.pi / 6), math.sin(math.pi / 6)
    start, end = (50 + 30 * c, 50 - 30 * s), (50 - 10 * s, 50 - 10 * c)
    ((run, _),) = read_path("M{:.6g},{:.6g} A30,10 -30 0 0 {:.6g},{:.6g}".format(*start, *end), 100)
    (arc,) = run
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx(50 + 50j, abs=1e-3)
    q = math.pi / 4
    wanted = complex(50 + 30 * math.cos(q) * c - 10 * math.sin(q) * s, 50 + 30 * math.cos(q) * s + 10 * math.sin(q) * c)
    assert arc.point(0.5) == pytest.approx(wanted, abs=1e-3)


def test_radii_too_small_are_scaled_up() -> None:
    """F.6.6: the arc becomes the half circle over the chord."""
    ((run, _),) = read_path("M0,0 A1,1 0 0 1 10,0", 0)
    (arc,) = run
    assert isinstance(arc, Arc)
    assert abs(arc.u) == pytest.approx(5)
    assert abs(arc.sweep_rad) == pytest.approx(math.pi)


@pytest.mark.parametrize(
    "d",
    [
        "m1,1 l2,2",
        "M1,1 H5",
        "M1,1 Q2,2 3,3",
        "M1,1 2,2",
        "M1,1 L2",
        "M1,1 L2,2,3",
        "M1,1 L1e3,2",
        "M1,1 L2.00001,3",
        "M1,1 L2.50,3",
        "M1,1 L-0,3",
        "M1,1 L.5,3",
        "M1,1 L+2,3",
        "M1,1 Lnan,3",
        "M1,1 L1,1",
        "M1,1 A2,2 0 1 1 3,3",
        "M1,1 A0,2 0 0 1 3,3",
        "M1,1 A2,2 0 0 2 3,3",
    ],
)
def test_what_we_never_write_is_refused(d: str) -> None:
    with pytest.raises(PathDataError):
        read_path(d, 10)
