"""What is to be united, subtracted and intersected, as a tree of values."""

from __future__ import annotations

from dataclasses import dataclass

from frameforge.geometry.affine import Affine
from frameforge.geometry.boolean import Rule
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

__all__ = [
    "Copies",
    "Difference",
    "Expression",
    "Intersection",
    "Leaf",
    "Loops",
    "Union",
    "difference",
    "intersection",
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
    rule: Rule = "nonzero"


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


Leaf = Region | Copies | Loops
Expression = Leaf | Union | Difference | Intersection


def union(*items: Expression) -> Union:
    """Return the expression of what any of the items covers; of no items, nothing."""
    return Union(items)


def difference(a: Expression, *bs: Expression) -> Difference:
    """Return the expression of what ``a`` covers and none of ``bs`` does."""
    return Difference(a, bs)


def intersection(a: Expression, b: Expression) -> Intersection:
    """Return the expression of what both cover."""
    return Intersection(a, b)
