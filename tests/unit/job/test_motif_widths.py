"""Widths of a motif: of its narrowest card on an edge, never more than its foot, and of its narrowest slit."""

from __future__ import annotations

import pytest

from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, ellipse, rectangle
from frameforge.job.motif_widths import MotifWidths, widths_of
from frameforge.motif.motif import Motif

BLOCK = Region(rectangle(-4, 0, 4, 10))


def test_a_motif_that_is_nowhere_thin_is_as_wide_as_its_foot() -> None:
    assert widths_of(Motif("block", (BLOCK,), 8.0)) == MotifWidths(8.0, None)


def test_a_web_beside_a_window_is_thinner_than_the_foot_and_a_sill_is_none() -> None:
    window = Region(rectangle(-2.8, 0.5, 2.8, 8))
    assert widths_of(Motif("block", (BLOCK,), 8.0, window=(window,))).thinnest_mm == pytest.approx(1.2)


def test_a_stalk_and_a_slit() -> None:
    stalk = Outline.from_points([-0.6, 0.6, 0.6 + 5j, 6 + 5j, 6 + 20j, -6 + 20j, -6 + 5j, -0.6 + 5j])
    slit = Region(ellipse(12j, 0.45, 4))
    widths = widths_of(Motif("sign", (Region(stalk),), 1.2, window=(slit,)))
    assert widths.thinnest_mm == pytest.approx(1.2)
    assert widths.slit_mm == pytest.approx(0.9)


def test_a_motif_of_windows_only_has_no_card() -> None:
    assert widths_of(Motif("eye", (), 0.0, window=(Region(circle(4j, 2)),))) == MotifWidths(None, None)
