"""Directions at the ends, also where a handle lies on its end."""

from __future__ import annotations

import cmath

import pytest

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import direction_at, end_direction, start_direction
from frameforge.geometry.line import Line


def test_lines_and_arcs() -> None:
    assert start_direction(Line(1j, 3 + 1j)) == 1
    assert end_direction(Line(1j, -3j)) == -1j
    arc = Arc.from_circle(5 + 5j, 2, 0.3, -1.0)
    assert cmath.isclose(start_direction(arc), cmath.rect(1, 0.3) * -1j)
    assert cmath.isclose(end_direction(arc), cmath.rect(1, -0.7) * -1j)


def test_cubics_with_handles_on_their_ends() -> None:
    assert start_direction(Cubic(0j, 0j, 3 + 4j, 9 + 0j)) == 0.6 + 0.8j
    assert start_direction(Cubic(0j, 0j, 0j, -2j)) == -1j
    assert end_direction(Cubic(0j, 4j, 9 + 0j, 9 + 0j)) == pytest.approx((9 - 4j) / abs(9 - 4j))
    assert end_direction(Cubic(0j, 7j, 7j, 7j)) == 1j


def test_a_point_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        start_direction(Cubic(1j, 1j, 1j, 1j))


def test_directions_inside_are_those_of_the_velocity_or_of_what_follows() -> None:
    cubic = Cubic(0j, 5 + 8j, 10 - 8j, 15 + 0j)
    for t in (0.0, 0.3, 1.0):
        assert cmath.isclose(direction_at(cubic, t), cubic.velocity(t) / abs(cubic.velocity(t)), abs_tol=1e-12)
    still = Cubic(0j, 0j, 3 + 4j, 9 + 0j)
    assert direction_at(still, 0.0) == 0.6 + 0.8j
    cusp = Cubic(1 - 1j, -1 / 3 + 1j, -1 / 3 - 1j, 1 + 1j)
    assert cmath.isclose(direction_at(cusp, 0.5), start_direction(cusp.piece(0.5, 1.0)))
