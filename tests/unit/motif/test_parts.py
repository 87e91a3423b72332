"""The parts of a motif: regions joined on, islands in windows, and what is left without some of them."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import plain_rectangle

from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif
from frameforge.motif.parts import parts_of, without_parts


def framed() -> Motif:
    """Return a frame of 20 mm with a window of 16 mm, in that an island of 8 mm with a window of 2 mm, and a dot."""
    island = rectangle(-4, 6, 4, 14)
    windows = (
        Region(rectangle(-8, 2, 8, 18), (island.reversed(),)),
        Region(rectangle(-1, 9, 1, 11)),
    )
    join = Region(rectangle(-10, 0, 10, 20)), Region(circle(24j, 2.0))
    return Motif("frame", join, 20.0, (), windows)


def test_parts_are_what_is_joined_on_and_then_islands_without_their_windows() -> None:
    frame, dot, island = parts_of(framed())
    assert frame.shape.area == pytest.approx(400 - 256)
    assert dot.shape.area == pytest.approx(12.566, rel=1e-3)
    assert island.shape.area == pytest.approx(64 - 4)
    assert abs(island.spot.real) <= 4
    assert not (abs(island.spot.real) < 1 and 9 < island.spot.imag < 11)


def test_an_island_left_out_leaves_a_plain_window() -> None:
    left = without_parts(framed(), {2})
    assert len(left.join) == 2
    assert [round(area_mm2(window), 6) for window in left.window] == [256.0]


def test_a_part_goes_with_its_windows() -> None:
    left = without_parts(framed(), {0, 2})
    assert len(left.join) == 1
    assert left.window == ()
    kept = without_parts(framed(), {1})
    assert len(kept.join) == 1
    assert len(kept.window) == 2


def test_nothing_is_no_motif() -> None:
    with pytest.raises(ValueError, match="is nothing"):
        without_parts(plain_rectangle(4, 4), {0})
