"""By how much each repeat is turned from the one before it."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import arch, husk, leaf
from fixtures.rows import D100, KNIFE, row_of

from frameforge.frame.make import make_piece
from frameforge.frame.spec import PieceSpec, Size


def pitch(*motifs: object, size: Size = D100, **more: object) -> float | None:
    row = row_of(*motifs, **more)  # type: ignore[arg-type]
    return make_piece(PieceSpec("hoop", size, rows=(row,)), KNIFE).rows[0].pitch_deg


def test_an_even_ring_has_its_share_of_the_whole_turn() -> None:
    assert pitch(arch(), count=14) == 360 / 14
    assert pitch(arch(), count=14, skip=(1, 5)) == 360 / 14
    assert pitch(arch(), count=1) == 360.0


def test_beside_a_zone_it_is_what_the_repeats_are_turned_by() -> None:
    row = row_of(arch(), count=12, keep_free=(60.0, 0.0))
    (result,) = make_piece(PieceSpec("hoop", D100, rows=(row,)), KNIFE).rows
    directions = sorted(repeat.direction_deg for repeat in result.repeats)
    assert result.pitch_deg == pytest.approx(directions[1] - directions[0], abs=1e-9)
    assert result.pitch_deg != pytest.approx(30.0, abs=1.0)
    left = pitch(arch(), count=12, keep_free=(60.0, 0.0), free="leave")
    assert left == 30.0


def test_turns_that_differ_have_none() -> None:
    assert pitch(leaf(), size=Size(150, 100), count=12) is None
    assert pitch(husk(), arch(), arch(), count=12) is None
    assert pitch(husk(), arch(), count=12) == pytest.approx(30.0, abs=1e-9)


def test_a_filler_is_not_counted() -> None:
    found = pitch(arch(), gap_mm=3.0, rest="filler", filler=husk())
    assert found == pytest.approx(math.degrees(2 * (math.asin(0.16) + math.asin(0.03))), abs=1e-9)
