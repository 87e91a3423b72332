"""Cubics that cross themselves."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry.affine import Affine
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.segment_table import SegmentTable
from frameforge.geometry.trace.cubic_loops import self_crossings

LOOP = Cubic(0, 14 + 10j, -4 + 10j, 10)


def test_both_places_are_one_point() -> None:
    cubics = [LOOP, LOOP.transformed(Affine.from_matrix(1.2, 0.3, -0.4, 0.9, 5, -6)), LOOP.reversed()]
    table = SegmentTable.from_segments(cubics)
    row, low, high = self_crossings(table)
    assert row.tolist() == [0, 1, 2]
    assert (low < high - 0.1).all()
    assert table.point(row, low) == pytest.approx(table.point(row, high), abs=1e-12)


@pytest.mark.parametrize(
    "cubic",
    [
        Cubic(0, 1 + 3j, 4 - 2j, 6 + 1j),  # a wave
        Cubic(0, 10 + 10j, 10j, 10),  # a cusp: both places are one
        Cubic(0, 1, 2, 3),  # a line
        Cubic(0, 3 + 3j, 6 + 3j, 9),  # a parabola
        LOOP.piece(0, 0.4),  # the loop is cut off
    ],
)
def test_other_cubics_do_not(cubic: Cubic) -> None:
    row, low, high = self_crossings(SegmentTable.from_segments([cubic]))
    assert not len(row) or np.abs(high - low).max() < 1e-6
