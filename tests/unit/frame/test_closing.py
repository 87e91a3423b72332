"""The three ways to close a row that a stated gap leaves open."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import husk, leaf, plain_rectangle, scallop
from fixtures.rows import D100, model_of

from frameforge.frame.closing import Closing, closing_answers
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Size
from frameforge.motif.motif import Motif


def closing(model: RowModel, size: Size, gap_mm: float, *fillers: Motif) -> Closing:
    found = closing_answers(model, size, 1.0, gap_mm, fillers)
    assert found is not None
    return found


def test_feet_of_18_on_100_spread_or_change_the_size() -> None:
    """Foot gap 2.844922 spread, size 96.005313 for 15 and 102.339180 for 16 (chord geometry, computed twice)."""
    found = closing(model_of(plain_rectangle(18)), D100, 2.0)
    (spread,) = found.of("spread")
    assert (spread.count, round(spread.gap_mm, 6)) == (15, 2.844922)
    sizes = found.of("size")
    assert [(one.count, round(one.size.width_mm, 6)) for one in sizes] == [(15, 96.005313), (16, 102.339180)]
    assert all(abs(one.gap_mm - 2) < 1e-9 and abs(one.gap_max_mm - 2) < 1e-9 for one in sizes)
    assert found.of("filler") == ()


def test_leaves_on_an_oval_spread_or_change_the_size_in_proportion() -> None:
    """25 spread to 3.366801; 26 would leave 2.702073, so their size is larger (computed twice)."""
    found = closing(model_of(leaf()), Size(150, 100), 3.0, husk(), scallop())
    (spread,) = found.of("spread")
    assert (spread.count, round(spread.gap_mm, 6)) == (25, 3.366801)
    smaller, larger = found.of("size")
    assert (smaller.count, larger.count) == (25, 26)
    assert smaller.size.width_mm < 150 < larger.size.width_mm
    for one in (smaller, larger):
        assert one.size.width_mm / one.size.height_mm == pytest.approx(1.5, abs=1e-12)
        assert (one.gap_mm, one.gap_max_mm) == pytest.approx((3, 3), abs=1e-9)
    assert [one.filler.motif.name for one in found.of("filler") if one.filler] == ["husk", "scallop"]
    assert all(one.gap_max_mm - 3 < 1e-9 and one.count == 25 for one in found.of("filler"))


def test_on_an_opening_the_opening_changes() -> None:
    model = model_of(plain_rectangle(12, 4), size=Size(120, 120), opening=Size(80, 60), place="in")
    found = closing(model, Size(120, 120), 2.0)
    for one in found.of("size"):
        assert one.size == Size(120, 120)
        assert one.model.spec.opening == one.edge
        assert one.edge.width_mm / one.edge.height_mm == pytest.approx(4 / 3, abs=1e-12)
        assert (one.gap_mm, one.gap_max_mm) == pytest.approx((2, 2), abs=1e-9)
    assert found.of("size")[0].edge.width_mm < 80 < found.of("size")[1].edge.width_mm


def test_a_row_that_closes_has_no_answers() -> None:
    assert closing(model_of(plain_rectangle(50)), D100, 0.0).answers == ()


def test_two_on_an_edge_leave_no_rest() -> None:
    assert closing_answers(model_of(plain_rectangle(94)), D100, 1.0, 2.0, []) is None
