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


THREE = Motif("three", (disc(1, 0j), disc(1, 4j)), 2, cut_away=(disc(2, 2j),), window=(disc(0.5, 4j),))


def test_regions_are_given_back_part_by_part() -> None:
    assert THREE.regions == (*THREE.join, *THREE.cut_away, *THREE.window)
    assert THREE.with_regions(THREE.regions) == THREE
    turned = THREE.with_regions(reversed(THREE.regions))
    assert (len(turned.join), turned.cut_away, turned.window) == (2, THREE.join[1:], THREE.join[:1])
    with pytest.raises(ValueError, match="has 4 regions, not 3"):
        THREE.with_regions(THREE.regions[:3])


def test_a_motif_is_seen_by_its_card_and_keeps_neighbours_off_its_cut_aways_too() -> None:
    corner, pane = Motif("corner", (), 2, cut_away=THREE.cut_away), Motif("pane", (), 2, window=THREE.window)
    assert [motif.drawn for motif in (THREE, corner, pane)] == [THREE.join, THREE.cut_away, THREE.window]
    counted = [(*THREE.join, *THREE.cut_away), THREE.cut_away, THREE.window]
    assert [motif.counted for motif in (THREE, corner, pane)] == counted
