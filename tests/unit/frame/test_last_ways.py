"""The last ways out: which orders are tried, one after the other, and which of those that can be made are told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import leaf
from fixtures.rows import KNIFE, row_of

from frameforge.frame.last_ways import last_ways
from frameforge.frame.spec import PieceSpec, RowSpec, Size

OVAL = PieceSpec("hoop", Size(120, 60), rows=(row_of(leaf(), count=12),))


def told(spec: PieceSpec, can_make: Callable[[PieceSpec], bool] = lambda spec: False) -> tuple[list[str], list[Any]]:
    """Return what is told, and (width, height, count, scale) of every order that was tried."""
    tried: list[PieceSpec] = []

    def judged(order: PieceSpec) -> bool:
        tried.append(order)
        return can_make(order)

    words = last_ways(spec, KNIFE, judged)
    return words, [(*_sides(order.size), order.rows[0].count, order.rows[0].scale) for order in tried]


def _sides(size: object) -> tuple[float, float]:
    assert isinstance(size, Size)
    return size.width_mm, size.height_mm


ONE_THING = [
    (120, 60, "most", None),
    *((120, 60, 12, scale) for scale in (0.8, 0.6, 0.4)),  # at a quarter the foot is narrower than the least neck
    *((120 * by, 60 * by, 12, None) for by in (1.25, 1.6, 2.5, 4.0)),
]
ROUNDER = [(120, 90, 12, None), (120, 120, 12, None)]
TOGETHER = [
    (120, 60, "most", 0.6),
    *((*sides, "most", None) for sides in ((192, 96), (480, 240), (120, 120))),
    (120, 60, "most", 0.6),
    *((*sides, "most", 0.6) for sides in ((192, 96), (480, 240), (120, 120))),
]


def test_single_steps_come_first_then_several_at_once() -> None:
    assert told(OVAL) == ([], [*ONE_THING, *ROUNDER, *TOGETHER])


def test_an_oval_that_stands_upright_is_made_rounder_by_its_width() -> None:
    upright = replace(OVAL, size=Size(60, 120))
    assert told(upright)[1][8:10] == [(90, 120, 12, None), (120, 120, 12, None)]


@pytest.mark.parametrize("more", [{"opening": Size(40, 20)}, {"is_size_fixed": True}])
def test_a_piece_with_an_opening_or_a_fixed_base_is_not_made_rounder(more: dict[str, Any]) -> None:
    _, tried = told(replace(OVAL, **more))
    shared = "is_size_fixed" in more
    assert tried[: len(ONE_THING)] == (ONE_THING[:4] + tried[4:8] if shared else ONE_THING)
    assert not any(order[:2] in ((120, 90), (120, 120)) for order in tried)
    assert {order[:2] == (120, 60) for order in tried} == ({True} if shared else {True, False})


def test_the_opening_grows_with_its_row() -> None:
    orders: list[PieceSpec] = []
    spec = replace(OVAL, opening=Size(80, 40), rows=(row_of(leaf(), count=12, place="in"),))
    words = last_ways(spec, KNIFE, lambda order: orders.append(order) or order.size == Size(150, 75))  # type: ignore[func-returns-value]
    assert words == ["--size 150x75mm --opening 100x50mm"]
    assert [order.opening for order in orders if order.size == Size(150, 75)] == [Size(100, 50)]


@pytest.mark.parametrize(("rim_mm", "narrower"), [(9.0, 3.0), (3.1, 3.0), (3.0, 3.0), (2.0, 2.0)])
def test_a_rim_is_narrowed_to_twice_the_least_neck_and_only_with_other_things(rim_mm: float, narrower: float) -> None:
    rims: list[float | None] = []
    last_ways(replace(OVAL, rim_mm=rim_mm), KNIFE, lambda order: bool(rims.append(order.rim_mm)))  # type: ignore[func-returns-value]
    assert rims == [rim_mm] * 14 + [narrower] * 4


def test_two_ways_of_different_kinds_are_told() -> None:
    words, _ = told(OVAL, lambda order: order.rows[0].count == 12)
    assert words == ["--scale 0.8", "--size 150x75mm"]
    words, _ = told(OVAL, lambda order: order.rows[0].count == "most" and order.size == Size(192, 96))
    assert words == ["--count most --size 192x96mm"]


def test_nothing_is_joined_for_several_rows_nor_beyond_the_largest_size() -> None:
    two = replace(OVAL, rows=(OVAL.rows[0], RowSpec(OVAL.rows[0].pattern, count=5)))
    assert all(order[3] is None or order[2] == 12 for order in told(two)[1])
    wide = replace(OVAL, size=Size(1500, 750))
    assert [order[0] for order in told(wide)[1] if order[0] > 1500] == [1875, 2400, 2400, 2400]
