"""Cut-aways that leave too little card: what would do is thought of only when it is said, with few motifs made anew."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from fixtures.rows import KNIFE, row_of

from frameforge.frame import teeth
from frameforge.frame.assembly import assemble
from frameforge.frame.base import Edge
from frameforge.frame.layout import Layout
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif


def notched(deep_mm: float) -> Motif:
    """Return a bar whose foot stands in a notch of the card."""
    bar = Region(rectangle(-1.5, -1, 1.5, 8))
    return Motif("notch", (bar,), 3.0, cut_away=(Region(rectangle(-4, -deep_mm, 4, 1)),))


def test_ways_out_of_a_rim_cut_through_are_thought_of_when_they_are_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[Edge] = []
    measure = teeth.floor_mm

    def floor_mm(layout: Layout, other: Edge) -> float:
        looked.append(other)
        return measure(layout, other)

    monkeypatch.setattr(teeth, "floor_mm", floor_mm)
    spec = PieceSpec("hoop", Size(90, 70), rim_mm=9.0, rows=(row_of(notched(8.5), count=6),))
    with pytest.raises(RefusedError) as caught:
        assemble(spec, KNIFE)
    assert len(looked) == 1
    said = str(caught.value)
    assert "leave 0." in said
    assert len(looked) < 25
    scale = float(re.search(r"--scale (\d\.\d+)", said)[1])  # type: ignore[index]

    def scaled(by: float) -> PieceSpec:
        return replace(spec, rows=(replace(spec.rows[0], scale=by),))

    assemble(scaled(scale), KNIFE)
    with pytest.raises(RefusedError):
        assemble(scaled(round(scale + 0.01, 2)), KNIFE)
