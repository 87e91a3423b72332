"""Hundreds of pieces: a part of them is searched, its full sheets are repeated, and so on with what is left."""

from __future__ import annotations

from collections import Counter

from frameforge.sheet.draft import Draft, Sheets, draft_from
from frameforge.sheet.filling import LEFT, Filled, Filler
from frameforge.sheet.raster import variants
from frameforge.sheet.search import search_order
from frameforge.sheet.stock import preferences
from frameforge.sheet.task import Task

__all__ = ["MANY", "PART", "repeated"]

MANY = 150
"""Pieces beyond which sheets are repeated; up to it an order of all of them is searched."""
PART = 60
"""Pieces of the part that is searched, about."""
CELL_MM = 0.5
STAGES = 12
"""Each part is searched with the tries divided by this: a thousand pieces come in three or four parts."""


def repeated(task: Task) -> list[Draft]:
    """Return layouts of repeated sheets, one for each kind of sheet; none for few pieces or new sheets that run out.

    What fits on sheets that were cut from before is laid there first.
    """
    total = sum(design.copies for design in task.designs)
    if total <= MANY or any(kind.how_many is not None and not kind.used for kind in task.stock.kinds):
        return []
    shapes = variants(task.designs, task.stock.apart_mm, CELL_MM, task.turns)
    begun = Filler([kind for kind in task.stock.kinds if kind.used], shapes, CELL_MM)
    first = draft_from("repeated sheets", begun, begun.fill(_order(task, _all(task))), task.stock)
    return [
        _all_stages(begun.on([kind for kind in kinds if not kind.used]), task, first, task.budget.tries // STAGES)
        for kinds in preferences(task.stock)
        if not all(kind.used for kind in kinds)
    ]


def _all(task: Task) -> Counter[int]:
    return Counter({i: design.copies for i, design in enumerate(task.designs)})


def _all_stages(filler: Filler, task: Task, first: Draft, tries: int) -> Draft:
    """Return all pieces that do not lie on the ``first`` sheets on further ones, part by part."""
    left = _all(task) - first.laid
    sheets: Sheets = first.sheets
    while left.total():
        times = left.total() // PART if left.total() > MANY else 1
        part = Counter({i: count // times for i, count in left.items()})
        if part.total() < PART // 2:
            times, part = 1, left.copy()
        filled = _searched(filler, task, part, tries)
        laid = draft_from("repeated sheets", filler, filled, task.stock).sheets
        if times > 1 and len(laid) > 1:
            laid = laid[:-1]
        on_them = Counter(place.design for _, placed in laid for place in placed)
        times = min(left[i] // count for i, count in on_them.items())
        sheets += laid * times
        left -= Counter({i: count * times for i, count in on_them.items()})
    return Draft("repeated sheets", sheets)


def _order(task: Task, part: Counter[int]) -> list[tuple[int, int]]:
    """Return the pieces from the largest to the smallest."""
    largest = sorted((i for i in part if part[i]), key=lambda i: -task.designs[i].area_mm2)
    return [(i, LEFT) for i in largest for _ in range(part[i])]


def _searched(filler: Filler, task: Task, part: Counter[int], tries: int) -> Filled:
    return search_order(
        filler,
        _order(task, part),
        iterations=tries,
        seed=task.seed,
        keep_going=lambda so_far: task.budget.goes_on(len(so_far.sheets), "repeated sheets"),
    )
