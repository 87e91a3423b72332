"""Corner motifs replace the edge: their tip stands on it, no scrap comes loose, teeth between them hold."""

from __future__ import annotations

import pytest

from frameforge.card.preset import load_preset
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.measure import bounds
from frameforge.motif.catalogue import load_motif

CORNERS = ("cobweb-corner", "picket-corner", "sprout-corner", "strawberry-corner", "trowel-corner")
KNIFE = load_preset("card-240-knife")


@pytest.mark.parametrize("name", CORNERS)
@pytest.mark.parametrize(("size", "count"), [(Size(150, 150), 12), (Size(150, 110), 8), (Size(90, 90), 4)])
def test_one_part_that_keeps_the_size_of_the_base(name: str, size: Size, count: int) -> None:
    row = RowSpec((Ornament(load_motif(name)),), count=count)
    piece = make_piece(PieceSpec("corner", size, rows=(row,)), KNIFE)
    box = bounds(piece.region)
    # A tip at the top, right, bottom and left stands on the base; a blunt one up to .2 mm inside or proud of it.
    assert box.width_mm == pytest.approx(size.width_mm, abs=0.4)
    assert box.height_mm == pytest.approx(size.height_mm, abs=0.4)
    assert piece.rows[0].count == count


@pytest.mark.parametrize("name", CORNERS)
def test_as_many_as_fit_leave_teeth_of_the_least_gap(name: str) -> None:
    row = RowSpec((Ornament(load_motif(name)),), count="most", gap_mm=2.0)
    (made,) = make_piece(PieceSpec("corner", Size(150, 150), rows=(row,)), KNIFE).rows
    assert made.gap_mm is not None
    assert made.gap_mm >= max(2.0, KNIFE.least_neck_mm) - 1e-9
