"""Narrow slots widened, closed, or grown in their shape."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fixtures.mending import KNIFE, assert_kept_elsewhere, codes_left, limits, reach
from fixtures.planted import FAMILIES, planted

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.mend.apply import applied
from frameforge.mend.fuse import fuse
from frameforge.mend.grow import grow
from frameforge.mend.view import View
from frameforge.mend.whole import mend_piece
from frameforge.mend.widen import widen

SLOTS = [
    seed for seed in range(200) if FAMILIES[seed % len(FAMILIES)].__name__ in ("_open_slot", "_closed_slit", "_gap")
]


def slotted(wide: float, deep: float = 12.0) -> Region:
    """Return a square of 40 with a slot from its upper edge down."""
    half, bottom = wide / 2, 20 - deep
    points = [
        -20 - 20j,
        20 - 20j,
        20 + 20j,
        half + 20j,
        half + 1j * bottom,
        -half + 1j * bottom,
        -half + 20j,
        -20 + 20j,
    ]
    return Region(Outline.from_points(points))


def test_a_slot_near_its_limit_is_widened_and_no_deeper() -> None:
    piece = slotted(0.8)
    mended = mend_piece([piece], limits(slot_mm=1.0), ("narrow-slot",))
    (change,) = mended.changes
    # Both walls move by half of 1.01 - .8 along 12 mm (rectangle).
    assert change.removed_mm2 == pytest.approx(12 * 0.21, abs=0.02)
    assert change.added_mm2 == 0
    assert mended.left == ()


def test_a_slot_far_below_its_limit_is_closed() -> None:
    piece = slotted(0.3)
    mended = mend_piece([piece], limits(slot_mm=1.0), ("narrow-slot",))
    assert mended.left == ()
    assert area_mm2(mended.regions) == pytest.approx(1600, abs=0.5)
    assert mended.changes[0].removed_mm2 == 0


def test_what_is_left_behind_in_the_corners_of_a_closed_slot_is_filled() -> None:
    mended = mend_piece([slotted(0.45)], limits(slot_mm=1.0), ("narrow-slot",))
    assert mended.regions[0].holes == ()
    assert area_mm2(mended.regions) == pytest.approx(1600, abs=0.5)


def test_two_parts_are_moved_no_nearer_than_the_limit_and_stay_two() -> None:
    parts = [Region(circle(-10.1, 10)), Region(circle(10.1, 10))]
    mended = mend_piece(parts, limits(slot_mm=1.0), ("narrow-slot",))
    assert len(mended.regions) == 2
    assert mended.left == ()
    assert all(change.added_mm2 == 0 for change in mended.changes)


def test_a_lens_slit_grows_into_a_lens() -> None:
    """Its parallel .1 away: area A + L d + pi d^2 for a convex outline (Steiner's formula)."""
    half = math.acos(9.6 / 10)
    sides = [Arc.from_circle(-9.6, 10, -half, 2 * half), Arc.from_circle(9.6, 10, math.pi - half, 2 * half)]
    lens = Outline.from_chain(sides, joint_mm=1e-9)
    piece = Region(circle(0, 20), (lens.reversed(),))
    mended = mend_piece([piece], limits(slot_mm=1.0), ("narrow-slot",))
    assert mended.left == ()
    by = 0.1 + 0.005
    taken = length_mm(lens) * by + math.pi * by * by
    assert mended.changes[0].removed_mm2 == pytest.approx(taken, abs=1e-3)
    assert mended.regions[0].outer == piece.outer


def test_a_slit_of_two_arms_does_not_grow_as_one() -> None:
    cross = Region(circle(0, 20), (
        Outline.from_points([-8 - 0.3j, -0.3 - 0.3j, -0.3 - 8j, 0.3 - 8j, 0.3 - 0.3j, 8 - 0.3j,
                             8 + 0.3j, 0.3 + 0.3j, 0.3 + 8j, -0.3 + 8j, -0.3 + 0.3j, -8 + 0.3j]).reversed(),
    ))  # fmt: skip
    view = View.from_regions([cross], limits(slot_mm=1.0))
    (place,) = view.survey.slot_places
    assert grow(view, place, 1.0) is None


def test_a_ring_of_space_round_a_part_is_not_closed() -> None:
    parts = [Region(circle(0, 20), (circle(0, 10).reversed(),)), Region(circle(0, 9.3))]
    view = View.from_regions(parts, limits(slot_mm=1.0))
    (place,) = view.survey.slot_places
    assert fuse(view, place, 1.0) is None
    after = applied(parts, [widen(view, place, 1.0)])
    assert len(after.regions) == 2
    assert "narrow-slot" not in codes_left(after.regions, limits(slot_mm=1.0))


@pytest.mark.parametrize("seed", range(3))
def test_a_turned_slot_is_mended_by_as_much(seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn = Affine(np.exp(1j * rng.uniform(0, math.tau)), 0, complex(*rng.uniform(-30, 30, 2)))
    one = mend_piece([slotted(0.8)], limits(slot_mm=1.0), ("narrow-slot",))
    two = mend_piece([slotted(0.8).transformed(turn)], limits(slot_mm=1.0), ("narrow-slot",))
    assert two.changes[0].removed_mm2 == pytest.approx(one.changes[0].removed_mm2, abs=1e-6)


def _mended(seed: int, way: str) -> None:
    case = planted(seed)
    preset = limits(slot_mm=case.width_mm + 0.25)
    view = View.from_regions(case.regions, preset)
    places = [place for place in view.survey.slot_places if place.kind != "tip"]
    make = widen if way == "widen" else fuse
    patches = [patch for place in places if (patch := make(view, place, preset.least_slot_mm)) is not None]
    after = applied(case.regions, patches)
    for patch in patches:
        assert_kept_elsewhere(case.regions, after.regions, reach(patch))
    mended = mend_piece(case.regions, preset, ("narrow-slot",))
    assert mended.left == ()
    assert mended.rounds <= 3
    assert len(mended.regions) == len(case.regions)
    if way == "widen":
        assert "narrow-slot" not in codes_left(after.regions, preset)


@pytest.mark.parametrize(("seed", "way"), [(7, "widen"), (8, "widen"), (9, "widen"), (7, "fuse"), (8, "fuse")])
def test_each_kind_of_planted_slot_is_mended(seed: int, way: str) -> None:
    _mended(seed, way)


@pytest.mark.slow
@pytest.mark.parametrize("way", ["widen", "fuse"])
@pytest.mark.parametrize("seed", SLOTS)
def test_every_planted_slot_is_mended(seed: int, way: str) -> None:
    assert len(SLOTS) == 60
    _mended(seed, way)


def test_the_knife_closes_what_all_but_touches() -> None:
    piece = slotted(0.05)
    mended = mend_piece([piece], KNIFE, ("near-miss", "narrow-slot"))
    assert mended.left == ()
    assert mended.changes[0].code == "near-miss"
