"""Openings and rims offered where edges between repeats leave too little card: in tenths, the largest that holds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.rows import D100

from frameforge.frame.base import Edge
from frameforge.frame.between_limits import _largest, _or_keep, opening_offers
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import Way

RING = PieceSpec("hoop", D100, Size(80, 80))


def told(spec: PieceSpec, half_height_mm: float) -> list[Way]:
    """Return what is offered where openings hold up to half a height."""
    return opening_offers(spec, D100, lambda edge: edge.half_height_mm <= half_height_mm + 1e-9)


def test_the_largest_opening_that_holds_is_offered_in_its_proportion_of_rims() -> None:
    (way,) = told(RING, 35.04)
    assert (way.words, way.piece, dict(way.row)) == ("--opening 70mm", {"opening": Size(70, 70)}, {})
    (way,) = told(replace(RING, opening=Size(80, 60)), 20.05)
    assert (way.words, way.piece) == ("--opening 60.1x40.1mm", {"opening": Size(60.1, 40.1)})
    (way,) = told(replace(RING, opening=Size(60, 80)), 20.05)
    assert way.piece == {"opening": Size(20.1, 40.1)}


def test_the_least_rim_that_holds_is_offered() -> None:
    """An opening of 84 mm in 100 mm leaves a rim of 8 mm."""
    (way,) = told(PieceSpec("hoop", D100, rim_mm=5.0), 42.0)
    assert (way.words, way.piece) == ("--rim 8mm", {"rim_mm": 8.0})
    (way,) = told(PieceSpec("hoop", D100, rim_mm=5.0), 41.96)
    assert (way.words, way.piece) == ("--rim 8.1mm", {"rim_mm": 8.1})


def test_where_none_holds_or_there_is_no_opening_nothing_is_offered() -> None:
    assert told(RING, 0.0) == []
    assert told(PieceSpec("hoop", D100, rim_mm=5.0), 0.0) == []
    assert told(PieceSpec("hoop", D100), 40.0) == []


@pytest.mark.parametrize(
    ("most", "below", "wanted"),
    [(3.0, 10.0, 3.0), (2.96, 10.0, 2.9), (0.1, 10.0, 0.1), (0.05, 10.0, 0.0), (20.0, 10.0, 9.9), (20.0, 9.95, 9.9)],
)
def test_the_greatest_tenth_below_what_was_asked_is_found(most: float, below: float, wanted: float) -> None:
    assert _largest(lambda mm: mm <= most, below) == wanted


def test_the_edge_kept_as_it_is_is_the_last_way() -> None:
    assert _or_keep(0.0, []) == " Take --between keep."
    assert _or_keep(2.0, []) == " Take --between keep without a depth."
    assert _or_keep(2.0, ["--depth 1mm"]) == " Take --depth 1mm."
    assert _or_keep(2.0, ["--depth 1mm", "--rim 8mm"]) == " Take --depth 1mm or --rim 8mm."


def test_edges_tried_are_edges_of_the_piece() -> None:
    seen: list[Edge] = []
    opening_offers(RING, D100, lambda edge: bool(seen.append(edge)))  # type: ignore[func-returns-value]
    assert all(edge.is_circle and 0 < edge.half_width_mm < 40 for edge in seen)
