"""The leaves of an expression: their chains all in one, and the expression worked out on chords."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.expression import Copies, Difference, Expression, Intersection, Leaf, Loops, Union, leaves_of
from frameforge.geometry.segment_table import Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.vertices import Vertices

__all__ = ["Leaves"]


@dataclass(frozen=True, slots=True, eq=False)
class Leaves:
    """The chains of all leaves, one leaf after another, with welded joints.

    ``rings`` holds for every leaf (by identity) its first chain and the polygon (0, 1, ...) that each of its chains
    is a ring of; ``tangled`` are leaves whose outlines cross themselves or each other: they are filled even-odd.
    """

    expression: Expression
    chains: Chains
    rings: dict[int, tuple[int, Ints]]
    tangled: frozenset[int] = frozenset()

    @classmethod
    def from_expression(cls, expression: Expression) -> Leaves | None:
        """Return the leaves, or None where the expression has no outline at all.

        A leaf that occurs more than once (the same object) is taken once.
        """
        rings, parts, many = dict[int, tuple[int, Ints]](), list[Chains](), 0
        for leaf in leaves_of(expression):
            if id(leaf) in rings:
                continue
            chains, polygon = _chains(leaf)
            rings[id(leaf)] = (many, polygon)
            if chains is not None:
                parts.append(chains)
                many += len(polygon)
        return cls(expression, Chains.joined(parts).welded(), rings) if parts else None

    def crossing(self, vertices: Vertices) -> tuple[int, ...]:
        """Return the regions and copies whose chords cross within the region, by identity; tangled ones are left out.

        Of copies the first is looked at: all have the same shape.
        """
        found = []
        for leaf in {id(leaf): leaf for leaf in leaves_of(self.expression)}.values():
            begin, polygon = self.rings[id(leaf)]
            if isinstance(leaf, Loops) or id(leaf) in self.tangled or not len(polygon):
                continue
            rings = vertices.first[begin : begin + int(np.searchsorted(polygon, 1)) + 1]
            point = vertices.point[rings[0] : rings[-1]]
            if not boolean.is_sound(boolean.polygons(point, rings - rings[0], np.zeros(len(rings) - 1, dtype=np.intp))):
                found.append(id(leaf))
        return tuple(found)

    def segments(self, leaves: tuple[int, ...]) -> Ints:
        """Return the rows of all segments of some leaves."""
        chain = np.concatenate(
            [begin + np.arange(len(polygon)) for begin, polygon in (self.rings[leaf] for leaf in leaves)]
        )
        return np.flatnonzero(np.isin(self.chains.chain, chain))

    def with_tangled(self, leaves: tuple[int, ...]) -> Leaves:
        """Return the same leaves, further ones marked as tangled."""
        return replace(self, tangled=self.tangled | set(leaves))

    def geometry(self, vertices: Vertices) -> BaseGeometry:
        """Return the whole expression worked out by shapely on the chords."""
        return self._geometry(self.expression, vertices)

    def _geometry(self, expression: Expression, vertices: Vertices) -> BaseGeometry:
        if isinstance(expression, Union):
            parts = [self._polygons(item, vertices) for item in expression.items]
            return boolean.union(np.concatenate(parts)) if parts else Polygon()
        if isinstance(expression, Difference):
            taken = [self._polygons(item, vertices) for item in expression.bs]
            whole = self._geometry(expression.a, vertices)
            return boolean.difference(whole, boolean.union(np.concatenate(taken))) if taken else whole
        if isinstance(expression, Intersection):
            return boolean.intersection(self._geometry(expression.a, vertices), self._geometry(expression.b, vertices))
        return boolean.union(self._polygons(expression, vertices))

    def _polygons(self, expression: Expression, vertices: Vertices) -> boolean.Polygons:
        """Return polygons whose union is the expression."""
        if isinstance(expression, Union | Difference | Intersection):
            return np.array([self._geometry(expression, vertices)], dtype=object)
        begin, polygon = self.rings[id(expression)]
        if not len(polygon):
            return np.zeros(0, dtype=object)
        first = vertices.first[begin : begin + len(polygon) + 1]
        point, first = vertices.point[first[0] : first[-1]], first - first[0]
        if isinstance(expression, Loops):
            return np.array([boolean.filled(point, first, expression.rule)], dtype=object)
        polygons = boolean.polygons(point, first, polygon)
        return boolean.repaired(polygons) if id(expression) in self.tangled else polygons


def _chains(leaf: Leaf) -> tuple[Chains | None, Ints]:
    """Return the chains of a leaf and the polygon each is a ring of."""
    outlines = leaf.region.outlines if isinstance(leaf, Copies) else leaf.outlines
    copies = len(leaf.placements) if isinstance(leaf, Copies) else 1
    polygon = np.repeat(np.arange(copies), len(outlines))
    if not len(polygon):
        return None, polygon
    chains = Chains.from_segments([outline.segments for outline in outlines])
    return (chains.moved(leaf.placements) if isinstance(leaf, Copies) else chains), polygon
