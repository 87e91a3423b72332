"""Pieces larger than can be made: told from 6 m on, with the first smaller scale that can be made."""

from __future__ import annotations

import re
from typing import Any

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import GeometryError
from frameforge.frame import too_large
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.frame.too_large import is_too_large, refuse_too_large
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle


def block(width: float, height: float) -> Region:
    return Region(rectangle(0, 0, width, height))


@pytest.mark.parametrize(
    ("width", "height", "is_so"), [(6000, 10, False), (6000.1, 10, True), (10, 6000, False), (10, 6000.1, True)]
)
def test_six_metres_are_the_most_either_way(width: float, height: float, *, is_so: bool) -> None:
    assert is_too_large(block(width, height)) is is_so


def said(spec: PieceSpec, can_make: Any, across: float = 12000.0, size: Size = D100) -> tuple[GeometryError, list[Any]]:
    tried: list[Any] = []

    def judged(order: PieceSpec) -> bool:
        tried.append((order.rows[0].scale, order.rows[0].foot_mm))
        return bool(can_make(order))

    with pytest.raises(GeometryError) as caught:
        refuse_too_large(spec, KNIFE, size, block(across, 10), judged)
    return caught.value, tried


def order(*rows: RowSpec) -> PieceSpec:
    return PieceSpec("hoop", D100, rows=rows)


BAR = plain_rectangle(8.0, 5950.0)


def test_what_is_small_enough_is_let_be() -> None:
    refuse_too_large(order(), KNIFE, D100, block(6000, 6000), lambda _: False)


def test_scales_are_tried_from_the_largest_within_bounds_down() -> None:
    """What stands out, 11.9 m, must come to 5.9: .4957 and parts of that, in hundredths, then in thousandths."""
    fault, tried = said(order(row_of(BAR, count=3)), lambda _: False)
    assert [scale for scale, _ in tried] == [0.49, 0.44, 0.34, 0.19, 0.049, 0.004]
    assert str(fault) == "hoop: 12000 mm across, 6000 mm is the most that can be made. Draw the motif smaller."
    assert (fault.code, fault.numbers) == ("too-large", {"across_mm": 12000.0, "limit_mm": 6000.0})


def test_the_first_that_can_be_made_is_told() -> None:
    fault, tried = said(order(row_of(BAR, count=3)), lambda spec: spec.rows[0].scale < 0.4)
    assert str(fault) == (
        "hoop: 12000 mm across, 6000 mm is the most that can be made. Take --scale 0.34, or draw the motif smaller."
    )
    assert len(tried) == 3


def test_a_scale_is_told_in_place_of_the_one_or_the_foot_that_is_stated() -> None:
    _, tried = said(order(row_of(BAR, count=3, scale=0.5)), lambda _: True)
    assert tried == [(0.24, None)]
    _, tried = said(order(row_of(BAR, count=3, foot_mm=16.0)), lambda _: True)
    assert tried == [(0.99, None)]
    _, tried = said(order(row_of(BAR, count=3)), lambda _: True, size=Size(100, 2000))
    assert tried == [(0.4, None)]


@pytest.mark.parametrize(
    "rows",
    [
        (),
        (row_of(BAR, count=3), row_of(BAR, count=3)),
        (row_of(BAR, count=3, scale="find"),),
        (row_of(BAR, count=3, foot_mm="find"),),
        (row_of(BAR, count=3, scale=1.0, foot_mm=8.0),),
    ],
)
def test_without_one_row_at_a_stated_scale_none_is_offered(rows: tuple[RowSpec, ...]) -> None:
    fault, tried = said(order(*rows), lambda _: True)
    assert re.search(r"can be made\. Draw the motif smaller\.$", str(fault))
    assert tried == []


def test_scales_are_cut_to_hundredths_and_small_ones_to_thousandths() -> None:
    assert [too_large._rounded(scale) for scale in (0.4567, 0.1099, 0.1, 0.0999, 0.0049, 0.0009)] == [
        0.45, 0.1, 0.1, 0.099, 0.004, 0.0,
    ]  # fmt: skip
