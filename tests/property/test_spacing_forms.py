"""Closed forms of sizes, seats and spokes on random sets, each by a second road: sums, quadrature, built outlines."""

from __future__ import annotations

import cmath
import math
from typing import Any

import numpy as np
import pytest
import shapely
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import KNIFE, model_of, row_of
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.hand_spokes import grid_spokes, protractor_miss_mm
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.seat import find_seat
from frameforge.frame.seat_compare import both_seats
from frameforge.frame.spacing import equal_arc
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.flatten import to_polygon

SETS = settings(max_examples=3, derandomize=True, deadline=None)
HALVES = st.tuples(st.floats(30.0, 120.0), st.floats(0.4, 0.95))
"""Half the width of an oval, and its height as a part of its width."""
FEET = st.floats(6.0, 20.0)
COUNTS = st.integers(5, 16)


def _length(a: float, b: float, start: float, end: float) -> float:
    """Length of (a sin t, b cos t) by Gauss-Legendre on 64 parts: nothing of the solver is used."""
    nodes, weights = np.polynomial.legendre.leggauss(12)
    cuts = np.linspace(start, end, 65)
    middle, half = (cuts[1:] + cuts[:-1]) / 2, (cuts[1:] - cuts[:-1]) / 2
    t = middle[:, None] + half[:, None] * nodes
    return float((np.hypot(a * np.cos(t), b * np.sin(t)) * weights * half[:, None]).sum())


def _nearest_mm(model: RowModel, size: Size, count: int, scale: float = 1.0) -> float:
    """The least distance of neighbours as they are built, by shapely on chords."""
    layout = model.layout(size, count, scale)
    placed = [layout.track.placement(r, s) for r, s in zip(layout.readies, layout.seats, strict=True)]
    shapes = [to_polygon(r.motif.join[0].transformed(p), 1e-4) for r, p in zip(layout.readies, placed, strict=True)]
    return min(float(shapely.distance(a, b)) for a, b in zip(shapes, [*shapes[1:], shapes[0]], strict=True))


@SETS
@given(HALVES, st.integers(3, 60), st.floats(0, 6))
def test_equal_arcs_on_an_oval_are_its_length_by_the_count(half: tuple[float, float], count: int, start: float) -> None:
    """F05: every step is P/n."""
    a, b = half[0], half[0] * half[1]
    taus = equal_arc(Edge(a, b), count, start)
    step = _length(a, b, 0, math.tau) / count
    for one, after in zip(taus, [*taus[1:], taus[0] + math.tau], strict=True):
        assert _length(a, b, one, after) == pytest.approx(step, abs=1e-9)


@SETS
@given(FEET, st.integers(6, 16), st.floats(0.5, 5.0), st.floats(1.1, 1.7), st.booleans())
def test_an_oval_grows_until_its_gaps_are_those_asked_for(
    foot: float, count: int, gap: float, ratio: float, is_band: bool
) -> None:
    """F06: at the size found outlines as built are the gap apart; a hundredth less is less, one more is more."""
    model = model_of(plain_rectangle(foot, 6.0), size="find", count=count, gap_mm=gap)
    grown: dict[str, Any] = {"grow_from": Size(100 * ratio, 100)} if is_band else {"ratio": ratio}
    row = model.row
    found = fit_row(RowModel(PieceSpec("x", "find", rows=(row,), **grown), row, KNIFE), None).size
    assert _nearest_mm(model, found, count) == pytest.approx(gap, abs=1e-5)
    if is_band:
        assert found.width_mm - found.height_mm == pytest.approx(100 * (ratio - 1), abs=1e-10)
    else:
        assert found.width_mm / found.height_mm == pytest.approx(ratio, abs=1e-12)
    for change in (-0.01, 0.01):
        other = Size(found.width_mm + change, found.height_mm + change)
        assert (_nearest_mm(model, other, count) - gap) * change > 0


