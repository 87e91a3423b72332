"""What is to be united, subtracted and intersected, as a tree of values."""

from __future__ import annotations

from collections.abc import Mapping
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
    "leaves_of",
    "union",
    "with_copies",
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


def leaves_of(expression: Expression) -> list[Leaf]:
    """Return the leaves from left to right."""
    if isinstance(expression, Union):
        items: tuple[Expression, ...] = expression.items
    elif isinstance(expression, Difference):
        items = (expression.a, *expression.bs)
    elif isinstance(expression, Intersection):
        items = (expression.a, expression.b)
    else:
        return [expression]
    return [leaf for item in items for leaf in leaves_of(item)]


def with_copies(expression: Expression, others: Mapping[int, Copies]) -> Expression:
    """Return the expression with copies replaced by others, which are told by the identity of what they replace."""
    if isinstance(expression, Union):
        return Union(tuple(with_copies(item, others) for item in expression.items))
    if isinstance(expression, Difference):
        taken = tuple(with_copies(item, others) for item in expression.bs)
        return Difference(with_copies(expression.a, others), taken)
    if isinstance(expression, Intersection):
        return Intersection(with_copies(expression.a, others), with_copies(expression.b, others))
    return others.get(id(expression), expression) if isinstance(expression, Copies) else expression
