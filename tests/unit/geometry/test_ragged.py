"""Rows of different lengths in one array."""

from __future__ import annotations

import numpy as np

from frameforge.geometry.ragged import counted, following, from_first, previous, row_starts

FIRST = np.array([0, 3, 4, 8])


def test_rows_are_counted_out() -> None:
    row, number = counted(np.array([3, 0, 2]))
    assert row.tolist() == [0, 0, 0, 2, 2]
    assert number.tolist() == [0, 1, 2, 0, 1]


def test_equal_neighbours_make_rows() -> None:
    assert row_starts(np.array([5, 5, 2, 2, 2, 5])).tolist() == [0, 2, 5, 6]
    assert row_starts(np.array([], dtype=int)).tolist() == [0]


def test_rows_are_rings() -> None:
    assert following(FIRST).tolist() == [1, 2, 0, 3, 5, 6, 7, 4]
    assert previous(FIRST).tolist() == [2, 0, 1, 3, 7, 4, 5, 6]


def test_rings_can_start_at_their_first_head() -> None:
    head = np.array([False, False, True, False, False, True, True, False])
    assert from_first(FIRST, head).tolist() == [2, 0, 1, 3, 5, 6, 7, 4]
