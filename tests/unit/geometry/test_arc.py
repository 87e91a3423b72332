"""Arcs: points, speed, bulges, images under affine maps."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc

QUARTER = Arc.from_circle(1 + 1j, 2, 0, math.pi / 2)


def test_ends_and_middle_lie_on_the_circle() -> None:
    assert QUARTER.start == pytest.approx(3 + 1j)
    assert QUARTER.end == pytest.approx(1 + 3j)
    assert abs(QUARTER.point(0.3) - (1 + 1j)) == pytest.approx(2)
    assert QUARTER.turns_left
    assert not QUARTER.reversed().turns_left


def test_velocity_and_acceleration_are_the_derivatives() -> None:
    h = 1e-5
    for arc in (QUARTER, QUARTER.transformed(Affine.from_matrix(2, 1, 0, 1, 0, 0))):
        slope = (arc.point(0.4 + h) - arc.point(0.4 - h)) / (2 * h)
        bend = (arc.velocity(0.4 + h) - arc.velocity(0.4 - h)) / (2 * h)
        assert arc.velocity(0.4) == pytest.approx(slope, rel=1e-8)
        assert arc.acceleration(0.4) == pytest.approx(bend, rel=1e-8)


@pytest.mark.parametrize(
    ("bulge", "sagitta"),
    [(0.4142135623731, 0.2928932188135), (1.0, 1.0), (-0.2679491924311, 0.1339745962156)],
)
def test_bulges_as_tabled_for_radius_one(bulge: float, sagitta: float) -> None:
    # bulge = tan(sweep/4) (DXF reference, GetBulge); sagittas for r = 1 computed from r (1 - cos(sweep/2)).
    chord = 2 * math.sin(2 * math.atan(abs(bulge)))
    arc = Arc.from_bulge(0, chord, bulge)
    assert abs(arc.u) == pytest.approx(1, abs=1e-9)
    assert abs(arc.point(0.5).imag) == pytest.approx(sagitta, abs=1e-9)
    # Positive: counter-clockwise, the arc lies to the right of its chord.
    assert (arc.point(0.5).imag < 0) == (bulge > 0)


def test_an_affine_image_is_an_ellipse_with_the_right_axes() -> None:
    image = Arc.from_circle(0, 1, 0, math.tau).transformed(Affine.from_matrix(3, 0, 0, 2, 0, 0))
    long, short, angle = image.principal_axes
    assert (long, short) == (pytest.approx(3), pytest.approx(2))
    assert math.sin(angle) == pytest.approx(0, abs=1e-12)
    assert not image.is_circular
    assert image.transformed(Affine.from_matrix(1 / 3, 0, 0, 1 / 2, 0, 0)).is_circular


def test_a_full_turn_closes_in_its_own_bits() -> None:
    full = Arc.from_circle(0.1 + 0.2j, 7.3, 0.4, math.tau)
    assert full.start == full.end == full.point(1) == full.point(0)


def test_a_piece_runs_between_its_parameters_either_way() -> None:
    piece = QUARTER.piece(0.25, 0.75)
    assert piece.point(0.5) == pytest.approx(QUARTER.point(0.5))
    assert QUARTER.piece(0.75, 0.25).start == piece.end


@pytest.mark.parametrize("sweep", [0.0, 7.0, math.nan])
def test_sweeps_of_nothing_or_more_than_a_turn_are_refused(sweep: float) -> None:
    with pytest.raises(ValueError, match="sweeps"):
        Arc(1, 1, 0, 1, 1j, 0.0, sweep)
