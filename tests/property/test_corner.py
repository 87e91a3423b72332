"""Corner motifs of any count, depth and edge between, round circles and ovals: one part, no scrap, teeth that hold."""

from __future__ import annotations

import math

import pytest
from fixtures.rows import KNIFE
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.errors import GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.motif.catalogue import load_motif

CORNERS = ("cobweb-corner", "picket-corner", "sprout-corner", "strawberry-corner", "trowel-corner")


@st.composite
def corner_pieces(draw: st.DrawFn) -> PieceSpec:
    """Return a piece of 60 to 200 mm with 5 to 40 corner motifs, near as many as may fit, out or into an opening."""
    motif = load_motif(draw(st.sampled_from(CORNERS)))
    width = draw(st.floats(60, 200))
    size = Size(width, width * draw(st.sampled_from((1.0, 1.0, 0.85, 0.7))))
    depth = draw(st.sampled_from((None, 0.7, 2.0)))
    scale = draw(st.sampled_from((0.5, 0.75, 1.0)))
    reach = min(size.width_mm, size.height_mm) / 2 - 12 * scale - (depth or 0)
    most = max(5, min(40, int(math.pi / math.asin(min(1.0, (motif.foot_mm * scale / 2 + 1) / reach)))))
    row = RowSpec(
        (Ornament(motif),),
        count=draw(st.integers(5, most)),
        scale=scale,
        depth_mm=depth,
        between=draw(st.sampled_from(("keep", "flat", "level"))),
        start_deg=draw(st.sampled_from((0.0, 11.0))),
    )
    return PieceSpec("corner", size, rows=(row,))


@given(spec=corner_pieces())
@settings(max_examples=12, deadline=None, derandomize=True)
def test_one_part_without_scraps_and_teeth_that_hold(spec: PieceSpec) -> None:
    """What is made has as many holes as the motifs have windows; what is refused is refused for its teeth or room."""
    (row,) = spec.rows
    assert isinstance(spec.size, Size)
    assert isinstance(row.count, int)
    try:
        piece = make_piece(spec, KNIFE)
    except GeometryError as refused:
        if refused.code not in ("thin-tooth", "too-many"):
            raise
        return
    assert len(piece.region.holes) == row.count * len(row.pattern[0].motif.window)
    model = RowModel(spec, row, KNIFE)
    layout = model.layout(spec.size, row.count, piece.rows[0].scale)
    assert min(model.tooth_widths_mm(spec.size, layout)) >= KNIFE.least_neck_mm - 1e-9
    assert piece.rows[0].gap_mm == pytest.approx(layout.gap_mm)
    assert piece.rough == ()
