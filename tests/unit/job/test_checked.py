"""What a row tells of its gaps and what the checks find in them: one slit, told once, with one measure."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import arch
from fixtures.rows import KNIFE, row_of

from frameforge.frame.make import make_piece
from frameforge.frame.spec import PieceSpec, Size
from frameforge.job.checked import findings_of


@pytest.mark.parametrize("spread", [None, "equal-arc"])
def test_every_narrow_gap_of_an_oval_is_told_once_with_its_own_measure(spread: str | None) -> None:
    """A check's disc rests on the edge and is wider than the gap: the row's measure stands, in one sentence for all."""
    row = row_of(arch(), count=24, spread=spread)
    piece = make_piece(PieceSpec("hoop", Size(150, 100), rows=(row,)), KNIFE)
    slits = [one for one in findings_of(piece, KNIFE) if one.code in ("narrow-slot", "near-miss")]
    assert len(slits) == 24
    assert len({one.say for one in slits}) == 1
    widths = [one.measured for one in slits if one.measured is not None]
    assert min(widths) == piece.rows[0].gap_mm
    assert max(widths) == piece.rows[0].gap_max_mm
