"""Copies of one curve have one shape; other curves have another."""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.congruence import shape_of
from frameforge.geometry.cubic import Cubic

CUBIC = Cubic(-1 - 1.2j, 1 - 1.4j, 2 - 2.6j, 4 - 4.5j)
ARC = Arc.from_ellipse(2 + 3j, 30 + 10j, -4 + 12j, 0.7, 1.3)


@pytest.mark.parametrize("segment", [CUBIC, ARC, ARC.reversed()])
def test_turned_copies_and_mirrored_reverses_are_one_shape(segment: Cubic | Arc) -> None:
    shape = shape_of(segment, 1e-6)
    for k in range(12):
        turned = segment.transformed(Affine.from_turn(k * math.tau / 12, 50j))
        assert shape_of(turned, 1e-6).numbers == shape.numbers
        half = turned.transformed(Affine.from_mirror(0.3, 2 + 1j)).reversed()
        assert shape_of(half, 1e-6).numbers == shape.numbers
        assert shape_of(half, 1e-6).is_turned != shape_of(turned, 1e-6).is_turned


@pytest.mark.parametrize("segment", [CUBIC, ARC])
def test_the_shape_lies_on_the_segment_again(segment: Cubic | Arc) -> None:
    for copy in (segment, segment.reversed().transformed(Affine.from_mirror(1.0, 7j))):
        shape = shape_of(copy, 1e-6)
        back = shape.curve.transformed(shape.to_place)
        back = back.reversed() if shape.is_turned else back
        for k in range(11):
            assert abs(back.point(k / 10) - copy.point(k / 10)) < 3e-6


def test_mirrored_but_not_reversed_is_another_shape() -> None:
    """What lies to its left has changed sides."""
    mirrored = CUBIC.transformed(Affine.from_mirror())
    assert shape_of(mirrored, 1e-6).numbers != shape_of(CUBIC, 1e-6).numbers


def test_the_grain_tells_shapes_apart() -> None:
    other = Cubic(CUBIC.start, CUBIC.c1, CUBIC.c2 + 1e-5, CUBIC.end)
    assert shape_of(other, 1e-6).numbers != shape_of(CUBIC, 1e-6).numbers
    assert shape_of(other, 1e-2).numbers == shape_of(CUBIC, 1e-2).numbers
