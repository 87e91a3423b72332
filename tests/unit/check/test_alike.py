"""Copies of an outline are known again however they are turned, moved and begun; other outlines are not."""

from __future__ import annotations

import cmath
import itertools

from hypothesis import given
from hypothesis import strategies as st

from frameforge.check.alike import laid
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.shapes import circle


def drop(length: float = 5.0) -> Outline:
    """A window of a line, a cubic and an arc."""
    cap = Arc.from_circle(length, 1, -cmath.pi / 2, cmath.pi)
    chain: list[Segment] = [Line(0, length - 1j), cap, Cubic(cap.end, length - 1 + 1.2j, 1 + 0.5j, 0)]
    return Outline.from_chain(chain, joint_mm=1e-9)


@given(st.floats(-3.1, 3.1), st.complex_numbers(max_magnitude=200), st.integers(0, 2))
def test_copies_are_known_again(turn: float, by: complex, start: int) -> None:
    way = cmath.rect(1, turn)
    moved = drop().transformed(Affine(way, 0, by))
    begun = Outline(moved.segments[start:] + moved.segments[:start])
    first, second = laid(drop()), laid(begun)
    assert first
    assert second
    pairs = zip(itertools.chain(*first.numbers), itertools.chain(*second.numbers), strict=True)
    agree = max(abs(a - b) for a, b in pairs)
    assert agree < 2.1e-6
    assert abs(second.outside(first.inside(2 + 0.3j)) - (by + way * (2 + 0.3j))) < 1e-9 * (1 + abs(by))


def test_other_shapes_are_not_taken_for_copies() -> None:
    own, longer = laid(drop()), laid(drop(5.001))
    mirrored = laid(drop().transformed(Affine.from_mirror()))
    assert own
    assert longer
    assert mirrored
    assert len({own.numbers, longer.numbers, mirrored.numbers}) == 3


def test_a_circle_of_one_segment_has_no_direction() -> None:
    assert laid(circle(0, 2)) is None
