"""Ways out for tent cards that fall apart: which orders are tried, in which order, and what is typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from fixtures.rows import D100

from frameforge.errors import GeometryError
from frameforge.frame.spec import FoldSpec, PieceSpec, Size
from frameforge.frame.tent_ways import tent_ways

TENT = PieceSpec("table", D100, opening=Size(60, 40), fold=FoldSpec(10, flat_mm=8))


def whole_where(is_whole: Callable[[PieceSpec], bool]) -> tuple[list[str], list[PieceSpec]]:
    """Return the ways found for the tent where some orders are whole, and every order that was tried."""
    tried: list[PieceSpec] = []

    def parts(spec: PieceSpec) -> int:
        tried.append(spec)
        return 1 if is_whole(spec) else 2

    return tent_ways(TENT, parts), tried


def test_every_kind_is_tried_to_its_end_and_one_thing_changes_at_a_time() -> None:
    """A foot of .75, .5, .25 of 8 mm and none; depths of .75, .5, 1.25, 1.5, 2 of 10 mm; openings of .9 to .5."""
    found, tried = whole_where(lambda spec: False)
    assert found == []
    assert [spec.fold.flat_mm for spec in tried[:4] if spec.fold] == [6, 4, 2, 0]
    assert [spec.fold.depth_mm for spec in tried[4:9] if spec.fold] == [7.5, 5, 12.5, 15, 20]
    assert [spec.opening for spec in tried[9:]] == [Size(6 * k, 4 * k) for k in (9, 8, 7, 6, 5)]
    for spec in tried:
        assert (spec.fold == TENT.fold) + (spec.opening == TENT.opening) == 1


def test_of_each_kind_the_first_that_holds_is_told_as_it_is_typed() -> None:
    def by_a_little(spec: PieceSpec) -> bool:
        assert spec.fold
        assert spec.opening
        return spec.fold.flat_mm == 0 or spec.fold.depth_mm == 5 or spec.opening.width_mm <= 45

    found, _ = whole_where(by_a_little)
    assert found == ["no --flat", '--fold "5mm top"', "--opening 42x28mm"]


@pytest.mark.parametrize(("at_deg", "told"), [(90, "right"), (-90, "left"), (540, "bottom"), (12.5, "12.5deg")])
def test_a_direction_is_told_by_its_word_where_it_has_one(at_deg: float, told: str) -> None:
    spec = PieceSpec("table", D100, fold=FoldSpec(10, at_deg))
    assert tent_ways(spec, lambda tried: 1) == [f'--fold "7.5mm {told}"']


def test_a_depth_or_a_foot_of_nothing_is_no_way() -> None:
    """Half a millimetre is the step: .75 of .6 mm is none, 1.25 of it is .5."""
    spec = replace(TENT, fold=FoldSpec(0.6, flat_mm=0.4), opening=None)
    assert tent_ways(spec, lambda tried: 1) == ["no --flat", '--fold "0.5mm top"']


def test_an_order_that_is_refused_is_no_way_and_a_piece_without_a_fold_has_none() -> None:
    def refused(spec: PieceSpec) -> int:
        raise GeometryError("no seat.")

    assert tent_ways(TENT, refused) == []
    assert tent_ways(PieceSpec("hoop", D100), lambda tried: 1) == []
