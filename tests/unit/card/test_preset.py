"""Presets: the two that travel along, changed limits, and what is refused."""

from __future__ import annotations

import itertools
from importlib import resources

import pytest

from frameforge.card.preset import FIELD_OF, load_preset, preset_names
from frameforge.errors import InputError


def test_the_knife_preset_holds_the_limits_of_common_practice() -> None:
    """Values: common practice, no source."""
    knife = load_preset("card-240-knife")
    assert (knife.least_web_mm, knife.least_neck_mm, knife.least_finger_mm) == (1.5, 1.5, 1.5)
    assert (knife.least_slot_mm, knife.least_hole_mm, knife.crumb_mm2, knife.tip_deg) == (1.0, 2.0, 4.0, 20.0)
    assert (knife.thickness_mm, knife.near_miss_mm, knife.kerf_mm, knife.overcut_mm) == (0.3, 0.1, 0.0, 0.5)
    assert (knife.speed_mm_s, knife.passes, knife.lift_s) == (20.0, 1, 0.5)


def test_the_laser_preset_differs_in_widths_and_kerf_only() -> None:
    """Values: common practice, no source."""
    laser, knife = load_preset("card-240-laser"), load_preset("card-240-knife")
    assert (laser.least_web_mm, laser.least_neck_mm, laser.least_finger_mm) == (1.0, 1.0, 1.0)
    assert (laser.least_slot_mm, laser.least_hole_mm, laser.kerf_mm) == (0.5, 0.5, 0.15)
    same = ("thickness_mm", "crumb_mm2", "tip_deg", "near_miss_mm", "overcut_mm", "speed_mm_s", "passes", "lift_s")
    assert all(getattr(laser, name) == getattr(knife, name) for name in same)


CARDS = ("thin-paper", "card-160", "card-200", "card-240", "card-300")


def test_there_is_a_preset_for_each_card_on_knife_and_laser() -> None:
    assert preset_names() == tuple(f"{card}-{machine}" for machine in ("knife", "laser") for card in CARDS)
    assert [load_preset(name).name for name in preset_names()] == list(preset_names())
    assert {load_preset(name).origin for name in preset_names()} == {""}


def test_every_value_is_marked_as_common_practice() -> None:
    lines = resources.files("frameforge.card").joinpath("presets.toml").read_text(encoding="utf-8").splitlines()
    values = [line for line in lines if "=" in line and not line.startswith("#")]
    assert len(values) == len(FIELD_OF) * len(preset_names())
    assert all("# common practice, no source" in line for line in values)


@pytest.mark.parametrize("machine", ["knife", "laser"])
def test_heavier_card_asks_for_as_much_or_more(machine: str) -> None:
    cards = [load_preset(f"{card}-{machine}") for card in CARDS[1:]]
    for lighter, heavier in itertools.pairwise(cards):
        assert heavier.thickness_mm > lighter.thickness_mm
        assert heavier.speed_mm_s <= lighter.speed_mm_s
        for field in ("least_web_mm", "least_neck_mm", "least_finger_mm", "least_slot_mm", "least_hole_mm", "kerf_mm"):
            assert getattr(heavier, field) >= getattr(lighter, field)


def test_an_unknown_name_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match="The nearest is card-240-knife"):
        load_preset("card240knife")


def test_limits_can_be_replaced_one_by_one() -> None:
    mine = load_preset("card-240-knife").with_values({"kerf_mm": 0.2, "passes": 2})
    assert (mine.kerf_mm, mine.passes, mine.least_web_mm) == (0.2, 2, 1.5)


@pytest.mark.parametrize(
    ("values", "word"),
    [({"kerf": 1.0}, "kerf_mm"), ({"kerf_mm": -0.1}, "0 or more"), ({"kerf_mm": float("nan")}, "0 or more"),
     ({"speed_mm_s": 0.0}, "cuts nothing"), ({"passes": 0}, "cuts nothing")],
)  # fmt: skip
def test_impossible_limits_are_refused(values: dict[str, float], word: str) -> None:
    with pytest.raises(InputError, match=word):
        load_preset("card-240-knife").with_values(values)
