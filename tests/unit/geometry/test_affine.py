"""Affine maps against matrix algebra."""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest

from frameforge.geometry.affine import IDENTITY, Affine

POINTS = (0j, 1 + 0j, -2.5 + 3j, 0.1 - 7j)
MAPS = (
    IDENTITY,
    Affine.from_move(3 - 2j),
    Affine.from_turn(0.7, about=2 + 1j),
    Affine.from_scale(2.5, about=-1j),
    Affine.from_mirror(0.4, through=1 + 1j),
    Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6),
)


@pytest.mark.parametrize("point", POINTS)
def test_a_matrix_acts_on_x_and_y(point: complex) -> None:
    image = Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6).apply(point)
    x, y = point.real, point.imag
    assert image == pytest.approx(complex(1.2 * x + 0.3 * y + 5, -0.4 * x + 0.9 * y - 6))


@pytest.mark.parametrize("first", MAPS)
@pytest.mark.parametrize("second", MAPS)
def test_after_does_one_map_and_then_the_other(first: Affine, second: Affine) -> None:
    for point in POINTS:
        assert second.after(first).apply(point) == pytest.approx(second.apply(first.apply(point)), abs=1e-12)


@pytest.mark.parametrize("map_", MAPS)
def test_the_inverse_undoes_the_map(map_: Affine) -> None:
    for point in POINTS:
        assert map_.inverse().apply(map_.apply(point)) == pytest.approx(point, abs=1e-12)


def test_a_turn_keeps_its_middle_and_turns_counter_clockwise() -> None:
    turn = Affine.from_turn(math.pi / 2, about=2 + 1j)
    assert turn.apply(2 + 1j) == pytest.approx(2 + 1j)
    assert turn.apply(3 + 1j) == pytest.approx(2 + 2j)


def test_a_mirror_keeps_its_line_and_swaps_sides() -> None:
    mirror = Affine.from_mirror()
    assert mirror.apply(3 + 4j) == pytest.approx(-3 + 4j)
    assert mirror.determinant == pytest.approx(-1)
    tilted = Affine.from_mirror(0.4, through=1 + 1j)
    on_line = 1 + 1j + 5 * cmath.rect(1, 0.4)
    assert tilted.apply(on_line) == pytest.approx(on_line)


def test_determinant_and_stretch_are_those_of_the_matrix() -> None:
    rows = np.array([[1.2, 0.3], [-0.4, 0.9]])
    map_ = Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 0, 0)
    assert map_.determinant == pytest.approx(np.linalg.det(rows))
    assert map_.greatest_stretch == pytest.approx(np.linalg.svd(rows, compute_uv=False)[0])
    assert not map_.is_similarity
    assert Affine.from_scale(3).after(Affine.from_mirror(0.3)).is_similarity


def test_arrays_and_points_have_the_same_images() -> None:
    map_ = MAPS[-1]
    images = map_.apply(np.array(POINTS))
    assert images.tolist() == [map_.apply(point) for point in POINTS]


def test_a_direction_is_not_moved() -> None:
    assert Affine.from_move(5 + 5j).apply_vector(1 + 2j) == 1 + 2j


def test_maps_that_flatten_or_are_not_finite_are_refused() -> None:
    with pytest.raises(ValueError, match="no inverse"):
        Affine.from_matrix(1, 2, 2, 4, 0, 0).inverse()
    with pytest.raises(ValueError, match="not finite"):
        Affine(math.nan)
