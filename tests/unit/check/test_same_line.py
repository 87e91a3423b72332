"""Closed lines that lie in one another count once; those that only agree in size and middle are two."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.check.same_line import once_each
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, ellipse, rectangle

ROUND_A_CORNER = (0.001 + 0.001j, -0.001 + 0.001j, -0.001 - 0.001j, 0.001 - 0.001j)


def _through(*points: complex) -> Outline:
    return Outline(tuple(Line(a, b) for a, b in zip(points, (*points[1:], points[0]), strict=True)))


def test_a_line_that_lies_there_twice_counts_once() -> None:
    again = circle(3, 20).reversed()
    chords = _through(*(3 + cmath.rect(20, math.tau * k / 2000) for k in range(2000)))
    assert once_each([circle(3, 20), again, chords]) == (circle(3, 20),)


def test_one_turned_about_its_middle_is_another() -> None:
    """The two triangles of a star of six points have one area, one length and one middle."""
    triangle = _through(*(cmath.rect(20, math.tau * k / 3) for k in range(3)))
    turned = triangle.transformed(Affine.from_scale(-1))
    bar = rectangle(-10, -20, 10, 20)
    crossing = rectangle(-20, -10, 20, 10)
    assert once_each([triangle, turned]) == (triangle, turned)
    assert once_each([bar, crossing]) == (bar, crossing)
    tall = ellipse(0, 20, 10), ellipse(0, 10, 20)
    assert once_each(tall) == tall


def test_a_figure_of_eight_encloses_something_and_a_line_out_and_back_nothing() -> None:
    eight = _through(0, 40 + 40j, 40, 40j)
    assert once_each([eight, _through(0, 10), _through(0, 10, 5, 7)]) == (eight,)


@pytest.mark.parametrize("first", ROUND_A_CORNER)
@pytest.mark.parametrize("second", ROUND_A_CORNER)
def test_lines_in_one_another_are_one_wherever_their_middles_lie(first: complex, second: complex) -> None:
    """Middles at most .003 mm apart, round a place where four cells of the look-up meet."""
    squares = [rectangle(z.real - 5, z.imag - 5, z.real + 5, z.imag + 5) for z in (first, second)]
    assert once_each(squares) == (squares[0],)
