"""Ways out for a bent motif that folds: which orders are tried, and what is said of those that can be made."""

from __future__ import annotations

from dataclasses import replace

import pytest
from fixtures.plain_motifs import leaf
from fixtures.rows import row_of

from frameforge.errors import GeometryError
from frameforge.frame.fold_ways import with_ways
from frameforge.frame.spec import PieceSpec, Size

FAULT = GeometryError("bent so far in, the leaf folds over itself.", code="folds", factor=-0.25, depth_mm=9.0)
"""A factor of -1/4 of its width: at 1 / (1 + 1/4) = .8 of its size it would just not fold."""


def tried(**row: object) -> tuple[list[object], str]:
    """Return what was tried, by scale, foot or seat, and what is said when nothing can be made."""
    spec = PieceSpec("hoop", Size(80, 80), rows=(row_of(leaf(), seat="bent", **row),))
    seen: list[object] = []

    def makes(order: PieceSpec) -> bool:
        (one,) = order.rows
        seen.append(one.seat if one.seat != "bent" else one.foot_mm or one.scale)
        return False

    told = with_ways(FAULT, spec, makes)
    assert (told.where, told.code, told.numbers) == ("hoop", "folds", FAULT.numbers)
    return seen, told.say


@pytest.mark.parametrize(
    ("row", "first"),
    [
        ({}, [0.79, 0.78, 0.76, 0.73, 0.69, 0.64]),
        ({"scale": 2.0}, [1.59, 1.58, 1.56, 1.53]),
        ({"foot_mm": 10.0}, [7.9, 7.8, 7.6, 7.3, 6.9]),
        ({"foot_mm": 0.3}, [0.1]),
    ],
)
def test_smaller_by_more_and_more_then_as_drawn(row: dict[str, object], first: list[float]) -> None:
    seen, said = tried(**row)
    assert seen[: len(first)] == first
    assert seen[-1] == "as-drawn"
    assert said.endswith("folds over itself. Take a smaller motif.")


@pytest.mark.parametrize("row", [{"scale": "find"}, {"foot_mm": "find"}, {"scale": 0.02}])
def test_what_is_to_be_found_or_hardly_there_is_not_made_smaller(row: dict[str, object]) -> None:
    assert tried(**row)[0] == ["as-drawn"]


def test_rows_as_drawn_are_left_alone_and_both_ways_are_told() -> None:
    bent, plain = row_of(leaf(), seat="bent"), row_of(leaf())
    spec = PieceSpec("hoop", Size(80, 80), rows=(plain, bent))
    orders: list[PieceSpec] = []

    def makes(order: PieceSpec) -> bool:
        orders.append(order)
        return order.rows[1].scale in (None, 0.76)

    assert with_ways(FAULT, spec, makes).say.endswith("itself. Take --scale 0.76 or --seat as-drawn.")
    assert {order.rows[0] for order in orders} == {plain}
    assert orders[-1].rows[1] == replace(bent, seat="as-drawn")
