"""Random rings and stacks: one line an edge, nothing shared but lines, the same border all round."""

from __future__ import annotations

import math

import pytest
import shapely
from fixtures.plain_motifs import arch, plain_rectangle, scallop
from fixtures.rows import KNIFE
from fixtures.sets import edge_row, piece_of, rings_of
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.machine.allowances import Allowances
from frameforge.machine.bonded import planned_bond
from frameforge.sets.layers import LayerSpec, layers_of
from frameforge.sets.matching import MatchHole, ways_to_match

STEPS = st.lists(st.floats(12, 30), min_size=1, max_size=3)


@settings(max_examples=4, deadline=None)
@given(st.floats(30, 60), st.floats(0.7, 1.0), STEPS, st.data())
def test_rings_part_the_card_and_share_only_lines(
    first: float, ratio: float, steps: list[float], data: st.DataObject
) -> None:
    sizes = [(first, first * ratio)]
    for step in steps:
        sizes.append((sizes[-1][0] + step, sizes[-1][1] + step))
    edge = data.draw(st.integers(0, len(steps)))
    places = ["out", "across"] if edge == len(steps) else ["out", "in", "across"]
    motif = data.draw(st.sampled_from([arch(2.5), scallop(4, 3), plain_rectangle(3, 2)]))
    row = edge_row(edge, motif, count=data.draw(st.integers(3, 9)), place=data.draw(st.sampled_from(places)))
    rings = rings_of(*sizes, rows=(row,))
    bond = rings.bond
    assert bond.faults() == ()
    assert len(bond.shared) == len(steps)
    assert area_mm2(bond.parts) == pytest.approx(area_mm2(bond.whole))
    # By another road: each card as chords, united, leaves no gap and has no overlap.
    shapes = [to_polygon(part) for part in bond.parts]
    united = shapely.union_all([shape.buffer(1e-6) for shape in shapes])
    assert isinstance(united, shapely.Polygon)
    assert len(united.interiors) == len(bond.whole.holes)
    assert sum(shape.area for shape in shapes) == pytest.approx(united.area, rel=1e-5)
    plan = planned_bond(bond, Allowances(overcut_mm=0.3), KNIFE)
    cut = length_mm(segment for run in plan.runs for segment in run)
    assert cut == pytest.approx(bond.length_mm + 0.3 * len(bond.lines), abs=1e-6)


@settings(max_examples=4, deadline=None)
@given(
    st.floats(60, 120), st.floats(0.7, 1.0), st.lists(st.floats(0.5, 12), min_size=1, max_size=3), st.integers(4, 12)
)
def test_every_card_shows_its_border_all_round(width: float, ratio: float, borders: list[float], count: int) -> None:
    piece = piece_of((width, width * ratio), None, scallop(8, 5), count=count)
    stack = layers_of(piece, [LayerSpec("card", border) for border in borders], KNIFE, has_opening=False)
    for above, below, border in zip(stack, stack[1:], borders, strict=False):
        assert below.border_mm == pytest.approx(border)
        line = to_polygon(above.region, 1e-3).exterior
        points = flatten_outline(below.region.outer, 1e-3).points
        gaps = shapely.distance(line, shapely.points(points.real, points.imag))
        assert gaps.min() == pytest.approx(border, abs=0.01)
        assert gaps.max() == pytest.approx(border, abs=0.01)
        assert to_polygon(below.region).contains(to_polygon(above.region))


@settings(max_examples=20, deadline=None)
@given(st.floats(10, 80), st.floats(10, 80), st.floats(-math.pi, math.pi), st.booleans())
def test_like_holes_match_twice_only_where_they_are_equally_far_out(
    r: float, s: float, turn: float, like: bool
) -> None:
    one = complex(0, r)
    other = s * complex(math.sin(turn), math.cos(turn))
    sine, is_far = abs(math.sin(turn)), min(r, s) * abs(math.sin(turn)) > 2
    ways = ways_to_match([MatchHole(one, 3), MatchHole(other, 3 if like else 4.5)])
    if not like and is_far:
        assert ways == 1
    if like and abs(r - s) > 2 and is_far:
        assert ways == 1
    if like and abs(r - s) < 1e-9 and sine > 0.2:
        assert ways >= 2
