"""Spikes blunted and notches rounded by a disc: lengths and areas by closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.mending import KNIFE, codes_left

from frameforge.check.thickness import ThinPlace
from frameforge.geometry.arc import Arc
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.mend.apply import applied
from frameforge.mend.round_tip import blunt, round_notch
from frameforge.mend.view import View
from frameforge.mend.whole import mend_piece


def spike(theta: float, high: float = 16.0) -> Region:
    """Return a triangle with an angle ``theta`` at its top, ``high`` above its base."""
    half = high * math.tan(theta / 2)
    return Region(Outline.from_points([-half, half, 1j * high]))


def tip_of(view: View, side: str = "card") -> ThinPlace:
    places = view.survey.card_places if side == "card" else view.survey.slot_places
    return min((place for place in places if place.kind == "tip"), key=lambda place: place.angle_deg or 0)


def test_a_spike_of_4_by_16_loses_3_531_to_a_disc_of_half_a_millimetre() -> None:
    """2 atan(2/16) = 14.250 deg; r / sin(theta/2) - r = 3.531 (mensuration)."""
    piece = Region(Outline.from_points([-2, 2, 16j]))
    view = View.from_regions([piece], KNIFE)
    patch = blunt(view, tip_of(view), 0.5)
    assert patch is not None
    after = applied([piece], [patch])
    assert bounds(after.regions).top == pytest.approx(12.469, abs=5e-4)
    assert bounds(after.regions).top == pytest.approx(16 - (0.5 / math.sin(math.atan(2 / 16)) - 0.5), abs=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_a_tip_is_shortened_by_the_formula_and_loses_the_area_of_it(seed: int) -> None:
    """Shortening r / sin(t/2) - r; area r^2 (cot(t/2) - (pi - t)/2), both by mensuration."""
    rng = np.random.default_rng(seed)
    theta, radius = math.radians(rng.uniform(8, 19)), rng.uniform(0.1, 0.7)
    piece = spike(theta)
    view = View.from_regions([piece], KNIFE)
    patch = blunt(view, tip_of(view), radius)
    assert patch is not None
    after = applied([piece], [patch])
    assert 16 - bounds(after.regions).top == pytest.approx(radius / math.sin(theta / 2) - radius, abs=1e-6)
    lost = radius**2 * (1 / math.tan(theta / 2) - (math.pi - theta) / 2)
    assert after.removed_mm2[0] == pytest.approx(lost, abs=1e-9)
    (arc,) = (s for s in after.regions[0].outer.segments if isinstance(s, Arc))
    assert abs(arc.u) == pytest.approx(radius, abs=1e-9)


def test_left_to_itself_the_disc_is_half_the_least_finger() -> None:
    mended = mend_piece([spike(math.radians(14))], KNIFE, ("spike",))
    assert mended.left == ()
    (arc,) = (s for s in mended.regions[0].outer.segments if isinstance(s, Arc))
    assert abs(arc.u) == pytest.approx(KNIFE.least_finger_mm / 2)
    assert codes_left(mended.regions, KNIFE) == [], "the blunted tip is no thin finger"


def test_a_tip_with_curved_sides_ends_tangent_to_both() -> None:
    """Two discs of radius 40 meet in a lens whose tips are 2 acos(39.5/40) wide."""
    half = math.acos(39.5 / 40)
    right, left = Arc.from_circle(-39.5, 40, -half, 2 * half), Arc.from_circle(39.5, 40, math.pi - half, 2 * half)
    lens = Region(Outline.from_chain([right, left], joint_mm=1e-9))
    view = View.from_regions([lens], KNIFE)
    patch = blunt(view, tip_of(view), 0.2)
    assert patch is not None
    (region,) = applied([lens], [patch]).regions
    small = [s for s in region.outer.segments if isinstance(s, Arc) and abs(s.u) < 1]
    assert len(small) == 1
    for centre in (-39.5, 39.5):
        assert abs(small[0].center - centre) == pytest.approx(40 - 0.2, abs=1e-9), "touches from inside"


def test_a_sharp_notch_is_filled_down_to_a_round_end() -> None:
    theta, radius = math.radians(12), 0.5
    half = 10 * math.tan(theta / 2)
    notch = Outline.from_points([-20, 20, 20 + 20j, half + 20j, 10j, -half + 20j, -20 + 20j])
    piece = Region(notch)
    view = View.from_regions([piece], KNIFE)
    patch = round_notch(view, tip_of(view, "slot"), radius)
    assert patch is not None
    after = applied([piece], [patch])
    gained = radius**2 * (1 / math.tan(theta / 2) - (math.pi - theta) / 2)
    assert after.added_mm2[0] == pytest.approx(gained, abs=1e-9)
    assert area_mm2(after.regions) - area_mm2(piece) == pytest.approx(gained, abs=1e-9)
    assert codes_left(after.regions, KNIFE) == []


def test_a_tip_too_small_for_the_disc_is_left_to_other_ways() -> None:
    nib = Region(Outline.from_points([-10, 10, 10 + 10j, 0.1 + 10j, 10.8j, -0.1 + 10j, -10 + 10j]))
    view = View.from_regions([nib], KNIFE)
    assert blunt(view, tip_of(view), 0.75) is None
    mended = mend_piece([nib], KNIFE, ("spike",))
    assert mended.left == ()
    assert mended.changes[0].removed_mm2 < 0.1, "cut straight off"


def test_a_circle_has_nothing_to_blunt() -> None:
    assert mend_piece([Region(circle(0, 30))], KNIFE, ("spike",)).changes == ()
