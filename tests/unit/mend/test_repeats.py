"""Pieces that come to themselves when turned: how many repeats they have, and one of them shown on its own."""

from __future__ import annotations

import cmath
import math

import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.mend.repeats import to_repeats


def flower(count: int, turn_rad: float = 0.0, at: complex = 0.0) -> Region:
    """Return a ring with petals, and a round hole in each petal; every hole begins on its right."""
    ways = [cmath.rect(1, turn_rad + math.tau * k / count) for k in range(count)]
    petal = Region(ellipse(42, 6, 2))
    parts = [Region(circle(0, 40), (circle(0, 25).reversed(),)), *(petal.transformed(Affine(way)) for way in ways)]
    ring = evaluate(difference(union(*parts), *(Region(circle(44 * way, 0.8)) for way in ways))).regions[0]
    return ring.transformed(Affine.from_move(at))


@pytest.mark.parametrize(("count", "turn_rad", "at"), [(7, 0.0, 0), (12, 0.3, 5 - 3j), (36, 1.0, 100j)])
def test_repeats_are_counted_wherever_the_piece_lies(count: int, turn_rad: float, at: complex) -> None:
    repeats = to_repeats([flower(count, turn_rad, at)])
    assert repeats is not None
    assert repeats.count == count
    assert abs(repeats.centre - at) < 1e-9


def test_a_piece_with_one_repeat_changed_has_none() -> None:
    whole = flower(12)
    more = evaluate(difference(whole, Region(circle(30 + 3j, 0.5)))).regions
    moved = evaluate(difference(whole, Region(circle(44.01, 0.8)))).regions
    assert to_repeats(more) is None
    assert to_repeats(moved) is None


def test_ovals_rectangles_and_few_repeats_have_none() -> None:
    assert to_repeats([flower(6)]) is None
    assert to_repeats([flower(12).transformed(Affine.from_matrix(1.2, 0, 0, 1, 0, 0))]) is None
    assert to_repeats([Region(rectangle(0, 0, 30, 20))]) is None
    assert to_repeats([Region(circle(0, 20), (circle(0, 10).reversed(),))]) is None


def test_few_repeats_are_shown_as_they_are_and_the_others_as_plain_card() -> None:
    piece = flower(12)
    repeats = to_repeats([piece])
    assert repeats is not None
    shown = repeats.shown([piece])
    assert len(shown) == 1
    holes = [hole for hole in shown[0].holes if abs(area_mm2(hole)) < 10]
    assert all(hole in piece.holes for hole in holes)
    assert len(holes) == 4
    added = evaluate(difference(*shown, piece)).regions
    far = [abs(repeats.place(segment.point(0.5))) for bit in added for segment in bit.outer.segments]
    assert min(far) > 2.0 - 1e-6
    assert area_mm2(added) == pytest.approx(area_mm2(shown) - area_mm2(piece), abs=1e-6)


def test_the_turns_of_a_piece_lead_from_repeat_to_repeat() -> None:
    repeats = to_repeats([flower(9, 0.2, 4 + 1j)])
    assert repeats is not None
    spot = repeats.centre + 30 * repeats.way
    assert repeats.place(spot) == pytest.approx(0, abs=1e-12)
    assert [repeats.place(repeats.turned(k).apply(spot)) for k in range(5)] == pytest.approx(range(5), abs=1e-9)
