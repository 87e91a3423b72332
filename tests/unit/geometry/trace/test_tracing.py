"""Rings traced back on open chains and under rules of their own."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.shapes import rectangle
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.joints import Rules
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced, trace


def traced(geometry: BaseGeometry, source: Source, rules: Rules | None = None) -> Traced:
    shells = boolean.shells(geometry)
    return trace(Rings(shells.point, shells.first), source, rules or Rules())


ARC = Arc.from_bulge(4, 0, 0.3)
OPEN: tuple[tuple[Segment, ...], ...] = ((Line(0, 4),), (ARC,))


def open_source(chains: tuple[tuple[Segment, ...], ...]) -> Source:
    return Source.from_chains(Chains.from_segments(chains, [True] * len(chains)), 0.01)


def polygon_of(source: Source) -> shapely.Polygon:
    """The polygon through all vertices of all chains in their order."""
    return shapely.Polygon(source.vertices.point.view(float).reshape(-1, 2))


def test_open_chains_that_meet_end_to_end_make_an_outline() -> None:
    source = open_source(OPEN)
    result = traced(polygon_of(source), source)
    assert (result.lost, result.patched) == ((), ())
    (outline,) = result.outlines.values()
    assert outline == Outline((Line(0, 4), outline.segments[1]))
    assert outline.segments[1].point(0.5) == pytest.approx(ARC.point(0.5))


def test_open_chains_that_cross_are_cut_at_the_crossing() -> None:
    chains: tuple[tuple[Segment, ...], ...] = (
        (Line(-1, 5), Line(5, 5 + 1j)),
        (Line(4 - 1j, 4 + 5j),),
        (Line(4 + 4j, -1 - 1j),),
    )
    source = open_source(chains)
    result = traced(shapely.Polygon([(0, 0), (4, 0), (4, 4)]), source)
    (outline,) = result.outlines.values()
    assert [segment.start for segment in outline.segments] == pytest.approx([0, 4, 4 + 4j])
    assert (result.lost, result.patched) == ((), ())


def test_free_ends_nearly_together_are_snapped_by_rule() -> None:
    chains: tuple[tuple[Segment, ...], ...] = ((Line(0, 4),), (Line(4 + 1e-5j, 2 + 3j), Line(2 + 3j, 0)))
    source = open_source(chains)
    plain = traced(polygon_of(source), source)
    assert len(plain.lost) + len(plain.patched) > 0
    ruled = traced(polygon_of(source), source, Rules(free_end_mm=2e-5, crumb_mm=2e-5))
    assert (ruled.lost, ruled.patched) == ((), ())
    (outline,) = ruled.outlines.values()
    assert len(outline.segments) == 3
    assert 4 + 5e-6j in [pytest.approx(segment.start, abs=1e-12) for segment in outline.segments]


def test_rings_without_any_chord_are_pockets_dropped_by_rule() -> None:
    source = Source.from_chains(Chains.from_segments([rectangle(0, 0, 10, 5).segments]), 0.01)
    pocketed = shapely.Polygon([(0, 0), (10, 0), (10, 5), (0, 5)], [[(1, 1), (2, 1), (2, 2)]])
    assert len(traced(pocketed, source).lost) == 3
    ruled = traced(pocketed, source, Rules(drops_pockets=True))
    assert ruled.lost == ()
    assert list(ruled.outlines) == [0]


def test_dust_is_dropped_by_rule() -> None:
    source = Source.from_chains(Chains.from_segments([rectangle(0, 0, 1e-5, 1e-5).segments]), 0.01)
    speck = shapely.box(0, 0, 1e-5, 1e-5)
    assert len(traced(speck, source).outlines) == 1
    assert traced(speck, source, Rules(dust_mm=1e-4)).outlines == {}


def test_spurs_without_width_are_cut_back() -> None:
    # Up the right side to its end, back down to a crossing with a second chain, and along that.
    across = (Line(0, 10 + 4j), Line(10 + 4j, 12 - 1j), Line(12 - 1j, 0))
    source = Source.from_chains(Chains.from_segments([rectangle(0, 0, 10, 5).segments, across]), 0.01, guards=False)
    ring = np.array([0j, 10 + 0j, 10 + 5j, 10 + 4j])
    result = trace(Rings(ring, np.array([0, 4])), source)
    (outline,) = result.outlines.values()
    assert [segment.end for segment in outline.segments] == [10, 10 + 4j, 0]


def test_no_rings_give_nothing() -> None:
    source = Source.from_chains(Chains.from_segments([rectangle(0, 0, 1, 1).segments]), 0.01)
    result = trace(Rings(np.zeros(0, dtype=complex), np.array([0])), source)
    assert result.outlines == {}
    assert result.result is None
