"""Closed forms of rows, each on random sets, against what is built: areas and distances of the finished outlines.

The formulae are plane geometry of chords and circular segments (derivation; common practice, no source).
"""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from fixtures.plain_motifs import drop, leaf, plain_rectangle
from fixtures.rows import KNIFE, model_of, row_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from frameforge.frame.fit import fit_row
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2

SETS = settings(max_examples=3, derandomize=True, deadline=None)
FEET = st.floats(6.0, 20.0)
COUNTS = st.integers(5, 16)
SPARE = st.floats(1.3, 1.9)
"""How much larger the circle is than the one on which the feet touch."""


def _piece(size: float, foot: float, height: float, count: int, **more: object) -> Piece:
    opening = more.pop("opening", None)
    row = row_of(plain_rectangle(foot, height), count=count, **more)
    return make_piece(PieceSpec("hoop", Size(size, size), opening=opening, rows=(row,)), KNIFE)  # type: ignore[arg-type]


def _segment(radius: float, turn: float) -> float:
    """Area between a chord and its arc: R^2/2 (th - sin th)."""
    return radius * radius / 2 * (turn - math.sin(turn))


def _bare(size: float, foot: float, count: int) -> float:
    """The turn between the feet of neighbours: 2 pi/n - 2 asin(w/D)."""
    return math.tau / count - 2 * math.asin(foot / size)


@SETS
@given(FEET, FEET, st.integers(3, 8), st.floats(0.5, 6.0))
def test_an_alternating_pattern_closes_where_its_angles_fill_a_half_turn(
    a: float, b: float, pairs: int, g: float
) -> None:
    """F07: asin(a/D) + asin(b/D) + 2 asin(g/D) = pi/m."""
    row = (plain_rectangle(a, 5.0), plain_rectangle(b, 5.0))
    found = fit_row(model_of(*row, size="find", count=2 * pairs, gap_mm=g), None).size.width_mm
    angles = math.asin(a / found) + math.asin(b / found) + 2 * math.asin(g / found)
    assert angles == pytest.approx(math.pi / pairs, abs=1e-9)


@SETS
@given(FEET, FEET, st.integers(2, 6), st.floats(0.5, 6.0))
def test_any_pattern_closes_where_its_angles_sum_to_a_turn(a: float, b: float, times: int, g: float) -> None:
    """F08, for A A B: the feet and the gaps, each seen under 2 asin(length/D), make a whole turn."""
    row = (plain_rectangle(a, 5.0), plain_rectangle(a, 5.0), plain_rectangle(b, 5.0))
    found = fit_row(model_of(*row, size="find", count=3 * times, gap_mm=g), None).size.width_mm
    turn = 2 * times * (2 * math.asin(a / found) + math.asin(b / found) + 3 * math.asin(g / found))
    assert turn == pytest.approx(math.tau, abs=1e-9)


@SETS
@given(FEET, st.floats(2.0, 8.0), COUNTS, SPARE)
def test_inward_rectangles_leave_the_wedge_between_their_inner_corners(
    foot: float, height: float, count: int, spare: float
) -> None:
    """F16: 2 (r sin(pi/n) - w/2 cos(pi/n)), r = sqrt(R^2 - w^2/4) - h. Other road: shapely's distance."""
    size = spare * foot / math.sin(math.pi / count)
    turn = math.pi / count
    gap = 2 * ((math.sqrt(size * size - foot * foot) / 2 - height) * math.sin(turn) - foot / 2 * math.cos(turn))
    assume(gap > 1.2)
    piece = _piece(size + 30, foot, height, count, opening=Size(size, size), place="in")
    assert piece.rows[0].gap_mm == pytest.approx(gap, abs=1e-9)
    first, second = (
        to_polygon(repeat.motif.join[0].transformed(repeat.placement)) for repeat in piece.rows[0].repeats[:2]
    )
    assert shapely.distance(first, second) == pytest.approx(gap, abs=1e-6)


@SETS
@given(FEET, COUNTS, SPARE)
def test_straight_edges_take_the_arcs_off(foot: float, count: int, spare: float) -> None:
    """F28, F29: n circular segments over the chords between the feet."""
    size = spare * foot / math.sin(math.pi / count)
    kept, flat = (area_mm2(_piece(size, foot, 6.0, count, between=b).region) for b in ("keep", "flat"))
    assert kept - flat == pytest.approx(count * _segment(size / 2, _bare(size, foot, count)), rel=1e-7, abs=1e-6)


@SETS
@given(FEET, COUNTS, SPARE, st.floats(0.04, 0.12))
def test_hollow_edges_take_a_second_segment(foot: float, count: int, spare: float, part: float) -> None:
    """F30: below the chord c an arc of radius (c^2/4 + d^2)/(2d), which turns by 4 atan(2d/c)."""
    size = spare * foot / math.sin(math.pi / count)
    chord = size * math.sin(_bare(size, foot, count) / 2)
    depth = part * chord
    hollow = _segment((chord * chord / 4 + depth * depth) / (2 * depth), 4 * math.atan(2 * depth / chord))
    taken = count * (_segment(size / 2, _bare(size, foot, count)) + hollow)
    kept = area_mm2(_piece(size, foot, 6.0, count, between="keep").region)
    left = area_mm2(_piece(size, foot, 6.0, count, between="hollow", depth_mm=depth).region)
    assert kept - left == pytest.approx(taken, rel=1e-7, abs=1e-6)


@SETS
@given(FEET, COUNTS, SPARE)
def test_a_skipped_position_leaves_its_foot_and_two_gaps_bare(foot: float, count: int, spare: float) -> None:
    """F23: 4 pi/n - 2 asin(w/D), measured between the neighbours' foot ends."""
    size = spare * foot / math.sin(math.pi / count)
    piece = _piece(size, foot, 6.0, count, skip=(1,))
    last, first = piece.rows[0].repeats[-1], piece.rows[0].repeats[0]
    ends = last.placement.apply(complex(foot / 2, 0)), first.placement.apply(complex(-foot / 2, 0))
    bare = 2 * math.tau / count - 2 * math.asin(foot / size)
    assert abs(ends[1] - ends[0]) == pytest.approx(size * math.sin(bare / 2), abs=1e-9)


@pytest.mark.parametrize("motif", [leaf, drop])
def test_the_signed_gap_has_one_slope_through_nothing(motif) -> None:  # type: ignore[no-untyped-def]
    """Between overlap and gap there is no plateau and no break: within 1 % over a tenth of a millimetre."""
    model = model_of(motif(), size="find", count=12, gap_mm=0.0)
    touching = fit_row(model, None).size.width_mm
    steps = [model.clearance_mm(Size(touching + d, touching + d), 12, 1.0) for d in (-0.2, -0.1, 0.0, 0.1, 0.2)]
    slopes = [(b - a) / 0.1 for a, b in itertools.pairwise(steps)]
    assert abs(steps[2]) < 1e-9
    assert max(slopes) - min(slopes) < 0.01 * max(slopes)
