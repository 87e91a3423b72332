"""Union, difference and intersection of regions, exact: true curves in, true curves out.

shapely decides the topology on chords; ``geometry.trace`` finds the curves again and solves the crossings, so the
result does not depend on the chord distance. Build an expression, then evaluate it once::

    piece = difference(union(base, Copies(leaf, placements)), Copies(drop, placements))
    combined = evaluate(piece)
    combined.regions     # tuple of Region
    combined.report      # what had to be repeated, and every place that could not be made exact
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from frameforge.geometry import boolean
from frameforge.geometry.canonical import regions_of
from frameforge.geometry.expression import (
    Copies,
    Difference,
    Expression,
    Intersection,
    Loops,
    Union,
    difference,
    intersection,
    union,
)
from frameforge.geometry.leaves import Leaves
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Ints
from frameforge.geometry.trace.check import crossings
from frameforge.geometry.trace.nearby import NEAR
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.settle import settling_vertices
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced, trace
from frameforge.tolerances import CHORD_MM, REFINE_BY, REFINEMENTS

__all__ = [
    "Combined",
    "Copies",
    "Difference",
    "Expression",
    "Intersection",
    "Loops",
    "Report",
    "Union",
    "difference",
    "evaluate",
    "intersection",
    "regions_of",
    "union",
]

_SETTLINGS = 4  # rounds of settling places where three curves nearly meet; one more is the rule where there are any


@dataclass(frozen=True, slots=True)
class Report:
    """How a result came about; all places in mm.

    ``chord_mm``: the finest chord distance that was used; ``repeats``: how often chords had to be made finer.
    Normally none, else named: ``lost``, edges that lie on no curve and stand as lines; ``patched``, joints of curves
    that do not cross; ``crossed``, places where outlines cross that should not. ``touches``: places where outlines
    meet in a point without crossing, so that the parts hang together by nothing.
    """

    chord_mm: float
    repeats: int = 0
    lost: tuple[complex, ...] = ()
    patched: tuple[complex, ...] = ()
    touches: tuple[complex, ...] = ()
    crossed: tuple[complex, ...] = ()

    @property
    def is_exact(self) -> bool:
        """Whether every edge lies on its curve and every joint on both of its curves."""
        return not (self.lost or self.patched or self.crossed)


@dataclass(frozen=True, slots=True)
class Combined:
    """The regions of a result, sorted by their smallest joint, and the report."""

    regions: tuple[Region, ...]
    report: Report


def evaluate(expression: Expression, *, chord_mm: float = CHORD_MM) -> Combined:
    """Return the regions that the expression covers, as true curves in canonical form.

    ``chord_mm`` is the greatest distance of the chords on which shapely decides the topology; the result does not
    depend on it. Where something does not come out exact, the outlines concerned are tried again with chords an
    eighth as far off, four times at most; what is left then stands in the report. Nothing covered gives no region.
    """
    leaves = Leaves.from_expression(expression)
    if leaves.chains is None:
        return Combined((), Report(chord_mm))
    finer = np.ones(len(leaves.chains.table))
    for repeats in range(REFINEMENTS + 1):
        attempt = _attempt(leaves, Source.from_chains(leaves.chains, chord_mm, finer=finer))
        if not attempt.trouble or repeats == REFINEMENTS:
            break
        finer[_outlines_near(attempt.trouble, attempt.source)] *= REFINE_BY
    traced = attempt.traced
    report = Report(
        chord_mm / float(finer.max()), repeats, traced.lost, traced.patched, traced.touches, attempt.crossed
    )
    return Combined(regions_of(traced.outlines, attempt.polygon), report)


@dataclass(frozen=True, slots=True, eq=False)
class _Attempt:
    """The rings of a result traced back, the polygon of each ring, and places where outlines cross."""

    source: Source
    polygon: Ints
    traced: Traced
    crossed: tuple[complex, ...]

    @property
    def trouble(self) -> tuple[complex, ...]:
        """The places where the result is not exact."""
        return (*self.traced.lost, *self.traced.patched, *self.crossed)


def _attempt(leaves: Leaves, source: Source) -> _Attempt:
    """Return the result on one set of chords, after settling the places where three curves nearly meet."""
    for _ in range(_SETTLINGS):
        shells = boolean.shells(leaves.geometry(source.vertices))
        traced = trace(Rings(shells.point, shells.first), source)
        added = settling_vertices(traced, source)
        if not len(added.t):
            break
        source = source.with_vertices(added)
    crossed = () if traced.result is None else crossings(traced.result, source.chord_mm)
    return _Attempt(source, shells.polygon, traced, crossed)


def _outlines_near(places: tuple[complex, ...], source: Source) -> Ints:
    """Return all segments of the chains that pass near any of the places; of all chains if none does."""
    strip = source.strips.near_points(np.array(places), NEAR * source.chord_mm)[1]
    chains = source.chains
    is_near = np.isin(chains.chain, chains.chain[source.strips.segment[strip]])
    return np.flatnonzero(is_near if is_near.any() else ~is_near)
