"""Rows that would leave no trace are refused: facing into solid card, or with every position left out."""

from __future__ import annotations

import pytest

from frameforge.card.preset import load_preset
from frameforge.errors import InputError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.motif.catalogue import load_motif

KNIFE = load_preset("card-240-knife")
ARCH = (Ornament(load_motif("arch")),)


def test_a_row_that_faces_in_needs_a_hole() -> None:
    row = RowSpec(ARCH, count=6, place="in")
    with pytest.raises(InputError, match="opening or a rim"):
        make_piece(PieceSpec("collar", Size(100, 100), rows=(row,)), KNIFE)
    assert make_piece(PieceSpec("collar", Size(140, 140), Size(100, 100), rows=(row,)), KNIFE).rows[0].count == 6


def test_a_row_needs_one_motif_at_least() -> None:
    with pytest.raises(InputError, match="all 3 positions"):
        make_piece(PieceSpec("collar", Size(100, 100), rows=(RowSpec(ARCH, count=3, skip=(1, 2, 3)),)), KNIFE)
    left = make_piece(PieceSpec("collar", Size(100, 100), rows=(RowSpec(ARCH, count=3, skip=(1, 2)),)), KNIFE)
    assert len(left.rows[0].repeats) == 1
