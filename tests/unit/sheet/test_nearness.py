"""How near pieces lie, on discs and rings whose distances are known in closed form, and where one would lie clear."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.sheet.clear import clear_place
from frameforge.sheet.design import Design, Layout, Placed, Sheet
from frameforge.sheet.nearness import Body, Neighbours, nearest_edge
from frameforge.sheet.verify import faults_of


def disc(middle: complex, radius: float) -> tuple[Region, ...]:
    return (Region(circle(middle, radius)),)


def ring(middle: complex, outer: float, inner: float) -> tuple[Region, ...]:
    return (Region(circle(middle, outer), (circle(middle, inner).reversed(),)),)


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 2 * math.pi), st.floats(0.01, 40), st.floats(3, 12), st.floats(3, 12))
def test_two_discs_are_apart_by_their_middles_less_both_radii(way: float, gap: float, a: float, b: float) -> None:
    away = cmath.rect(a + gap + b, way)
    near = Neighbours([disc(100 + 100j, a), disc(-500, 5)]).nearest(Body(disc(0, b)).moved(100 + 100j + away))
    assert near is not None
    assert near.other == 0
    assert not near.is_over
    assert near.gap_mm == pytest.approx(gap, abs=1e-6)
    assert near.at == pytest.approx(100 + 100j + cmath.rect(a + gap, way), abs=1e-3)
    assert near.other_at == pytest.approx(100 + 100j + cmath.rect(a, way), abs=1e-3)


def test_what_lies_in_an_opening_is_measured_to_its_edge() -> None:
    near = Neighbours([ring(50 + 50j, 40, 30)]).nearest(Body(disc(55 + 50j, 20)))
    assert near is not None
    assert (near.gap_mm, near.is_over) == (pytest.approx(5, abs=1e-6), False)


def test_an_overlap_is_told_and_its_place() -> None:
    near = Neighbours([disc(0, 10), disc(40, 10)]).nearest(Body(disc(15, 10)))
    assert near is not None
    assert (near.is_over, near.other, near.gap_mm) == (True, 0, 0)
    assert abs(near.at) < 10
    assert abs(near.at - 15) < 10


def test_the_piece_itself_is_not_its_neighbour() -> None:
    both = [disc(0, 10), disc(40, 10)]
    near = Neighbours(both).nearest(Body(both[1]), but=1)
    assert near is not None
    assert near.other == 0
    assert Neighbours(both[:1]).nearest(Body(both[0]), but=0) is None


@pytest.mark.parametrize(
    ("middle", "gap", "edge"),
    [(12 + 50j, 2, 0 + 50j), (95 + 60j, -5, 100 + 60j), (50 + 11j, 1, 50), (50 + 186j, 4, 50 + 200j)],
)
def test_the_edge_of_the_sheet(middle: complex, gap: float, edge: complex) -> None:
    near = nearest_edge(Body(disc(middle, 10)), Sheet(100, 200))
    assert (near.gap_mm, near.other) == (pytest.approx(gap), None)
    # Chords that lie within .01 mm of such a circle are .9 mm long.
    assert near.other_at == pytest.approx(edge, abs=0.45)


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**31))
def test_a_clear_place_is_proved_clear(seed: int) -> None:
    sheet = Sheet(200, 200)
    middles = [complex(60 + (seed % 7) * 3, 60 + (seed % 11)), 120 + 90j, complex(100 - seed % 13, 100)]
    pieces = [disc(middle, 20) for middle in middles]
    move = clear_place(pieces, 2, sheet)
    assert move is not None
    placed = [Placed(0, k + 1, at.real, at.imag, 0) for k, at in enumerate([*middles[:2], middles[2] + move])]
    faults = faults_of(Layout((tuple(placed),)), [Design("disc", disc(0, 20), 3)], sheet)
    assert [fault for fault in faults if 2 in fault.places] == []


def test_where_there_is_no_clear_place_none_is_told() -> None:
    assert clear_place([disc(50 + 50j, 40), disc(50 + 50j, 20)], 1, Sheet(100, 100)) is None
    moved = [region.transformed(Affine.from_move(3)) for region in disc(5 + 5j, 4)]
    assert clear_place([moved], 0, Sheet(100, 100)) == complex(1, 4)
