"""A piece made: what is told of it where there is nothing, and its rows as they are told."""

from __future__ import annotations

from dataclasses import fields, replace

from fixtures.plain_motifs import arch, husk
from fixtures.rows import D100, KNIFE, row_of

from frameforge.frame.make import make_piece
from frameforge.frame.piece import Piece, RowResult
from frameforge.frame.spec import PieceSpec
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle

PLAIN = Piece("hoop", D100, Region(circle(0, 50)))


def row(name: str) -> RowResult:
    return RowResult(name, 3, 1.0, 1.0, 1.0, 120.0, 0.0, None, 1.0, "as-drawn", "out", None)


def test_a_plain_piece_has_nothing_else() -> None:
    more = {field.name: getattr(PLAIN, field.name) for field in fields(Piece)[3:]}
    assert {name: value for name, value in more.items() if value != ()} == {"tent": None, "flange": None}
    assert (row("arch").repeats, row("arch").filler, row("arch").is_of_teeth) == ((), None, False)


def test_a_filler_is_told_as_a_row_of_its_own_after_the_one_it_fills() -> None:
    one, other, filler = row("arch"), row("leaf"), row("husk")
    assert PLAIN.told_rows == ()
    assert replace(PLAIN, rows=(replace(one, filler=filler), other)).told_rows == (
        replace(one, filler=filler), filler, other,
    )  # fmt: skip


def test_repeats_and_motifs_are_left_out_of_what_is_shown_of_a_piece() -> None:
    piece = make_piece(PieceSpec("hoop", D100, rows=(row_of(arch(), husk(), count=4),)), KNIFE)
    assert len(piece.rows[0].repeats) == 4
    assert len(piece.patterns) == 1
    assert "repeats" not in repr(piece)
    assert "patterns" not in repr(piece)
