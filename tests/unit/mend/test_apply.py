"""Patches put on: the shares that each has in what was changed."""

from __future__ import annotations

import pytest

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.mend.apply import applied
from frameforge.mend.patch import Patch


def test_shares_are_measured_where_holes_touch_each_other() -> None:
    """Chords of two holes that share a corner and a bit of an edge are no sound area by themselves."""
    holes = (rectangle(2, 2, 4, 4).reversed(), rectangle(3.999, 2, 6, 4).reversed())
    card = Region(rectangle(0, 0, 10, 10), holes)
    patches = [Patch(adds=(Region(rectangle(3.5, 3, 4.5, 5)),)), Patch(adds=(Region(rectangle(9.5, 4, 11, 6)),))]
    done = applied([card], patches)
    assert done.added_mm2[0] == pytest.approx(1, abs=0.01)
    assert done.added_mm2[1] == pytest.approx(2, abs=0.01)
