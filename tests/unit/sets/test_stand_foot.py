"""The foot of a stand: half a disc, and a slot from its top as wide as what stands in it."""

from __future__ import annotations

import math

import pytest
import shapely

from frameforge.frame.spec import StandSpec
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.sets.stand_foot import foot_card, foot_slot_mm


def test_a_slot_takes_all_layers_and_the_play() -> None:
    assert foot_slot_mm(StandSpec(50), 0.3) == pytest.approx(0.4)
    assert foot_slot_mm(StandSpec(50, layers=3, play_mm=0.2), 0.3) == pytest.approx(1.1)


def test_a_foot_is_half_a_disc_less_its_slot() -> None:
    card = foot_card(StandSpec(50), 0.3, 6.0)
    box = bounds(card)
    assert (box.left, box.right, box.bottom) == (-25, 25, 0)
    assert box.top == pytest.approx(math.sqrt(625 - 0.04))
    strip = 625 * math.asin(0.2 / 25) + 0.2 * math.sqrt(625 - 0.04) - 2 * 0.2 * 19
    assert area_mm2(card) == pytest.approx(625 * math.pi / 2 - strip, abs=1e-9)
    polygon = to_polygon(card)
    assert not polygon.contains(shapely.Point(0, 19.01))
    assert polygon.contains(shapely.Point(0, 18.99))


@pytest.mark.parametrize(("depth", "layers"), [(25.0, 1), (0.0, 1), (6.0, 200)])
def test_a_slot_that_does_not_go_in_is_refused(depth: float, layers: int) -> None:
    with pytest.raises(ValueError, match="does not go into a foot"):
        foot_card(StandSpec(50, layers=layers), 0.3, depth)
