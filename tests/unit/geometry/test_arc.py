"""Arcs of circles and ellipses."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc

QUARTER = Arc.from_circle(1 + 2j, 5, 0.3, math.pi / 2)
SLANTED = Arc.from_ellipse(1 - 1j, 4 + 1j, -0.5 + 2j, -0.4, 2.2)
ARCS = (QUARTER, SLANTED, QUARTER.reversed(), SLANTED.transformed(Affine.from_mirror(0.3)))


@pytest.mark.parametrize("arc", ARCS)
def test_stored_ends_are_points_of_the_arc(arc: Arc) -> None:
    assert arc.point(0) == arc.start
    assert arc.point(1) == arc.end
    for t, end in ((1e-12, arc.start), (1 - 1e-12, arc.end)):
        assert arc.point(t) == pytest.approx(end, abs=1e-9)


@pytest.mark.parametrize("arc", ARCS)
@pytest.mark.parametrize("t", [0.2, 0.9])
def test_derivatives_against_differences(arc: Arc, t: float) -> None:
    h = 1e-5
    assert arc.velocity(t) == pytest.approx((arc.point(t + h) - arc.point(t - h)) / (2 * h), abs=1e-7)
    second = (arc.velocity(t + h) - arc.velocity(t - h)) / (2 * h)
    assert arc.acceleration(t) == pytest.approx(second, abs=1e-7)


@pytest.mark.parametrize("degrees", [30, 45, 60, 90, 120, 180, 270])
def test_bulge_is_the_tangent_of_a_quarter_of_the_angle(degrees: float) -> None:
    # DXF reference, LWPOLYLINE group 42: bulge = tan(included angle / 4), positive counter-clockwise.
    arc = Arc.from_circle(3 - 1j, 7, 0.5, math.radians(degrees))
    again = Arc.from_bulge(arc.start, arc.end, math.tan(math.radians(degrees) / 4))
    assert again.center == pytest.approx(3 - 1j)
    assert abs(again.u) == pytest.approx(7)
    assert again.sweep_rad == pytest.approx(math.radians(degrees))
    assert again.turns_left
    assert not Arc.from_bulge(arc.end, arc.start, -math.tan(math.radians(degrees) / 4)).turns_left


@pytest.mark.parametrize(
    ("bulge", "sagitta"),
    [(0.4142135623731, 0.2928932188135), (1.0, 1.0), (-0.2679491924311, 0.1339745962156)],
)
def test_bulges_as_tabled_for_radius_one(bulge: float, sagitta: float) -> None:
    # Sagittas for r = 1 computed from r (1 - cos(sweep/2)), apart from this project.
    chord = 2 * math.sin(2 * math.atan(abs(bulge)))
    arc = Arc.from_bulge(0, chord, bulge)
    assert abs(arc.u) == pytest.approx(1, abs=1e-9)
    assert abs(arc.point(0.5).imag) == pytest.approx(sagitta, abs=1e-9)
    assert (arc.point(0.5).imag < 0) == (bulge > 0)


def test_a_full_turn_starts_and_ends_in_the_same_bits() -> None:
    arc = Arc.from_circle(0.1, 50, 0.7, math.tau)
    assert arc.start == arc.end


def test_affine_images_are_arcs_of_the_images() -> None:
    map_ = Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6)
    for arc in ARCS:
        for t in (0, 0.3, 1):
            assert arc.transformed(map_).point(t) == pytest.approx(map_.apply(arc.point(t)))


def test_principal_axes_are_the_singular_values() -> None:
    long, short, angle = SLANTED.principal_axes
    for q in (angle, angle + math.pi / 2):
        tangent = cmath.rect(1, q)
        reach = math.hypot((SLANTED.u * tangent.conjugate()).real, (SLANTED.v * tangent.conjugate()).real)
        assert reach == pytest.approx(long if q == angle else short)
    assert SLANTED.greatest_radius == pytest.approx(long)
    assert QUARTER.principal_axes[:2] == pytest.approx((5, 5))


def test_half_axes_that_are_not_perpendicular_do_not_tell_the_greatest_radius() -> None:
    """The greatest distance from the middle, by 20,000 points; u and v are no axes of this ellipse."""
    sheared = Arc.from_ellipse(1 - 1j, 4 + 1j, 3 + 2j, 0, math.tau)
    reach = max(abs(sheared.point(k / 20_000) - (1 - 1j)) for k in range(20_000))
    assert sheared.greatest_radius == pytest.approx(reach, rel=1e-6)
    assert sheared.greatest_radius > 1.1 * max(abs(sheared.u), abs(sheared.v))


def test_circular_arcs_are_known_also_when_mirrored_or_turned() -> None:
    assert QUARTER.is_circular
    assert QUARTER.transformed(Affine.from_mirror(0.3)).is_circular
    assert not SLANTED.is_circular
    assert QUARTER.turns_left
    assert not QUARTER.transformed(Affine.from_mirror(0.3)).turns_left


def test_pieces_run_either_way() -> None:
    for t0, t1 in ((0.2, 0.7), (0.7, 0.2)):
        piece = SLANTED.piece(t0, t1)
        assert piece.start == SLANTED.point(t0)
        assert piece.end == SLANTED.point(t1)
        assert piece.point(0.5) == pytest.approx(SLANTED.point((t0 + t1) / 2))


@pytest.mark.parametrize("sweep", [0, 7, math.nan])
def test_sweeps_of_nothing_or_more_than_a_turn_are_refused(sweep: float) -> None:
    with pytest.raises(ValueError):
        Arc.from_circle(0, 5, 0, sweep)


def test_arcs_that_are_not_finite_are_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        Arc(0, 1, complex(math.inf, 0), 1, 1j, 0, 1)


@pytest.mark.parametrize(("end", "bulge"), [(1, 0.0), (0, 0.5)])
def test_no_bulge_and_no_chord_are_refused(end: complex, bulge: float) -> None:
    with pytest.raises(ValueError, match="no arc"):
        Arc.from_bulge(0, end, bulge)
