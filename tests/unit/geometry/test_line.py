"""Straight segments."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line

LINE = Line(1 + 1j, 0.1 + 0.7j)


def test_ends_come_back_to_the_bit() -> None:
    assert LINE.point(0) == LINE.start
    assert LINE.point(1) == LINE.end


def test_a_line_has_one_velocity_and_no_acceleration() -> None:
    assert LINE.velocity(0.3) == LINE.end - LINE.start
    assert LINE.acceleration(0.3) == 0


def test_pieces_and_reversal() -> None:
    piece = LINE.piece(0.75, 0.25)
    assert piece.start == pytest.approx(LINE.point(0.75))
    assert piece.end == pytest.approx(LINE.point(0.25))
    assert LINE.reversed() == Line(LINE.end, LINE.start)


def test_images_and_new_ends() -> None:
    assert LINE.transformed(Affine.from_move(1)) == Line(LINE.start + 1, LINE.end + 1)
    assert LINE.with_ends(0, 1) == Line(0, 1)


def test_infinite_ends_are_refused() -> None:
    with pytest.raises(ValueError, match="not finite"):
        Line(0, complex(math.inf, 0))
