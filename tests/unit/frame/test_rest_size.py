"""A rest closed by another size."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from fixtures.plain_motifs import arch, husk, plain_rectangle
from fixtures.rows import D100, KNIFE, row_of

from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame import rest_size
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.rest_size import settle_sizes
from frameforge.frame.spec import PieceSpec, RowSpec, Size


def order(*rows: RowSpec, size: Size = D100, opening: Size | None = None) -> PieceSpec:
    return PieceSpec("hoop", size, opening=opening, rows=rows)


def test_the_nearer_size_is_taken_and_told() -> None:
    """96.005313 for 15, 102.339180 for 16: the second is nearer to 100 (chord geometry)."""
    piece = make_piece(order(row_of(plain_rectangle(18), gap_mm=2.0, rest="size")), KNIFE)
    assert round(piece.size.width_mm, 6) == 102.339180
    (row,) = piece.rows
    assert row.count == 16
    assert row.gap_mm == pytest.approx(2.0, abs=1e-9)
    assert piece.findings[0].say == "took 102.3 mm in place of 100 mm, where 16 rectangles close with gaps of 2 mm."


def test_a_stated_count_chooses() -> None:
    spec, _ = settle_sizes(order(row_of(plain_rectangle(18), gap_mm=2.0, count=15, rest="size")), KNIFE)
    assert isinstance(spec.size, Size)
    assert round(spec.size.width_mm, 6) == 96.005313


def test_without_a_gap_the_usual_one_holds() -> None:
    piece = make_piece(order(row_of(arch(), rest="size")), KNIFE)
    assert piece.rows[0].gap_mm == pytest.approx(2.0, abs=1e-9)
    assert piece.rows[0].count == 17


def test_a_foot_gap_closes_between_feet() -> None:
    piece = make_piece(order(row_of(husk(), foot_gap_mm=6.0, rest="size")), KNIFE)
    assert piece.rows[0].foot_gap_mm == pytest.approx(6.0, abs=1e-9)


def test_an_opening_changes_and_the_base_stays() -> None:
    row = row_of(plain_rectangle(9, 4), gap_mm=2.0, rest="size", place="in")
    spec, notes = settle_sizes(order(row, size=Size(120, 120), opening=Size(70, 70)), KNIFE)
    assert spec.size == Size(120, 120)
    assert spec.opening is not None
    assert spec.opening.is_circle
    assert spec.opening.width_mm != 70
    assert "took an opening of 71.1 mm in place of 70 mm" in notes[0].say


def test_other_rows_follow() -> None:
    rows = row_of(arch(), count=9, place="window"), row_of(plain_rectangle(18), gap_mm=2.0, rest="size")
    piece = make_piece(order(*rows), KNIFE)
    assert [row.count for row in piece.rows] == [9, 16]


def test_an_order_without_a_rest_stays_as_it_is() -> None:
    spec = order(row_of(arch(), gap_mm=2.0, rest="spread"))
    assert settle_sizes(spec, KNIFE) == (spec, ())


def test_two_rows_cannot_both_change_it() -> None:
    row = row_of(arch(), gap_mm=2.0, rest="size")
    with pytest.raises(InputError, match="two rows would each change the size"):
        make_piece(order(row, row), KNIFE)


def test_no_size_is_said() -> None:
    row = row_of(arch(), gap_mm=2.0, count=1, rest="size")
    with pytest.raises(GeometryError, match="no size closes 1 arch with gaps of 2 mm"):
        make_piece(order(row), KNIFE)


def test_a_seam_without_a_rest_is_not_left_out_silently() -> None:
    with pytest.raises(InputError, match="a seam is where a rest lies"):
        make_piece(order(row_of(arch(), gap_mm=2.0, seam_deg=90.0)), KNIFE)
    made = make_piece(order(row_of(arch(), gap_mm=2.0, seam_deg=90.0, rest="size")), KNIFE)
    assert made.rows[0].count == 17


def line(*rows: RowSpec, **more: Any) -> str:
    with pytest.raises(FrameforgeError) as caught:
        settle_sizes(order(*rows, **more), KNIFE)
    return str(caught.value)


def test_refusals_word_for_word() -> None:
    bar = plain_rectangle(18)
    rest = row_of(bar, gap_mm=2.0, rest="size")
    assert line(rest, rest) == "hoop: two rows would each change the size. Leave rest size to one of them."
    assert line(row_of(bar, gap_mm=2.0, count=1, rest="size")) == (
        "hoop: no size closes 1 rectangle with gaps of 2 mm. Leave out rest."
    )
    with pytest.raises(GeometryError) as caught:
        settle_sizes(order(row_of(bar, gap_mm=2.0, count=1, rest="size")), KNIFE)
    assert (caught.value.code, caught.value.numbers) == ("no-size", {"count": 1, "wanted_mm": 2.0})


def test_what_is_settled_is_an_order_without_a_rest() -> None:
    """Rows before and after stay as they are."""
    other = row_of(arch(), count=9, place="window")
    asked = row_of(plain_rectangle(18), gap_mm=2.0, rest="size", seam_deg=90.0)
    spec, (note,) = settle_sizes(order(other, asked, other), KNIFE)
    assert spec.rows == (other, replace(asked, rest=None, seam_deg=None, count=16), other)
    assert (note.code, note.severity, note.piece) == ("took", "note", "hoop")
    assert note.say == "took 102.3 mm in place of 100 mm, where 16 rectangles close with gaps of 2 mm."


def test_a_foot_gap_stays_the_one_that_is_stated() -> None:
    spec, (note,) = settle_sizes(order(row_of(husk(), foot_gap_mm=6.0, rest="size")), KNIFE)
    assert (spec.rows[0].foot_gap_mm, spec.rows[0].gap_mm) == (6.0, None)
    assert "close with foot gaps of 6 mm." in note.say


def test_the_greatest_count_that_goes_round_and_a_pattern_more_are_compared() -> None:
    """Bars of 18 mm on 100 mm: 15 go round with 2 mm between; of mirrored ones 14 or 16."""
    bar = plain_rectangle(18)
    model = RowModel(order(), row_of(bar), KNIFE)
    assert rest_size._counts(model, D100, 1.0, 2.0) == [15, 16]
    mirrored = RowModel(order(), row_of(bar, is_mirrored_every_other=True), KNIFE)
    assert rest_size._counts(mirrored, D100, 1.0, 2.0) == [14, 16]
    by_arc = RowModel(order(), row_of(bar, spread="equal-arc", start_deg=70.0, starts_with_gap=True), KNIFE)
    assert rest_size._counts(by_arc, D100, 1.0, 2.0) == [15, 16]
    turned = RowModel(order(), row_of(bar, start_deg=70.0, starts_with_gap=True, seam_deg=10.0), KNIFE)
    assert rest_size._counts(turned, D100, 1.0, 2.0) == [15, 16]
    wide = RowModel(order(), row_of(plain_rectangle(120)), KNIFE)
    assert rest_size._counts(wide, D100, 1.0, 2.0) == [1]


@pytest.mark.parametrize(("across", "count"), [(96.2, 15), (99.1, 15), (99.3, 16), (102.3, 16)])
def test_of_two_sizes_that_close_the_nearer_is_taken(across: float, count: int) -> None:
    """15 close at 96.005 mm, 16 at 102.339: half-way lies 99.172."""
    spec, _ = settle_sizes(
        order(row_of(plain_rectangle(18), gap_mm=2.0, rest="size"), size=Size(across, across)), KNIFE
    )
    assert spec.rows[0].count == count


def test_no_size_is_told_with_the_count_that_goes_round(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rest_size, "closing_sizes", lambda *_, **__: None)
    assert line(row_of(plain_rectangle(18), gap_mm=2.0, rest="size")) == (
        "hoop: no size closes 15 rectangles with gaps of 2 mm. Leave out rest."
    )


def test_the_row_with_the_rest_is_the_one_that_is_closed_wherever_it_stands() -> None:
    asked = row_of(plain_rectangle(18), gap_mm=2.0, rest="size")
    other = row_of(arch(), count=9, place="window")
    for rows in ((asked, other, other), (other, other, asked)):
        spec, _ = settle_sizes(order(*rows), KNIFE)
        assert [row.count for row in spec.rows if row.place == "out"] == [16]
