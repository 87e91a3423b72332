"""Affine maps: composition, inverse, mirror, turn."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.geometry.affine import IDENTITY, Affine

MAP = Affine.from_matrix(2, 0.5, -0.3, 1.5, 4, -7)


def test_a_matrix_maps_as_written() -> None:
    assert MAP.apply(3 + 2j) == pytest.approx(complex(2 * 3 + 0.5 * 2 + 4, -0.3 * 3 + 1.5 * 2 - 7))
    assert MAP.determinant == pytest.approx(2 * 1.5 - 0.5 * -0.3)


def test_the_inverse_leads_back_and_a_flattening_map_has_none() -> None:
    assert MAP.inverse().apply(MAP.apply(5 - 6j)) == pytest.approx(5 - 6j)
    with pytest.raises(ValueError, match="determinant 0"):
        Affine.from_matrix(1, 0, 0, 0, 0, 0).inverse()


def test_after_does_the_first_map_first() -> None:
    turn, move = Affine.from_turn(math.pi / 2), Affine.from_move(3)
    assert turn.after(move).apply(1) == pytest.approx(4j)
    assert move.after(turn).apply(1) == pytest.approx(3 + 1j)
    assert MAP.after(IDENTITY).apply(2j) == pytest.approx(MAP.apply(2j))


def test_a_mirror_keeps_its_axis_and_turns_area_over() -> None:
    mirror = Affine.from_mirror(0.4, through=2 + 1j)
    on_axis = 2 + 1j + 5 * cmath.rect(1, 0.4)
    assert mirror.apply(on_axis) == pytest.approx(on_axis)
    assert mirror.determinant == pytest.approx(-1)
    assert mirror.is_similarity
    assert not MAP.is_similarity


def test_vectors_do_not_move() -> None:
    assert Affine.from_move(9).apply_vector(1j) == 1j


def test_numbers_that_are_not_finite_are_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        Affine(complex("nan"))
