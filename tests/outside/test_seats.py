"""Seats of a foot on ovals and on their parallels, against numbers from outside the code."""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq, root

from frameforge.frame.base import Edge
from frameforge.frame.seat import find_seat

# Values computed twice, by mpmath and by bracketing (no printed source): axes full, tau clockwise from the top.
OVALS = [
    ((75, 50), math.pi / 2, 20, 73.4846922835 + 10j, 73.4846922835 - 10j, 1.515307716505),
    ((75, 50), 0.9, 20, 50.29514436134 + 37.09087011754j, 65.60844613856 + 24.22608140262j, 0.8362548869217),
    ((120, 40), 1.3, 22, 105.7726447189 + 18.89193722544j, 119.851848342 + 1.987025946755j, 2.329549533138),
]


@pytest.mark.parametrize(("axes", "tau", "foot", "left", "right", "sagitta"), OVALS)
def test_seats_on_ovals_have_the_tabled_feet(
    axes: tuple[float, float], tau: float, foot: float, left: complex, right: complex, sagitta: float
) -> None:
    """To the digits of the table, ten after the point."""
    seat = find_seat(Edge(*axes), foot, tau)
    assert abs(seat.left - left) < 5e-11 * 10
    assert abs(seat.right - right) < 5e-11 * 10
    assert abs(seat.sagitta_mm - sagitta) < 1e-12 * 10


def test_a_seat_on_an_inner_parallel_has_the_tabled_feet() -> None:
    seat = find_seat(Edge(75, 50, -12), 20, 0.9)
    assert abs(seat.left - (42.28931008616 + 27.86372185445j)) < 1e-10
    assert abs(seat.right - (57.60261186339 + 14.99893313952j)) < 1e-10
    assert abs(seat.sagitta_mm - 1.050828503559) < 1e-11


@pytest.mark.parametrize("radius", [20.0, 28.575, 50.0, 71.3])
@pytest.mark.parametrize("foot", [0.5, 12.0, 20.0, 36.0])
def test_on_a_circle_the_foot_stands_at_the_apothem(radius: float, foot: float) -> None:
    """Apothem sqrt(R^2 - w^2/4): elementary geometry of the chord (Euclid III.3)."""
    seat = find_seat(Edge(radius, radius), foot, 0.7)
    apothem = math.sqrt(radius * radius - foot * foot / 4)
    assert abs(abs(seat.middle) - apothem) < 1e-12 * radius
    assert abs(seat.sagitta_mm - (radius - apothem)) < 1e-12 * radius


@pytest.mark.parametrize(("a", "b"), [(75, 50), (50, 75), (60, 40), (120, 40), (33, 32)])
@pytest.mark.parametrize("tau", [0.0, 0.4, 1.1, 2.5, 4.0, 5.9])
def test_closed_form_agrees_with_a_search_on_the_oval(a: float, b: float, tau: float) -> None:
    """Second road: the chord with the tangent's direction whose length is the foot, found by bracketing its height."""
    edge, foot = Edge(a, b), 17.0
    seat = find_seat(edge, foot, tau)
    tangent = edge.tangent(tau)
    top = edge.point(tau)

    def half_chords(depth: float) -> tuple[float, float]:
        """Return how far along the tangent the line at this depth below the top meets the oval, both ways."""
        p = top - depth * 1j * tangent
        # (x/a)^2 + (y/b)^2 = 1 along p + s tangent
        qa = (tangent.real / a) ** 2 + (tangent.imag / b) ** 2
        qb = p.real * tangent.real / a**2 + p.imag * tangent.imag / b**2
        qc = (p.real / a) ** 2 + (p.imag / b) ** 2 - 1
        half = math.sqrt(max(qb * qb - qa * qc, 0.0))
        return (-qb - half) / qa, (-qb + half) / qa

    # The widest chord of this direction goes through the middle of the oval, at the depth of the middle.
    deepest = (top.conjugate() * 1j * tangent).real
    depth = brentq(lambda d: half_chords(d)[1] - half_chords(d)[0] - foot, 0.0, deepest, xtol=1e-14, rtol=1e-14)
    left, right = (top - depth * 1j * tangent + s * tangent for s in half_chords(depth))
    assert abs(seat.sagitta_mm - depth) < 1e-11
    assert abs(seat.left - left) < 1e-11
    assert abs(seat.right - right) < 1e-11


@pytest.mark.parametrize("offset", [-20.0, -12.0, -0.3, 0.3, 5.0, 40.0])
@pytest.mark.parametrize("tau", [0.0, 0.9, 1.57, 3.3, 5.0])
def test_seats_on_parallels_keep_their_two_conditions(offset: float, tau: float) -> None:
    """Both ends on the parallel and the chord along T and w wide; ends also by scipy's root finder."""
    edge, foot = Edge(75, 50, offset), 9.0
    seat = find_seat(edge, foot, tau)
    assert abs(seat.right - seat.left - foot * edge.tangent(tau)) < 1e-11

    def miss(t: list[float]) -> list[float]:
        chord = edge.point(t[1]) - edge.point(t[0]) - foot * edge.tangent(tau)
        return [chord.real, chord.imag]

    t1, t2 = root(miss, [tau - 0.05, tau + 0.05], tol=1e-13).x
    assert abs(seat.left - edge.point(t1)) < 1e-9
    assert abs(seat.right - edge.point(t2)) < 1e-9
