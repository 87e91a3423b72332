"""How far outlines reach up to a level."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.motif.reach import Reach


def test_a_circle_reaches_its_chord() -> None:
    """Chord at height s: 2 sqrt(2 r s - s^2) (elementary)."""
    reach = Reach((circle(3 + 10j, 10),))
    assert reach.lowest == pytest.approx(0, abs=1e-14)
    assert reach.highest == pytest.approx(20)
    for s in (0.01, 1, 7, 10):
        left, right = reach.ends(s)
        assert right.real - left.real == pytest.approx(2 * math.sqrt(20 * s - s * s), abs=1e-12)
        assert (left + right).real / 2 == pytest.approx(3)
        assert left.imag == pytest.approx(s)
    assert reach.width_mm(15) == pytest.approx(20), "above its middle the reach stays at the full width"


def test_a_tilted_ellipse_reaches_as_its_equation_says() -> None:
    """|A^-1 z| = 1 on the level line is a quadratic in x, solved here by hand."""
    turn = Affine.from_turn(0.4)
    reach = Reach((ellipse(0, 6, 2).transformed(turn),))
    level = reach.lowest + 0.5
    c, s = math.cos(0.4), math.sin(0.4)
    a = c * c / 36 + s * s / 4
    b = 2 * level * c * s * (1 / 36 - 1 / 4)
    rest = level * level * (s * s / 36 + c * c / 4) - 1
    chord = math.sqrt(b * b - 4 * a * rest) / a
    assert reach.width_mm(level) == pytest.approx(chord, abs=1e-12)
    assert reach.lowest == pytest.approx(-math.hypot(6 * s, 2 * c), abs=1e-12)


def test_a_cubic_reaches_where_its_height_says() -> None:
    """The parabola y = x^2 as a cubic: at height h it is 2 sqrt(h) wide."""
    bowl = Cubic.from_quadratic(-2 + 4j, -4j, 2 + 4j)
    reach = Reach((Outline((bowl, Line(2 + 4j, -2 + 4j))),))
    assert reach.lowest == pytest.approx(0, abs=1e-12)
    for h in (1e-6, 0.25, 1, 3.9):
        assert reach.width_mm(h) == pytest.approx(2 * math.sqrt(h), rel=1e-9)


def test_of_equal_ends_the_lower_counts() -> None:
    left, right = Reach((rectangle(1, 2, 5, 9),)).ends(2.05)
    assert (left, right) == (1 + 2j, 5 + 2j)


def test_a_bulge_below_the_level_counts() -> None:
    """A bottle on its side bulge: the outermost point may lie below the level."""
    left, right = Reach((circle(2j, 2), rectangle(-1, 3, 1, 12))).ends(8)
    assert (right - left).real == pytest.approx(4)
    assert left.imag == pytest.approx(2)


def test_arcs_that_run_clockwise_are_met_too() -> None:
    half = Arc.from_circle(0, 5, 0, -math.pi)
    reach = Reach((Outline((half, Line(half.end, half.start))),))
    assert reach.lowest == pytest.approx(-5)
    assert reach.width_mm(-4) == pytest.approx(6)


@pytest.mark.parametrize("width", [0.3, 1.5, 9.99])
def test_level_for_a_width(width: float) -> None:
    """Inverse of the chord: s = r - sqrt(r^2 - w^2/4)."""
    reach = Reach((circle(5j, 5),))
    level = reach.level_for(width, reach.lowest, 5, within_mm=1e-10)
    assert level == pytest.approx(5 - math.sqrt(25 - width * width / 4), abs=1e-8)
    assert reach.width_mm(level) >= width


def test_a_second_leg_makes_the_reach_jump() -> None:
    reach = Reach((rectangle(0, 0, 1, 5), rectangle(4, 0.5, 5, 5)))
    assert reach.level_for(1.5, 0, 5, within_mm=1e-9) == pytest.approx(0.5, abs=1e-8)
    assert reach.level_for(0.5, 0, 5, within_mm=1e-9) == 0
    with pytest.raises(ValueError, match="reach"):
        reach.level_for(6, 0, 5, within_mm=1e-9)
