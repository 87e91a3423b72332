"""Union, difference and intersection of regions, exact: true curves in, true curves out.

shapely decides the topology on chords; ``geometry.trace`` finds the curves again and solves the crossings, so the
result does not depend on the chord distance. Build an expression, then evaluate it once::

    piece = difference(union(base, Copies(leaf, placements)), Copies(drop, placements))
    combined = evaluate(piece)
    combined.regions     # tuple of Region
    combined.report      # what had to be repeated, and every place that could not be made exact
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

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
from frameforge.geometry.sectors import Sectors, sectors_of
from frameforge.geometry.segment_table import Floats, Ints
from frameforge.geometry.trace.check import Checked, checked
from frameforge.geometry.trace.joints import Rules
from frameforge.geometry.trace.nearby import NEAR
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.settle import settling_vertices
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced, trace
from frameforge.geometry.turned import turned
from frameforge.tolerances import CHORD_MM, CRUMB_EDGE_MM, MOST_CHORDS, REFINE_BY, REFINEMENTS

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

_RULES = Rules(crumb_mm=CRUMB_EDGE_MM)
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

    @property
    def inexact(self) -> tuple[complex, ...]:
        """The places where an edge lies on no curve, or a joint not on both of its curves."""
        return (*self.lost, *self.patched)


@dataclass(frozen=True, slots=True)
class Combined:
    """The regions of a result, sorted by their smallest joint, and the report."""

    regions: tuple[Region, ...]
    report: Report


def evaluate(expression: Expression, *, chord_mm: float = CHORD_MM) -> Combined:
    """Return the regions that the expression covers, as true curves in canonical form.

    ``chord_mm`` is the greatest distance of the chords on which shapely decides the topology; the result does not
    depend on it. Where something does not come out exact, the outlines concerned are tried again with chords an
    eighth as far off, four times at most, and the best attempt is taken; what is left then stands in the report.
    Nothing covered gives no region. Where all comes round again and again about 0, a few sectors are worked out.
    """
    sectors = sectors_of(expression)
    return (_by_sectors(sectors, chord_mm) if sectors else None) or _whole(expression, chord_mm)


def _by_sectors(sectors: Sectors, chord_mm: float) -> Combined | None:
    """Return the whole of what its sectors come to; None where they do not come to the same all round."""
    found = _attempted(sectors.part, chord_mm)
    if found is None:
        return None
    (best, report), result = found, found[0].traced.result
    rings = None if result is None or best.trouble else turned(result, report.touches, sectors)
    if rings is None:
        return None
    return Combined(regions_of(rings.outlines, rings.polygon), replace(report, touches=rings.touches))


def _whole(expression: Expression, chord_mm: float) -> Combined:
    """Return the regions of an expression taken as it stands."""
    found = _attempted(expression, chord_mm)
    if found is None:
        return Combined((), Report(chord_mm))
    best, report = found
    return Combined(regions_of(best.traced.outlines, best.polygon), report)


def _attempted(expression: Expression, chord_mm: float) -> tuple[_Attempt, Report] | None:
    """Return the best attempt at an expression and what is to be told of it; None where it has no outline at all."""
    leaves = Leaves.from_expression(expression)
    if leaves is None:
        return None
    finer = np.ones(len(leaves.chains.table))
    leaves, source = _sound(leaves, chord_mm, finer)
    attempt = best = _attempt(leaves, source)
    repeats = 0
    while attempt.trouble and repeats < REFINEMENTS:
        near = _outlines_near(attempt.trouble, source)
        if _is_too_much(source, near):
            break
        repeats += 1
        finer[near] *= REFINE_BY
        source = Source.from_chains(leaves.chains, chord_mm, finer=finer)
        attempt = _attempt(leaves, source)
        best = attempt if len(attempt.trouble) <= len(best.trouble) else best
    traced, check, finest = best.traced, best.check, chord_mm / float(finer.max())
    return best, Report(finest, repeats, traced.lost, traced.patched, check.touches, check.crossed)


@dataclass(frozen=True, slots=True, eq=False)
class _Attempt:
    """The rings of a result traced back, the polygon of each ring, and a last look at it all."""

    polygon: Ints
    traced: Traced
    check: Checked

    @property
    def trouble(self) -> tuple[complex, ...]:
        """The places where the result is not exact."""
        return (*self.traced.lost, *self.traced.patched, *self.check.crossed)


def _sound(leaves: Leaves, chord_mm: float, finer: Floats) -> tuple[Leaves, Source]:
    """Return the leaves as chords that do not cross within an outline, ``finer`` raised in place where need be.

    Where two curves run into a cusp, coarse chords may cross though the curves do not. Leaves that cross however fine
    their chords are, are marked as tangled.
    """
    for _ in range(REFINEMENTS + 1):
        source = Source.from_chains(leaves.chains, chord_mm, finer=finer)
        crossing = leaves.crossing(source.vertices)
        if not crossing:
            return leaves, source
        segments = leaves.segments(crossing)
        if _is_too_much(source, segments):
            break
        finer[segments] *= REFINE_BY
    finer[leaves.segments(crossing)] = 1.0
    return leaves.with_tangled(crossing), Source.from_chains(leaves.chains, chord_mm, finer=finer)


def _attempt(leaves: Leaves, source: Source) -> _Attempt:
    """Return the result on one set of chords, after settling the places where three curves nearly meet."""
    for _ in range(_SETTLINGS):
        shells = boolean.shells(leaves.geometry(source.vertices))
        traced = trace(Rings(shells.point, shells.first), source, _RULES)
        added = settling_vertices(traced, source)
        if not len(added.t):
            break
        source = source.with_vertices(added)
    check = Checked() if traced.result is None else checked(traced.result, traced.touches, source.chord_mm)
    return _Attempt(shells.polygon, traced, check)


def _is_too_much(source: Source, segments: Ints) -> bool:
    """Return whether some segments drawn finer come to more chords than can be worked with."""
    count = len(source.vertices.point)
    again = int(np.isin(source.vertices.segment, segments).sum())
    return count + again * (math.sqrt(REFINE_BY) - 1) > MOST_CHORDS


def _outlines_near(places: tuple[complex, ...], source: Source) -> Ints:
    """Return all segments of the chains that pass near any of the places; of all chains if none does."""
    strip = source.strips.near_points(np.array(places), NEAR * source.chord_mm)[1]
    chains = source.chains
    is_near = np.isin(chains.chain, chains.chain[source.strips.segment[strip]])
    return np.flatnonzero(is_near if is_near.any() else ~is_near)
