"""A motif standing on an edge is one with it, less what is cut away and cut out."""

from __future__ import annotations

import pytest

from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.motif import Motif
from frameforge.motif.standing import standing_card

BLOCK = Region(rectangle(-4, 0, 4, 10))


def test_the_motif_is_joined_to_the_edge_below_it() -> None:
    (card,) = standing_card(Motif("block", (BLOCK,), 8.0))
    box = bounds(card)
    assert (box.left, box.bottom, box.right, box.top) == (-17, -13, 17, 10)
    assert area_mm2(card) == pytest.approx(34 * 13 + 80)


def test_windows_are_cut_out_and_a_sill_lies_on_the_edge() -> None:
    sill = Region(rectangle(-3, 1, 3, 5))
    (card,) = standing_card(Motif("block", (BLOCK,), 8.0, window=(sill,)))
    assert area_mm2(card) == pytest.approx(34 * 13 + 80 - 24)


def test_a_corner_motif_takes_the_place_of_a_bit_of_edge() -> None:
    pocket = Region(rectangle(-4, -6, 4, 0.3))
    post = Region(rectangle(-1, -7, 1, 0))
    (card,) = standing_card(Motif("post", (post,), 8.0, cut_away=(pocket,)))
    box = bounds(card)
    assert (box.bottom, box.top) == (-20, 0), "card goes on below the floor of what is cut away"
    assert area_mm2(card) == pytest.approx(34 * 20 - 8 * 6 + 2 * 6)


def test_windows_alone_are_cut_out_of_card_all_round() -> None:
    (card,) = standing_card(Motif("eye", (), 0.0, window=(Region(circle(4j, 2)),)))
    assert area_mm2(card) == pytest.approx(14 * 16 - 4 * 3.141592653589793)
