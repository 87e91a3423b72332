"""Segments made fit for fitting: quarters, cusps cut apart, straight cubics as lines, nothing without length."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.whole_curves import whole_curves


def test_a_circle_comes_in_quarters_and_an_oval_is_cut_at_its_axes() -> None:
    quarters = whole_curves(Arc.from_circle(2j, 3, 0.3, math.tau))
    assert [piece.sweep_rad for piece in quarters if isinstance(piece, Arc)] == pytest.approx([math.pi / 2] * 4)
    oval = whole_curves(Arc.from_ellipse(0, 6 + 0j, 4j, math.pi / 4, math.pi))
    assert [abs(piece.start) for piece in oval[1:]] == pytest.approx([4, 6])


def test_what_has_no_length_is_nothing_and_a_straight_cubic_is_a_line() -> None:
    assert whole_curves(Line(1j, 1j)) == []
    assert whole_curves(Cubic(1j, 1j, 1j, 1j)) == []
    assert whole_curves(Cubic(0j, 1 + 0j, 2 + 0j, 3 + 0j)) == [Line(0j, 3 + 0j)]


@pytest.mark.parametrize("handles", [(-1, 2), (1, 3.5), (1.5, 4.5), (-0.5, 4)])
def test_a_straight_cubic_that_turns_back_is_no_line(handles: tuple[float, float]) -> None:
    (only, *_) = whole_curves(Cubic(0j, complex(handles[0]), complex(handles[1]), 3 + 0j))
    assert isinstance(only, Cubic)


def test_a_cubic_with_a_cusp_is_two() -> None:
    """P' = 0 at t = 1/2 for this one by its symmetry."""
    first, second = whole_curves(Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j))
    assert first.end == second.start
    assert abs(first.end) < 1e-9
    assert len(whole_curves(Cubic(0j, 5 + 8j, 10 - 8j, 15 + 0j))) == 1


def test_a_loop_that_ends_where_it_starts_is_no_line() -> None:
    loop = Cubic(0j, 3 + 3j, -3 + 3j, 0j)
    assert whole_curves(loop) == [loop]


@pytest.mark.parametrize(("handle_mm", "is_laid"), [(0.9e-6, True), (1.9e-6, True), (2.1e-6, False), (1e-3, False)])
def test_handles_too_short_to_tell_a_direction_are_laid_on_their_ends(handle_mm: float, is_laid: bool) -> None:
    """Shapes are rounded to 1e-6 mm: twice that is the least that shows where a handle points."""
    (only,) = whole_curves(Cubic(0j, handle_mm * 1j, 9 + 4j - handle_mm * 1j, 9 + 4j))
    assert isinstance(only, Cubic if not is_laid else Line)
    (bent, *_) = whole_curves(Cubic(0j, handle_mm * 1j, 9 - 4j, 9 + 4j))
    assert isinstance(bent, Cubic)
    assert (bent.c1 == 0) is is_laid
    (*_, bent) = whole_curves(Cubic(0j, 1 + 5j, 9 + 4j + handle_mm, 9 + 4j))
    assert isinstance(bent, Cubic)
    assert (bent.c2 == 9 + 4j) is is_laid
