"""Hundreds of pieces: a part of them is searched, its full sheets are repeated, and so on with what is left."""

from __future__ import annotations

from collections import Counter

from frameforge.sheet.draft import Draft, Sheets, draft_from
from frameforge.sheet.filling import LEFT, Filled, Filler
from frameforge.sheet.raster import variants
from frameforge.sheet.search import search_order
from frameforge.sheet.stock import preferences
from frameforge.sheet.task import Task

__all__ = ["MANY", "repeated"]

MANY = 150
"""Pieces beyond which sheets are repeated; up to it an order of all of them is searched."""
PART = 60
"""Pieces of the part that is searched, about."""
CELL_MM = 0.5
STAGES = 6
"""Parts that the tries are meant for; later parts are smaller and rarer."""


def repeated(task: Task) -> list[Draft]:
    """Return layouts of repeated sheets, one for each kind of sheet; none for few pieces or a stock with an end."""
    total = sum(design.copies for design in task.designs)
    if total <= MANY or any(kind.how_many is not None for kind in task.stock.kinds):
        return []
    shapes = variants(task.designs, task.stock.apart_mm, CELL_MM)
    return [
        _all_stages(Filler(kinds, shapes, CELL_MM), task, task.budget.tries // STAGES)
        for kinds in preferences(task.stock)
    ]


def _all_stages(filler: Filler, task: Task, tries: int) -> Draft:
    """Return all pieces on sheets, part by part."""
    left = Counter({i: design.copies for i, design in enumerate(task.designs)})
    sheets: Sheets = ()
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


def _searched(filler: Filler, task: Task, part: Counter[int], tries: int) -> Filled:
    largest = sorted((i for i in part if part[i]), key=lambda i: -task.designs[i].area_mm2)
    return search_order(
        filler,
        [(i, LEFT) for i in largest for _ in range(part[i])],
        iterations=tries,
        seed=task.seed,
        keep_going=lambda so_far: task.budget.goes_on(len(so_far.sheets), "repeated sheets"),
    )
