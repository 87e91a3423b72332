"""What stands where nothing exact was found."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.shapes import circle, rectangle
from frameforge.geometry.trace import joints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import trace


def test_lost_edges_stand_as_their_lines() -> None:
    source = Source.from_chains(Chains.from_segments([rectangle(0, 0, 10, 5).segments]), 0.01)
    ring = np.array([0j, 10 + 0j, 7 + 3j, 5j])
    result = trace(Rings(ring, np.array([0, 4])), source)
    (outline,) = result.outlines.values()
    assert outline.segments[1:3] == (Line(10, 7 + 3j), Line(7 + 3j, 5j))
    assert result.lost == (8.5 + 1.5j, 3.5 + 4j)


@pytest.mark.parametrize(("chord_mm", "lines"), [(0.01, 2), (1e-6, 0)])
def test_unsolved_joints_are_bridged_or_stay_the_vertex(
    chord_mm: float, lines: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    chains = Chains.from_segments([circle(0, 10).segments, circle(13.1 + 2j, 9).segments])
    source = Source.from_chains(chains, chord_mm)
    discs = boolean.polygons(source.vertices.point, source.vertices.first, np.array([0, 1]))
    shells = boolean.shells(boolean.union(discs))
    monkeypatch.setattr(joints, "_ITERATIONS", 0)
    result = trace(Rings(shells.point, shells.first), source)
    assert len(result.patched) == 2
    (outline,) = result.outlines.values()
    bridges = [segment for segment in outline.segments if isinstance(segment, Line)]
    assert len(bridges) == lines
    assert all(abs(line.end - line.start) < 0.05 for line in bridges)
    for arc in outline.segments:
        if isinstance(arc, Arc):
            # Bridged arcs end on their own circle; arcs joined in the vertex miss it by less than PATCH_MM.
            off = abs(abs(arc.start - arc.center) - abs(arc.u))
            assert off < (1e-12 if lines else 1e-5)
