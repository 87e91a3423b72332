"""Lines and cubics: points, derivatives, pieces, degree elevation."""

from __future__ import annotations

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line

CURVE = Cubic(0, 1 + 3j, 4 - 2j, 5 + 1j)


def test_ends_are_stored_bits() -> None:
    assert (CURVE.point(0), CURVE.point(1)) == (0, 5 + 1j)


def test_derivatives() -> None:
    h = 1e-5
    assert CURVE.velocity(0.3) == pytest.approx((CURVE.point(0.3 + h) - CURVE.point(0.3 - h)) / (2 * h), rel=1e-8)
    assert CURVE.acceleration(0.3) == pytest.approx(
        (CURVE.velocity(0.3 + h) - CURVE.velocity(0.3 - h)) / (2 * h), rel=1e-8
    )


def test_a_piece_is_the_same_curve() -> None:
    piece = CURVE.piece(0.2, 0.7)
    for t in (0, 0.25, 0.5, 1):
        assert piece.point(t) == pytest.approx(CURVE.point(0.2 + 0.5 * t), abs=1e-14)
    assert CURVE.piece(0.7, 0.2).point(0.5) == pytest.approx(piece.point(0.5), abs=1e-14)


def test_a_quadratic_raised_is_the_same_curve() -> None:
    raised = Cubic.from_quadratic(0, 2 + 4j, 6)
    for t in (0.1, 0.5, 0.9):
        quadratic = 2 * t * (1 - t) * (2 + 4j) + t * t * 6
        assert raised.point(t) == pytest.approx(quadratic, abs=1e-14)


def test_images_of_points_are_points_of_the_image() -> None:
    shear = Affine.from_matrix(1, 2, 0, -1, 3, 4)
    for segment in (CURVE, Line(1, 2 + 5j)):
        assert segment.transformed(shear).point(0.4) == pytest.approx(shear.apply(segment.point(0.4)))
        assert segment.reversed().point(0.25) == pytest.approx(segment.point(0.75))


def test_numbers_that_are_not_finite_are_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        Cubic(0, complex("inf"), 1, 2)
    with pytest.raises(ValueError, match="finite"):
        Line(0, complex("nan"))
