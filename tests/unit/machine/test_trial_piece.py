"""The test piece holds what a cutter gets wrong, in the sizes that are marked on it."""

from __future__ import annotations

import pytest
from shapely import LineString

from frameforge.card.preset import load_preset, preset_names
from frameforge.check.whole import check_piece
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.machine.trial_piece import kerf_of, trial_piece


@pytest.mark.parametrize("name", preset_names())
def test_it_can_be_cut_under_its_own_limits(name: str) -> None:
    preset = load_preset(name)
    assert check_piece((trial_piece(preset).region,), preset) == ()


def test_it_has_square_hole_neck_slot_and_ring_in_the_sizes_wanted() -> None:
    preset = load_preset("card-240-knife")
    trial = trial_piece(preset)
    sizes = [(round(box.width_mm, 9), round(box.height_mm, 9)) for box in map(bounds, trial.region.outlines)]
    assert sizes == [(70, 70), (30, 30), (5, 5), (12, 12), (3, 8), (3, 8), (8, 1)]
    left, right = map(bounds, trial.region.holes[3:5])
    assert left.left - right.right == pytest.approx(1.5) or right.left - left.right == pytest.approx(1.5)


@pytest.mark.parametrize("name", preset_names())
def test_the_marks_lie_on_the_card(name: str) -> None:
    trial = trial_piece(load_preset(name))
    card = to_polygon(trial.region).buffer(-0.4)
    for run in trial.marks:
        points = [segment.point(t / 8) for segment in run for t in range(9)]
        assert card.contains(LineString([(z.real, z.imag) for z in points]))


def test_kerf_is_wanted_less_measured() -> None:
    """F62: common practice, no source."""
    assert kerf_of(12, 11.85) == pytest.approx(0.15)
