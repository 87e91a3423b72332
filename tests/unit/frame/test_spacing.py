"""Places by angle, arc and chord: lengths along the edge run on past whole turns and go back where they came from."""

from __future__ import annotations

import itertools
import math

import pytest

from frameforge.frame import spacing
from frameforge.frame.base import Edge
from frameforge.frame.spacing import (
    arc_from_top_mm,
    arc_steps_mm,
    edge_length_mm,
    equal_angle,
    equal_arc,
    equal_chord,
    equal_chord_between,
    tau_at_arc,
)

EDGES = [Edge(50, 50), Edge(75, 50), Edge(40, 90), Edge(75, 50, -10.0), Edge(75, 50, 6.0)]


def test_a_parallel_is_longer_by_its_turn() -> None:
    """Steiner: length of the parallel at d is the length + 2 pi d."""
    assert edge_length_mm(Edge(75, 50, 6.0)) - edge_length_mm(Edge(75, 50)) == pytest.approx(12 * math.pi, abs=1e-10)
    assert edge_length_mm(Edge(50, 50)) == pytest.approx(100 * math.pi, abs=1e-10)


@pytest.mark.parametrize("edge", EDGES)
def test_a_whole_turn_is_the_whole_length_and_half_is_half(edge: Edge) -> None:
    whole = edge_length_mm(edge)
    for start in (-4.0, 0.0, 0.3, 2.0, 5.9):
        turn = arc_from_top_mm(edge, start + math.tau) - arc_from_top_mm(edge, start)
        assert turn == pytest.approx(whole, abs=1e-9)
    assert arc_from_top_mm(edge, math.pi) == pytest.approx(whole / 2, abs=1e-9)
    assert arc_from_top_mm(edge, -1.1) == pytest.approx(-arc_from_top_mm(edge, 1.1), abs=1e-9)


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("tau", [-7.0, -0.2, 0.0, 1.57, 3.3, 8.0])
def test_length_and_place_undo_each_other(edge: Edge, tau: float) -> None:
    assert tau_at_arc(edge, arc_from_top_mm(edge, tau)) == pytest.approx(tau, abs=1e-11)


@pytest.mark.parametrize("edge", EDGES)
@pytest.mark.parametrize("count", [1, 2, 9])
def test_equal_arcs_are_equal_from_any_start(edge: Edge, count: int) -> None:
    taus = equal_arc(edge, count, 0.7)
    assert taus[0] == 0.7
    assert arc_steps_mm(edge, taus) == pytest.approx([edge_length_mm(edge) / count] * count, abs=1e-9)


def test_equal_chords_are_equal_and_close() -> None:
    edge = Edge(75, 50)
    points = [edge.point(tau) for tau in equal_chord(edge, 11, 0.7)]
    steps = [abs(b - a) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    assert steps == pytest.approx([steps[0]] * 11, abs=1e-9)


def test_equal_turns() -> None:
    assert equal_angle(4, 1.0) == pytest.approx([1 + k * math.pi / 2 for k in range(4)])


@pytest.mark.parametrize("edge", [Edge(75, 50, -12.0), Edge(40, 60, 5.0)], ids=["inside", "outside"])
def test_equal_chords_on_a_parallel_are_equal_and_close(edge: Edge) -> None:
    points = [edge.point(tau) for tau in equal_chord(edge, 11, 0.7)]
    steps = [abs(b - a) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    assert max(steps) - min(steps) < 1e-10


def test_equal_chords_between_two_places_that_stay() -> None:
    edge = Edge(75, 50)
    places = equal_chord_between(edge, (0.2, 0.9, 1.1, 2.0, 3.9))
    steps = [abs(edge.point(b) - edge.point(a)) for a, b in itertools.pairwise(places)]
    assert (places[0], places[-1]) == (0.2, 3.9)
    assert max(steps) - min(steps) < 1e-10


@pytest.mark.parametrize("edge", EDGES)
def test_one_or_two_places_need_no_search(edge: Edge) -> None:
    assert equal_chord(edge, 1, 0.7) == pytest.approx((0.7,))
    first, second = equal_chord(edge, 2, 0.7)
    assert (first, second) == pytest.approx((0.7, 0.7 + math.pi), abs=1e-9)


def test_a_place_is_found_in_few_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Newton on a smooth length: six steps; by halving alone a turn would take fifty."""
    asked: list[float] = []

    def look(edge: Edge, tau: float) -> float:
        asked.append(tau)
        return arc_from_top_mm(edge, tau)

    monkeypatch.setattr(spacing, "arc_from_top_mm", look)
    assert tau_at_arc(Edge(75, 50), arc_from_top_mm(Edge(75, 50), 1.1)) == pytest.approx(1.1, abs=1e-14)
    assert len(asked) <= 8
