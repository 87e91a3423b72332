"""What else must hold with every way that is tried."""

from __future__ import annotations

from typing import cast

from frameforge.frame.going_with import goes_with, going_with
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, Size

ORDER = PieceSpec("hoop", Size(30, 30))
PIECE = cast("Piece", None)


def test_what_must_hold_more_holds_besides_what_had_to_before() -> None:
    assert goes_with(ORDER, lambda: PIECE)
    for first, second in ((True, False), (False, True), (True, True)):
        with going_with(lambda *_, first=first: first):
            with going_with(lambda *_, second=second: second, is_more=True):
                assert goes_with(ORDER, lambda: PIECE) is (first and second)
            with going_with(lambda *_, second=second: second):
                assert goes_with(ORDER, lambda: PIECE) is second
            assert goes_with(ORDER, lambda: PIECE) is first
