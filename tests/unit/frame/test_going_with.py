"""What else must be had of a piece that is tried: asked within, with the order and its card, and no longer."""

from __future__ import annotations

from typing import cast

import pytest
from fixtures.rows import D100

from frameforge.frame.going_with import goes_with, going_with
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec

SPEC = PieceSpec("hoop", D100)
CARD = cast("Piece", object())


def test_where_nothing_goes_with_a_piece_it_is_not_even_put_together() -> None:
    made: list[int] = []
    assert goes_with(SPEC, lambda: cast("Piece", made.append(1)))
    assert made == []


@pytest.mark.parametrize("holds", [True, False])
def test_what_goes_with_a_piece_is_asked_with_its_order_and_card(*, holds: bool) -> None:
    asked: list[tuple[PieceSpec, Piece]] = []

    def also(spec: PieceSpec, piece: Piece) -> bool:
        asked.append((spec, piece))
        return holds

    with going_with(also):
        assert goes_with(SPEC, lambda: CARD) is holds
    assert asked == [(SPEC, CARD)]


def test_it_is_asked_within_alone_and_the_inner_one_first() -> None:
    with going_with(lambda _spec, _piece: False):
        with going_with(lambda _spec, _piece: True):
            assert goes_with(SPEC, lambda: CARD)
        assert not goes_with(SPEC, lambda: CARD)
    assert goes_with(SPEC, lambda: CARD)
    with pytest.raises(KeyError), going_with(lambda _spec, _piece: False):
        raise KeyError
    assert goes_with(SPEC, lambda: CARD)
