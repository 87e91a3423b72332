"""The facts of a motif."""

from __future__ import annotations

import math

import pytest
from fixtures.outlines import disc

from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.motif.catalogue import load_motif
from frameforge.motif.describe import card_of, describe
from frameforge.motif.motif import Motif


def test_the_arch_in_numbers() -> None:
    """Half circle r 8 less half circle r 4.5 (closed form)."""
    facts = describe(load_motif("arch"))
    assert facts.area_mm2 == pytest.approx((64 - 20.25) * math.pi / 2, abs=1e-9)
    assert (facts.foot_mm, facts.box.width_mm, facts.box.height_mm) == pytest.approx((16, 16, 8))
    assert (facts.join, facts.cut_away, facts.window, facts.segments) == (1, 0, 1, 4)
    assert facts.box.bottom == 0


def test_a_window_across_the_edge_takes_only_what_is_card() -> None:
    motif = Motif("tab", (Region(rectangle(-5, 0, 5, 4)),), 10, window=(Region(rectangle(4, 1, 8, 3)),))
    assert describe(motif).area_mm2 == pytest.approx(40 - 2)


def test_a_window_with_an_island_keeps_the_island() -> None:
    window = Region(circle(5j, 3), (circle(5j, 1).reversed(),))
    card = card_of(Motif("eye", (disc(5, 5j),), 2, window=(window,)))
    assert area_mm2(card) == pytest.approx((25 - 9 + 1) * math.pi, abs=1e-9)
    assert len(card) == 2


def test_a_motif_of_windows_only_is_measured_by_them() -> None:
    facts = describe(Motif("pane", (), 4, window=(Region(rectangle(-2, 0, 2, 3)),)))
    assert (facts.join, facts.window, facts.area_mm2, facts.box.width_mm) == (0, 1, 12, 4)


def test_a_corner_motif_is_as_wide_as_its_cut_away() -> None:
    motif = Motif("tip", (Region(rectangle(-1, -5, 1, 0)),), 8, cut_away=(Region(rectangle(-4, -5, 4, 0.3)),))
    facts = describe(motif)
    assert (facts.box.width_mm, facts.box.top) == (8, 0.3)
    assert facts.area_mm2 == pytest.approx(10)
    assert facts.segments == 8
