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


@pytest.mark.parametrize(
    "row",
    [{"count": "most"}, {"count": None}, {"count": 12, "scale": "find"}, {"count": 12, "foot_mm": "find"}],
)
def test_the_count_is_left_to_be_found_only_where_a_number_of_it_was_stated_with_the_rest(row: dict[str, Any]) -> None:
    words, orders = told(replace(OVAL, rows=(row_of(leaf(), **row),)), lambda order: order.rows[0].count == "most")
    assert "--count most" not in words
    assert orders[0][2] == row["count"]


def test_of_a_size_that_is_to_be_found_neither_count_nor_size_is_a_way() -> None:
    orders: list[PieceSpec] = []
    last_ways(replace(OVAL, size="find"), KNIFE, lambda order: bool(orders.append(order)))  # type: ignore[func-returns-value]
    assert [(order.size, order.rows[0].count, order.rows[0].scale) for order in orders] == [
        ("find", 12, scale) for scale in (0.8, 0.6, 0.4, 0.6)
    ]


def test_each_row_of_several_is_changed_by_itself() -> None:
    two = replace(OVAL, rows=(row_of(leaf(), count="most"), row_of(leaf(), count=5)))
    orders: list[PieceSpec] = []
    words = last_ways(two, KNIFE, lambda order: orders.append(order) or order.rows[1].count == "most")  # type: ignore[func-returns-value]
    assert words == ["--count most"]
    assert [row.count for row in orders[0].rows] == ["most", "most"]


def test_sizes_reach_the_largest_that_can_be_made() -> None:
    sizes = [order[:2] for order in told(replace(OVAL, size=Size(1200, 600)))[1][4:7]]
    assert sizes == [(1500, 750), (1920, 960), (3000, 1500)]
    assert told(replace(OVAL, size=Size(1200.1, 600)))[1][6][0] != 3000.3


def test_ovals_are_made_rounder_from_a_half_on_to_the_circle() -> None:
    """Height over width of a half, three quarters and one: only what is rounder than the one asked for."""

    def rounder(size: Size) -> list[tuple[float, float]]:
        one = [order for order in told(replace(OVAL, size=size))[1] if order[2:] == (12, None)]
        return [order[:2] for order in one if max(order[:2]) == 120]

    assert rounder(Size(120, 40)) == [(120, 60), (120, 90), (120, 120)]
    assert rounder(Size(120, 59.9)) == [(120, 60), (120, 90), (120, 120)]
    assert rounder(Size(120, 90)) == [(120, 120)]
    assert rounder(Size(120, 120)) == []


def test_a_foot_that_was_stated_is_made_smaller_by_its_foot() -> None:
    words, _ = told(replace(OVAL, rows=(row_of(leaf(), count=12, foot_mm=4.4),)), lambda o: o.rows[0].foot_mm != 4.4)
    assert words == ["--foot 3.52mm"]


def test_the_first_way_of_each_kind_is_told_and_no_more_than_two() -> None:
    assert told(OVAL, lambda order: True)[0] == ["--count most", "--scale 0.8"]
    assert told(OVAL, lambda order: order.size in (Size(480, 240), Size(120, 120)))[0] == [
        "--size 480x240mm", "--size 120mm",
    ]  # fmt: skip
