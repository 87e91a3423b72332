"""Messy shapes mended: nothing found any more, one part as before, and a second road finds nothing thin either."""

from __future__ import annotations

import pytest
import shapely
from fixtures.medial import thin_clusters
from fixtures.mending import KNIFE, assert_clean_edges, codes_left
from fixtures.messy import messy

from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.mend.whole import mend_piece

CODES = ("thin-web", "thin-neck", "thin-finger", "spike", "narrow-slot", "near-miss")
ALLOWED_MM = 0.03
"""What points .04 mm apart may take for thinner than it is."""


def _is_thin_all_over(regions: tuple[Region, ...], place: complex) -> bool:
    """Return whether a place lies in a slit that is as wide as its largest disc, which the check judges as a whole."""
    for hole in (hole for region in regions for hole in region.holes):
        polygon = to_polygon(Region(hole.reversed()))
        if polygon.contains(shapely.Point(place.real, place.imag)):
            return bool(2 * shapely.maximum_inscribed_circle(polygon).length < 1.1 * KNIFE.least_slot_mm + 0.05)
    return False


def _mended(seed: int) -> None:
    before = messy(seed)
    mended = mend_piece([before], KNIFE, CODES)
    assert mended.left == ()
    assert mended.rounds <= 3
    assert len(mended.regions) == 1
    assert [code for code in codes_left(mended.regions, KNIFE) if code in CODES] == []
    assert_clean_edges([before], mended)
    card, slot = KNIFE.least_neck_mm, KNIFE.least_slot_mm
    thin = [c for c in thin_clusters(mended.regions, card - ALLOWED_MM) if c[2] >= card / 2]
    narrow = [c for c in thin_clusters(mended.regions, slot - ALLOWED_MM, "slot") if c[2] >= slot / 2]
    assert thin == []
    assert [c for c in narrow if not _is_thin_all_over(mended.regions, c[0])] == []


@pytest.mark.parametrize("seed", [0, 3, 11, 40, 37, 94, 8, 68])
def test_messy_shapes_are_mended(seed: int) -> None:
    _mended(seed)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(100))
def test_a_hundred_messy_shapes_are_mended(seed: int) -> None:
    _mended(seed)


def test_the_second_road_sees_what_is_thin() -> None:
    """The bar of the messy shape's own stalks before mending: the oracle is no rubber stamp."""
    found = sum(bool([c for c in thin_clusters([messy(seed)], 1.47) if c[2] >= 0.75]) for seed in range(8))
    assert found >= 6
