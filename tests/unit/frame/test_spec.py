"""What the maker asked for, as values."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import row_of

from frameforge.frame.spec import PieceSpec, Size

ROWS = tuple(row_of(plain_rectangle(8, 6), count=count) for count in (4, 5, 6))
SPEC = PieceSpec("badge", Size(60, 60), rows=ROWS)


def test_one_row_is_replaced_or_left_out_and_the_others_keep_their_place() -> None:
    new = row_of(plain_rectangle(8, 6), count=9)
    assert [SPEC.with_row(k, new).rows for k in range(3)] == [
        (new, ROWS[1], ROWS[2]), (ROWS[0], new, ROWS[2]), (ROWS[0], ROWS[1], new),
    ]  # fmt: skip
    assert SPEC.with_row(1, None).rows == (ROWS[0], ROWS[2])
    assert SPEC.rows == ROWS


@pytest.mark.parametrize("sides", [(0.0, 10.0), (10.0, -1.0), (math.nan, 10.0), (10.0, math.inf)])
def test_a_size_is_two_lengths(sides: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        Size(*sides)


def test_rows_take_the_motifs_as_they_were_made() -> None:
    made = [row_of(plain_rectangle(8, height)).pattern for height in (7, 8, 9)]
    assert [row.pattern for row in SPEC.with_patterns(made).rows] == made
    assert [row.count for row in SPEC.with_patterns(made).rows] == [4, 5, 6]
    assert SPEC.with_patterns(()) is SPEC
