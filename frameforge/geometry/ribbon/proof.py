"""Whether places and curves lie at the distance they should from the source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.segment_table import Bools, Complexes, SegmentTable
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import flatten_chains

__all__ = ["SourceLines", "are_clear"]

_SAMPLES = 9


@dataclass(frozen=True, slots=True, eq=False)
class SourceLines:
    """The source as chords in a search tree; distances from it are true to ``chord_mm``."""

    tree: shapely.STRtree
    chord_mm: float

    @classmethod
    def from_outlines(cls, outlines: Sequence[Sequence[Segment]], chord_mm: float) -> SourceLines:
        """Return the lines of closed chains of segments."""
        chains = Chains.from_segments(outlines)
        vertices = flatten_chains(chains, support_labels(chains.table), chord_mm)
        return cls(Strips.from_vertices(chains, vertices).tree, chord_mm)

    def are_clear(self, point: Complexes, least_mm: float) -> Bools:
        """Return of each point whether it is further from the source than ``least_mm``."""
        is_clear = np.ones(len(point), dtype=bool)
        if least_mm > 0 and len(point):
            places = shapely.points(point.real, point.imag)
            is_clear[self.tree.query(places, predicate="dwithin", distance=least_mm)[0]] = False
        return is_clear


def are_clear(outlines: Sequence[Outline], lines: SourceLines, least_mm: float) -> bool:
    """Return whether samples of the outlines, 9 a segment, are all further from the source than ``least_mm``.

    Every segment is a parallel of a part of the source, so none can be too far from it; but one that should have been
    left out lies too near to another part.
    """
    segments = [segment for outline in outlines for segment in outline.segments]
    if not segments:
        return True
    table = SegmentTable.from_segments(segments)
    t = np.tile((np.arange(_SAMPLES) + 0.5) / _SAMPLES, len(segments))
    point = table.point(np.repeat(np.arange(len(segments)), _SAMPLES), t)
    return bool(lines.are_clear(point, least_mm).all())
