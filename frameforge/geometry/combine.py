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
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.nearby import near_crossings
from frameforge.geometry.trace.runs import Rings
from frameforge.geometry.trace.source import Source
from frameforge.geometry.trace.tracing import Traced, trace
from frameforge.geometry.trace.vertices import Vertices
from frameforge.tolerances import CHORD_MM, REFINE_BY, REFINEMENTS

_SETTLINGS = 4  # rounds of settling crossings near a third curve; two are the rule where there are any

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


@dataclass(frozen=True, slots=True)
class Copies:
    """All images of one region under many maps; they may overlap."""

    region: Region
    placements: tuple[Affine, ...]


@dataclass(frozen=True, slots=True)
class Loops:
    """The area inside raw outlines, which may cross themselves and each other, by the fill rule."""

    outlines: tuple[Outline, ...]
    rule: boolean.Rule = "nonzero"


@dataclass(frozen=True, slots=True)
class Union:
    """What any of the items covers."""

    items: tuple[Expression, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """What ``a`` covers and none of ``bs`` does."""

    a: Expression
    bs: tuple[Expression, ...]


@dataclass(frozen=True, slots=True)
class Intersection:
    """What both cover."""

    a: Expression
    b: Expression


Expression = Region | Copies | Loops | Union | Difference | Intersection


def union(*items: Expression) -> Union:
    """Return the expression of what any of the items covers; of no items, nothing."""
    return Union(items)


def difference(a: Expression, *bs: Expression) -> Difference:
    """Return the expression of what ``a`` covers and none of ``bs`` does."""
    return Difference(a, bs)


def intersection(a: Expression, b: Expression) -> Intersection:
    """Return the expression of what both cover."""
    return Intersection(a, b)


@dataclass(frozen=True, slots=True)
class Report:
    """How the result came about.

    ``chord_mm``: the chord distance that served in the end; ``repeats``: how often it had to be made finer; ``lost``
    and ``patched``: places (mm) that could not be made exact even so, normally none; ``touches``: places where
    outlines meet in a point without crossing.
    """

    chord_mm: float
    repeats: int = 0
    lost: tuple[complex, ...] = ()
    patched: tuple[complex, ...] = ()
    touches: tuple[complex, ...] = ()


@dataclass(frozen=True, slots=True)
class Combined:
    """The regions of a result, sorted by their smallest joint, and the report."""

    regions: tuple[Region, ...]
    report: Report


def evaluate(expression: Expression, *, chord_mm: float = CHORD_MM) -> Combined:
    """Return the regions that the expression covers, as true curves in canonical form.

    ``chord_mm`` is the greatest distance of the chords on which shapely decides the topology; the result does not
    depend on it. Nothing covered gives no region.
    """
    leaves = _Leaves.from_expression(expression)
    if leaves.chains is None:
        return Combined((), Report(chord_mm))
    chains = leaves.chains.welded()
    for repeats in range(REFINEMENTS + 1):
        polygon, traced = _traced(expression, leaves, Source.from_chains(chains, chord_mm))
        if not (traced.lost or traced.patched) or repeats == REFINEMENTS:
            break
        chord_mm /= REFINE_BY
    report = Report(chord_mm, repeats, traced.lost, traced.patched, traced.touches)
    return Combined(regions_of(traced.outlines, polygon), report)


def _traced(expression: Expression, leaves: _Leaves, source: Source) -> tuple[Ints, Traced]:
    """Return the polygon of every ring of the result, and the rings traced back.

    Crossings with a third curve close by are settled by giving them vertices and asking shapely again.
    """
    for _ in range(_SETTLINGS):
        shells = boolean.shells(leaves.geometry(expression, source.vertices))
        traced = trace(Rings(shells.point, shells.first), source)
        added = near_crossings(source.chains, source.strips, *traced.crossings, source.chord_mm)
        if not len(added.t):
            break
        source = source.with_vertices(added)
    return shells.polygon, traced


class _Leaves:
    """The leaves of an expression as chains, and their polygons once the chains are flattened."""

    def __init__(self) -> None:
        self.parts: list[Chains] = []
        self.many = 0
        self.chains: Chains | None = None
        self.polygons_of: dict[int, tuple[Ints, Ints]] = {}

    @classmethod
    def from_expression(cls, expression: Expression) -> _Leaves:
        leaves = cls()
        leaves._add(expression)
        if leaves.parts:
            leaves.chains = Chains.joined(leaves.parts)
        return leaves

    def _add(self, expression: Expression) -> None:
        if id(expression) in self.polygons_of:
            return
        if isinstance(expression, Union):
            for item in expression.items:
                self._add(item)
        elif isinstance(expression, Difference):
            for item in (expression.a, *expression.bs):
                self._add(item)
        elif isinstance(expression, Intersection):
            self._add(expression.a)
            self._add(expression.b)
        else:
            self._add_leaf(expression)

    def _add_leaf(self, leaf: Region | Copies | Loops) -> None:
        outlines = leaf.outlines if not isinstance(leaf, Copies) else leaf.region.outlines
        chains = Chains.from_segments([outline.segments for outline in outlines])
        polygon = np.zeros(len(outlines), dtype=np.intp)
        if isinstance(leaf, Copies):
            if not leaf.placements:
                self.polygons_of[id(leaf)] = (polygon[:0], polygon[:0])
                return
            chains = chains.moved(leaf.placements)
            polygon = np.repeat(np.arange(len(leaf.placements)), len(outlines))
        numbers = np.arange(len(chains.is_open)) + self.many
        self.polygons_of[id(leaf)] = (numbers, polygon)
        self.parts.append(chains)
        self.many += len(chains.is_open)

    def geometry(self, expression: Expression, vertices: Vertices) -> BaseGeometry:
        """Return the expression worked out by shapely on the chords."""
        if isinstance(expression, Union):
            parts = [self._polygons(item, vertices) for item in expression.items]
            return boolean.union(np.concatenate(parts)) if parts else Polygon()
        if isinstance(expression, Difference):
            taken = [self._polygons(item, vertices) for item in expression.bs]
            whole = self.geometry(expression.a, vertices)
            return boolean.difference(whole, boolean.union(np.concatenate(taken))) if taken else whole
        if isinstance(expression, Intersection):
            return boolean.intersection(self.geometry(expression.a, vertices), self.geometry(expression.b, vertices))
        return boolean.union(self._polygons(expression, vertices))

    def _polygons(self, expression: Expression, vertices: Vertices) -> boolean.Polygons:
        """Return the polygons whose union is the expression."""
        if isinstance(expression, Union | Difference | Intersection):
            return np.array([self.geometry(expression, vertices)], dtype=object)
        numbers, polygon = self.polygons_of[id(expression)]
        if not len(numbers):
            return np.zeros(0, dtype=object)
        low, high = vertices.first[numbers[0]], vertices.first[numbers[-1] + 1]
        first = vertices.first[numbers[0] : numbers[-1] + 2] - low
        if isinstance(expression, Loops):
            return np.array([boolean.filled(vertices.point[low:high], first, expression.rule)], dtype=object)
        return boolean.polygons(vertices.point[low:high], first, polygon)


def regions_of(outlines: dict[int, Outline], polygon: Ints) -> tuple[Region, ...]:
    """Return one region a polygon whose outer ring is there, all in order of their smallest joint."""
    holes: dict[int, list[Outline]] = {}
    outer: dict[int, Outline] = {}
    seen: set[int] = set()
    for ring, owner in enumerate(polygon.tolist()):
        outline = outlines.get(ring)
        if owner not in seen:
            seen.add(owner)
            if outline is not None:
                outer[owner] = outline
        elif outline is not None:
            holes.setdefault(owner, []).append(outline)
    regions = (Region(outline, tuple(sorted(holes.get(owner, []), key=_place))) for owner, outline in outer.items())
    return tuple(sorted(regions, key=lambda region: _place(region.outer)))


def _place(outline: Outline) -> tuple[float, float]:
    """Return where the outline starts, rounded so that rounding errors do not change an order."""
    start = outline.segments[0].start
    return round(start.real, 8), round(start.imag, 8)