@SETS
@given(st.integers(3, 90), st.floats(50, 300))
def test_whole_degrees_miss_by_the_arc_between_the_true_and_the_rounded_spoke(count: int, size: float) -> None:
    """F12: every spoke set out as a point, and the one rounded to a degree beside it."""
    off = 0.0
    for k in range(count):
        true = cmath.rect(1, math.tau * k / count)
        drawn = cmath.rect(1, math.radians(math.floor(360 * k / count + 0.5)))
        off = max(off, abs(cmath.phase(drawn / true)))
    assert protractor_miss_mm(count, size) == pytest.approx(size / 2 * off, abs=1e-9)


@SETS
@given(HALVES)
def test_squared_paper_cuts_an_oval_where_its_lines_meet_it(half: tuple[float, float]) -> None:
    """F13: true 45 degrees meet at r = ab/sqrt((a^2+b^2)/2), the diagonals of the box at tau = 45 degrees."""
    a, b = half[0], half[0] * half[1]
    told, quarter = grid_spokes(Edge(a, b)), _length(a, b, 0, math.pi / 2)
    for parts, tau in ((told.slanted_mm, math.atan2(b, a)), (told.diagonal_mm, math.pi / 4)):
        beside_top = _length(a, b, 0, tau)
        assert parts == pytest.approx((beside_top, quarter - beside_top), abs=1e-9)
    assert told.even_mm == pytest.approx(quarter / 2, abs=1e-9)


@SETS
@given(HALVES, st.floats(0.05, 0.97))
def test_the_sagitta_at_the_ends_of_an_oval_is_that_of_an_upright_chord(half: tuple[float, float], part: float) -> None:
    """F14: a (1 - sqrt(1 - (w/2b)^2)), and a foot of 2b or more finds no seat. Other road: the chord on an outline."""
    a, b = half[0], half[0] * half[1]
    edge, foot = Edge(a, b), 2 * b * part
    sagitta = find_seat(edge, foot, math.pi / 2).sagitta_mm
    assert sagitta == pytest.approx(a * (1 - math.sqrt(1 - part * part)), abs=1e-9)
    ring = to_polygon(edge.region(), 1e-6)
    upright = shapely.intersection(ring, shapely.LineString([(a - sagitta, -2 * b), (a - sagitta, 2 * b)]))
    assert upright.length == pytest.approx(foot, abs=1e-3)
    with pytest.raises(GeometryError) as caught:
        find_seat(edge, 2 * b * 1.001, math.pi / 2)
    assert caught.value.code == "no-seat"


@SETS
@given(FEET, COUNTS, st.floats(1.15, 1.9))
def test_rows_as_drawn_and_bent_differ_by_chord_and_arc(foot: float, count: int, spare: float) -> None:
    """F20: D sin(pi/n - asin(w/D)) against pi D/n - w, and tops of w against w (1 + h/R); by the pieces as built."""
    size, height = spare * foot / math.sin(math.pi / count), 5.0
    circle = Size(size, size)
    model = model_of(plain_rectangle(foot, height), size=circle)
    drawn, bent = both_seats(model, Fit(circle, count, 1.0), counts_too=False)
    assert drawn.foot_gap_mm == pytest.approx(size * math.sin(math.pi / count - math.asin(foot / size)), abs=1e-9)
    assert bent.foot_gap_mm == pytest.approx(math.pi * size / count - foot, abs=1e-9)
    assert (drawn.top_mm, bent.top_mm) == pytest.approx((foot, foot * (1 + 2 * height / size)), abs=1e-9)
    for seat, told in (("as-drawn", drawn), ("bent", bent)):
        row = row_of(plain_rectangle(foot, height), count=count, seat=seat)
        card = to_polygon(make_piece(PieceSpec("x", circle, rows=(row,)), KNIFE).region, 1e-5)
        # A thin ring just outside the base meets every repeat once: its bare parts are the gaps.
        ring = shapely.Point(0, 0).buffer(size / 2 + 2e-3, quad_segs=20000).exterior
        bare = max(part.length for part in shapely.get_parts(shapely.line_merge(shapely.difference(ring, card))))
        wanted = told.foot_gap_mm or 0.0
        arc = size * math.asin(wanted / size) if seat == "as-drawn" else wanted
        assert bare == pytest.approx(arc, abs=5e-3)
