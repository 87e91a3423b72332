"""The motif as a value."""

from __future__ import annotations

import pytest
from fixtures.outlines import disc

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

FLAG = Motif("flag", (Region(rectangle(-1, 0, 6, 4)),), 2, window=(disc(1, 4 + 2j),), sink_mm=0.5)


def test_scaled_about_the_foot() -> None:
    twice = FLAG.scaled(2)
    assert (twice.foot_mm, twice.sink_mm) == (4, 1)
    assert bounds(twice.join).top == 8
    assert area_mm2(twice.window) == pytest.approx(4 * area_mm2(FLAG.window))
    assert FLAG.scaled(1) is FLAG


def test_mirrored_about_the_axis() -> None:
    mirrored = FLAG.mirrored()
    assert bounds(mirrored.join).left == -6
    assert area_mm2(mirrored.join) == area_mm2(FLAG.join), "outer outlines stay counter-clockwise"
    assert mirrored.foot_mm == FLAG.foot_mm


def test_the_flat_map_is_no_motif() -> None:
    assert FLAG.transformed(Affine.from_scale(0.5)).foot_mm == 1


def test_without_outline_or_with_a_foot_below_zero_refused() -> None:
    with pytest.raises(ValueError, match="no outline"):
        Motif("none", (), 3)
    with pytest.raises(ValueError, match="foot"):
        Motif("neg", FLAG.join, -1)
    with pytest.raises(ValueError, match="foot"):
        Motif("nan", FLAG.join, float("nan"))
