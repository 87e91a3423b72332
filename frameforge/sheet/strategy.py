"""The ways a layout is looked for: orders searched on the grid, and patterns of equal pieces."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.sheet.design import Design
from frameforge.sheet.draft import Draft, draft_from
from frameforge.sheet.filling import INSIDE, LEFT, Filled, Filler
from frameforge.sheet.many import MANY
from frameforge.sheet.raster import Variant, variants
from frameforge.sheet.search import search_order
from frameforge.sheet.stock import preferences
from frameforge.sheet.task import Task

__all__ = ["searched"]

CELL_MM = 0.5
"""Cell of the search: 1 mm loses a sheet of the trial batch, 0.25 mm takes four times as long."""
FINE_CELL_MM = 0.25
"""Cell on which the best order is laid once more."""
RESTART = 900
"""Tries after which a search is begun anew from the first order."""
MOST_RESTARTS = 4
LAST_PART = 8
"""The last sheet is laid anew with this part of the tries; it holds few pieces."""
MOST_FINE = 24
"""Variants up to which the best order is laid on the fine grid."""


def searched(task: Task) -> list[Draft]:
    """Return the best layouts found by searching orders, for each kind of sheet that may come first.

    More than MANY pieces take so long that only their first order is laid.
    """
    tries = task.budget.tries if sum(design.copies for design in task.designs) <= MANY else 0
    shapes = variants(task.designs, task.stock.apart_mm, CELL_MM, task.turns)
    orders = preferences(task.stock)
    drafts = []
    for kinds in orders:
        filler = Filler(kinds, shapes, CELL_MM)
        share = tries // len(orders)
        filled = _best_order(filler, task, share - share // LAST_PART)
        drafts.append(draft_from("search", filler, filled, task.stock))
        if tries and filled.sheets and filler.shape_count > 1 and not task.budget.interrupted:
            drafts += _finer(filler, filled, task, share // LAST_PART)
    return drafts


def _best_order(filler: Filler, task: Task, tries: int) -> Filled:
    """Return the best filling of several searches, all from the largest piece to the smallest."""
    largest = sorted(range(len(task.designs)), key=lambda i: -task.designs[i].area_mm2)
    order = [(i, LEFT) for i in largest for _ in range(task.designs[i].copies)]
    best = filler.fill(order)
    if not tries or not _has_choice(filler, task.designs):
        return best
    restarts = min(max(tries // RESTART, 1), MOST_RESTARTS)
    for k in range(restarts):
        found = search_order(
            filler,
            order,
            iterations=tries // restarts,
            seed=task.seed + 1000 * k,
            keep_going=lambda so_far: task.budget.goes_on(len(so_far.sheets), "search"),
        )
        best = min(best, found, key=lambda filled: filled.cost)
    return best if task.budget.interrupted else _tucked(filler, best)


def _tucked(filler: Filler, filled: Filled) -> Filled:
    """Return the filling with every piece put in an opening, one after the other, where that costs nothing."""
    for k, (design, way) in enumerate(filled.order):
        if way != INSIDE:
            order = [*filled.order[:k], (design, INSIDE), *filled.order[k + 1 :]]
            filled = filler.fill_below(order, filled.cost) or filled
    return filled


def _has_choice(filler: Filler, designs: Sequence[Design]) -> bool:
    """Return whether orders differ: not when all pieces are alike and lie one way."""
    return filler.shape_count > 1 and sum(design.copies for design in designs) > 1


def _finer(filler: Filler, filled: Filled, task: Task, tries: int) -> list[Draft]:
    """Return the same order laid on the fine grid, at the turns it came to; nothing when that takes too many tables."""
    used = sorted({spot.variant for spots in filled.sheets for spot in spots})
    if len(used) > MOST_FINE:
        return []
    coarse: list[Variant] = [filler.variants[v] for v in used]
    turns = [[v.turn_deg for v in coarse if v.design == i] for i in range(len(task.designs))]
    shapes = variants(task.designs, task.stock.apart_mm, FINE_CELL_MM, turns)
    fine = Filler(filler.kinds, shapes, FINE_CELL_MM)
    again = fine.fill(filled.order)
    draft = draft_from("search", fine, again, task.stock)
    return [draft, _shortened(draft, fine, again, task, tries)]


def _shortened(draft: Draft, filler: Filler, filled: Filled, task: Task, tries: int) -> Draft:
    """Return the draft with the pieces of its last sheet laid anew, on less of its length if that can be found."""
    last = [
        piece for piece, sheet in zip(filled.order, filled.sheet_of, strict=True) if sheet == len(filled.sheets) - 1
    ]
    kind = filler.kinds[filled.kinds[-1]]
    alone = search_order(
        filler.on((kind,)),
        last,
        iterations=tries,
        seed=task.seed,
        keep_going=lambda _: task.budget.goes_on(len(filled.sheets), "last sheet"),
    )
    if len(alone.sheets) != 1:
        return draft
    (sheet,) = draft_from("search", filler.on((kind,)), alone, task.stock).sheets
    return Draft("search", (*draft.sheets[:-1], sheet))
