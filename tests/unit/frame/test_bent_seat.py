"""Bent seats: feet as long along the edge as they are wide, gaps along the edge, points that move with the edge."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.plain_motifs import leaf
from fixtures.rows import D100, model_of

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.bend import Bends
from frameforge.frame.bent_seat import BentSeat, bent_seats
from frameforge.frame.seat import find_seat
from frameforge.frame.spacing import arc_from_top_mm
from frameforge.frame.standing import standing_at
from frameforge.frame.walk import walk_along

CIRCLE, OVAL, INNER = Edge(50, 50), Edge(75, 50), Edge(75, 50, -12)
FIRST = np.zeros(1, dtype=np.intp)


def seat_of(edge: Edge, foot: float, tau: float, lift: float = 0.0) -> BentSeat:
    return bent_seats(edge, (foot,), (tau,), (lift,))[0]


@pytest.mark.parametrize("edge", [CIRCLE, OVAL, INNER])
@pytest.mark.parametrize("tau", [0.0, 0.7, math.pi / 2, 4.0, -1.0])
def test_the_foot_follows_the_edge(edge: Edge, tau: float) -> None:
    seat = seat_of(edge, 14.0, tau)
    walk = walk_along(edge)
    assert seat.middle == edge.point(tau)
    assert seat.at_mm == pytest.approx(arc_from_top_mm(edge, tau), abs=1e-12)
    for end, along in ((seat.left, -7.0), (seat.right, 7.0)):
        assert abs(end - walk.spot(np.array([seat.at_mm + along])).point[0]) < 1e-12
    assert (seat.sagitta_mm, seat.slope_rad) == (0.0, 0.0)
    ways = [complex(edge.tangent(float(walk.tau(np.array([seat.at_mm + along]))[0]))) for along in (-7.0, 7.0)]
    assert seat.end_ways == pytest.approx(ways, abs=1e-12)


def test_gaps_are_lengths_of_edge_and_close_the_ring() -> None:
    """n (w + g) = P: on a circle, 100 across, 15 feet of 20 leave 20.944 - 20 = .944; feet of all widths on an oval."""
    seats = bent_seats(CIRCLE, [20.0] * 15, [k * math.tau / 15 for k in range(15)], [0.0] * 15)
    gaps = [a.gap_to_mm(b) for a, b in zip(seats, [*seats[1:], seats[0]], strict=True)]
    assert gaps == pytest.approx([math.pi * 100 / 15 - 20] * 15, abs=1e-12)
    feet, taus = [5.0, 12.0, 0.0, 9.0], [0.1, 1.2, 3.0, 4.4]
    seats = bent_seats(OVAL, feet, taus, [0.0] * 4)
    gaps = [a.gap_to_mm(b) for a, b in zip(seats, [*seats[1:], seats[0]], strict=True)]
    assert sum(gaps) + sum(feet) == pytest.approx(walk_along(OVAL).length_mm, abs=1e-11)


def test_feet_that_overlap_have_a_gap_below_nothing() -> None:
    one, other = bent_seats(CIRCLE, [20.0, 20.0], [0.0, 0.3], [0.0, 0.0])
    assert one.gap_to_mm(other) == pytest.approx(0.3 * 50 - 20)
    as_drawn = find_seat(CIRCLE, 10.0, 1.0)
    assert one.gap_to_mm(as_drawn) == abs(as_drawn.left - one.right)


def test_a_sunk_mouth_lies_inside_the_edge() -> None:
    seat = seat_of(OVAL, 10.0, 1.0, lift=-3.0)
    inner = [OVAL.height_mm(end, 1.0) for end in (seat.left, seat.right)]
    assert inner == pytest.approx([-3.0, -3.0], abs=1e-12)


@pytest.mark.parametrize("edge", [CIRCLE, OVAL, INNER, Edge(120, 40)])
@pytest.mark.parametrize("side", [1, -1])
def test_points_move_as_differences_of_the_map_say(edge: Edge, side: int) -> None:
    walk, step = walk_along(edge), 1e-5
    for tau in (0.2, 1.4, 1.6, 3.3, 5.5):
        seat = seat_of(edge, 8.0, tau)
        ahead, behind = (walk.walked_mm(np.array([tau + h])) for h in (step, -step))
        for z in (3 + 5j, -6 + 0.5j, 1 - 0.3j, 7 + 4j):
            here, there, back = (
                complex(Bends(walk, at, side).point(FIRST, np.array([z]))[0])
                for at in (np.array([seat.at_mm]), ahead, behind)
            )
            assert abs(seat.moved(here) - (there - back) / (2 * step)) < 1e-5 * abs(seat.middle_rate)


def test_a_foot_as_long_as_the_edge_is_refused() -> None:
    assert seat_of(Edge(3, 3), 18.8, 0.0).foot_mm == 18.8
    with pytest.raises(GeometryError, match=r"as long as the edge, 18\.85 mm"):
        seat_of(Edge(3, 3), 18.9, 0.0)


def test_a_bent_row_takes_no_seat_on_a_chord() -> None:
    model = model_of(leaf(), seat="bent")
    layout = model.layout(D100, 6, 1.0)
    track, ready = layout.track, layout.readies[0]
    assert standing_at(track, ready, layout.seats[0]).bend is not None
    with pytest.raises(TypeError, match="seated by lengths along its edge"):
        standing_at(track, ready, find_seat(track.edge, ready.foot_mm, 0.0))
