"""As drawn against bent, told as a table: what stands in it, what is left out, what is passed over."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import leaf, plain_rectangle
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame.fit import Fit
from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.job.seats import seats_of, seats_told

BOTH = Fit(D100, 15, 1.0)


def test_the_table_in_the_terminal() -> None:
    told = seats_told(model_of(plain_rectangle(20, 10)), BOTH)
    assert told.lines() == [
        "As drawn and bent, 15 rectangles round a 100 mm circle:",
        "",
        "  seat      go round  gap mm  foot gap  top mm  across   high  area mm2",
        "  as-drawn        14    0.80      0.80   20.00   20.00   9.83     200.0",
        "  bent            14    0.94      0.94   24.00   23.84  10.00     220.0",
    ]
    assert all(len(line) <= 80 for line in told.lines())


def test_a_bare_foot_has_no_shape_to_tell() -> None:
    told = seats_told(model_of(plain_rectangle(20, 10)), BOTH, is_bare=True)
    assert told.rows()[0] == ("seat", "go round", "gap mm", "foot gap")
    assert [row["top_mm"] for row in told.as_json()] == [None, None]


def test_a_tip_is_called_one_and_json_carries_the_numbers() -> None:
    told = seats_told(model_of(leaf()), Fit(D100, 12, 1.0))
    assert [row[4] for row in told.rows()[1:]] == ["tip", "tip"]
    drawn, bent = told.as_json()
    assert (drawn["seat"], bent["seat"], bent["count"]) == ("as-drawn", "bent", 12)
    assert bent["foot_gap_mm"] == pytest.approx(100 * 3.141592653589793 / 12 - 4.4)


def test_a_seat_that_does_not_go_says_why() -> None:
    told = seats_told(model_of(plain_rectangle(4, 31), size=Size(120, 120), opening=Size(60, 60), place="in"),
                      Fit(Size(120, 120), 3, 1.0))  # fmt: skip
    assert told.rows()[2][2:] == ("-",) * (len(told.rows()[0]) - 2)
    assert told.notes[0].startswith("bent: bent so far in, the rectangle folds over itself")


def _made(row: RowSpec) -> tuple[PieceSpec, Piece]:
    spec = PieceSpec("hoop", D100, rows=(row,))
    return spec, make_piece(spec, KNIFE)


def test_a_piece_tells_its_bent_rows_only() -> None:
    (told,) = seats_of(*_made(row_of(leaf(), count=12, seat="bent")), KNIFE)
    assert told.title == "As drawn and bent, 12 leaves"
    assert "go round" not in told.rows()[0]
    assert seats_of(*_made(row_of(leaf(), count=12)), KNIFE) == ()
    assert seats_of(*_made(row_of(leaf(), count=12, seat="bent", keep_free=(60.0, 0.0))), KNIFE) == ()
