"""Segments rounded to whole steps, and the outline cleaned of what rounding made of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

__all__ = ["Point", "Step", "cleaned_outline", "cleaned_run"]

Point = tuple[int, int]
"""x and y in whole steps."""


class Step(NamedTuple):
    """One rounded segment from ``start`` to ``end``.

    L: a line, ``rest`` empty. C: a cubic, ``rest`` both handles. A: an arc of at most 90 degrees, ``rest`` its two
    radii, turn and sweep flag (1 clockwise on screen). B: the same as a bulge, ``rest`` the bulge.
    """

    letter: Literal["L", "C", "A", "B"]
    start: Point
    end: Point
    rest: tuple[int, ...] = ()

    @property
    def is_nothing(self) -> bool:
        """Whether rounding left no length: both ends equal, and of a cubic the handles too, to one step.

        A cubic stays within its control points, so what is dropped is shorter than the step that was rounded to.
        """
        if self.start != self.end:
            return False
        x, y = self.start
        return self.letter != "C" or all(
            abs(value - at) <= 1 for value, at in zip(self.rest, (x, y, x, y), strict=True)
        )

    def is_way_back(self, before: Step) -> bool:
        """Whether this step runs exactly back over ``before``, which ends where this one starts."""
        if self.letter != before.letter or self.end != before.start:
            return False
        if self.letter == "C":
            return self.rest == before.rest[2:] + before.rest[:2]
        if self.letter == "A":
            return self.rest[:3] == before.rest[:3] and self.rest[3] != before.rest[3]
        return self.letter == "L" or self.rest[0] == -before.rest[0]


def cleaned_run(steps: Iterable[Step]) -> list[Step]:
    """Return an open line without steps that lost their length and without spikes; empty when nothing is left."""
    kept: list[Step] = []
    for step in steps:
        _push(kept, step)
    return kept


def cleaned_outline(steps: Iterable[Step]) -> list[Step]:
    """Return a closed line so cleaned, its seam too; empty when nothing is left that has an inside."""
    kept = cleaned_run(steps)
    while len(kept) > 1 and (folded := _fold(kept[-1], kept[0])) is not None:
        kept = kept[1:-1]
        for step in folded:
            _push(kept, step)
    return [] if len(kept) == 1 and kept[0].letter != "C" else kept


def _push(kept: list[Step], step: Step) -> None:
    """Add a step to a clean line, folding spikes until none is left."""
    if step.is_nothing:
        return
    folded = _fold(kept[-1], step) if kept else None
    if folded is None:
        kept.append(step)
        return
    kept.pop()
    for rest in folded:
        _push(kept, rest)


def _fold(first: Step, second: Step) -> tuple[Step, ...] | None:
    """Return what is left of two neighbours that form a spike, or None when they form none.

    A spike is a way back over the same segment, or two lines in opposite directions: rounding makes them of slivers
    thinner than a step, and a knife would cut the same place twice.
    """
    if second.is_way_back(first):
        return ()
    if first.letter != "L" or second.letter != "L":
        return None
    (ax, ay), (bx, by), (cx, cy) = first.start, first.end, second.end
    ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
    if ux * vy != uy * vx or ux * vx + uy * vy >= 0:
        return None
    return (Step("L", first.start, second.end),)
