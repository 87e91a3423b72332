"""Time of cutting. F68 by hand: common practice, no source."""

from __future__ import annotations

import pytest

from frameforge.card.preset import load_preset
from frameforge.machine.estimate import cut_seconds


@pytest.mark.parametrize(("passes", "seconds"), [(1, 170.0), (2, 320.0)])
def test_length_over_speed_and_a_moment_for_every_lift(passes: int, seconds: float) -> None:
    preset = load_preset("card-240-knife").with_values({"speed_mm_s": 20.0, "lift_s": 0.5, "passes": passes})
    assert cut_seconds(3000.0, 40, preset) == seconds
