"""Refusals of fits with no way out at hand: what is said in general."""

from __future__ import annotations

import math

from fixtures.plain_motifs import leaf
from fixtures.rows import D100, model_of

from frameforge.frame.fit_refusals import no_scale, no_size
from frameforge.frame.spec import Size


def test_where_no_size_holds_fewer_or_a_smaller_gap_do() -> None:
    fault = no_size(model_of(leaf()), Size(3000, 3000), 12, 900.0)
    assert fault.say == (
        "no size up to the 3000 mm that can be made lets 12 leaves close with a gap of 900 mm. "
        "Take fewer, or a smaller gap."
    )
    assert fault.numbers == {"count": 12, "wanted_mm": 900.0}
    assert "up to" not in no_size(model_of(leaf()), None, 12, 900.0).say


def test_where_no_scale_holds_the_gap_that_the_feet_leave_is_offered() -> None:
    """So small that feet are as narrow as the card bears, twelve leaves leave less than the chord of 30 degrees."""
    fault = no_scale(model_of(leaf()), D100, 12, 30.0)
    said = "no scale lets 12 leaves go round a 100 mm circle with 30 mm between them. Take --gap "
    assert fault.say.startswith(said)
    gap = float(fault.say.removeprefix(said).removesuffix("mm or less."))
    assert 100 * math.sin(math.radians(15)) - 6 < gap < 100 * math.sin(math.radians(15))
    assert fault.code == "no-scale"
    assert no_scale(model_of(leaf()), D100, 400, 30.0).say.endswith(" Take fewer, or a smaller gap.")
