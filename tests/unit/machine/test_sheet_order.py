"""Pieces on a sheet are cut from the inside out, neighbour by neighbour."""

from __future__ import annotations

import pytest

from frameforge.geometry.box import Box
from frameforge.machine.sheet_order import LaidBox, sheet_order


def at(x: float, y: float, half: float = 5, inside_of: int | None = None) -> LaidBox:
    """Return a piece by the middle of its box."""
    return LaidBox(Box(x - half, y - half, x + half, y + half), inside_of)


def test_the_nearest_piece_comes_next() -> None:
    pieces = [at(90, 10), at(10, 10), at(50, 10), at(50, 60)]
    assert sheet_order(pieces) == (1, 2, 0, 3)
    assert sheet_order(pieces, begin=50 + 60j) == (3, 2, 0, 1)


def test_what_lies_in_an_opening_is_cut_before_its_host() -> None:
    """A frame holds a ring, the ring a disc, and the frame a second disc; beside it lies another piece."""
    frame, ring, disc = at(60, 60, 50), at(50, 50, 20, inside_of=0), at(50, 50, 5, inside_of=1)
    second, beside = at(90, 90, 5, inside_of=0), at(200, 60)
    order = sheet_order([frame, ring, disc, second, beside])
    assert order == (2, 1, 3, 0, 4)


def test_pieces_cannot_hold_each_other() -> None:
    with pytest.raises(ValueError, match="in a circle"):
        sheet_order([at(0, 0, inside_of=1), at(0, 0, inside_of=0)])


def test_no_piece_no_order() -> None:
    assert sheet_order([]) == ()
