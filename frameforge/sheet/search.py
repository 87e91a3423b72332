"""Search over the order in which pieces are laid: late acceptance hill climbing.

E. K. Burke, Y. Bykov, 2017, "The late acceptance hill-climbing heuristic", European Journal of Operational Research
258, 70-78: a new order is kept when it is no worse than the one some steps ago.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from frameforge.sheet.filling import WAYS, Filled, Filler, Order

__all__ = ["LATE_STEPS", "search_order"]

LATE_STEPS = 40
"""How many steps back an order is compared with; longer walks further, shorter settles sooner."""
RUN = 6
"""Pieces of a run that is shuffled."""


def search_order(
    filler: Filler,
    order: Order,
    *,
    iterations: int,
    seed: int,
    keep_going: Callable[[Filled], bool] = lambda _: True,
) -> Filled:
    """Return the best filling found from ``order`` by ``iterations`` moves; the same seed gives the same result.

    ``keep_going`` is asked before each move with the best so far; False ends the search with it.
    """
    rng = np.random.default_rng(seed)
    current = list(order)
    best = filled = filler.fill(current)
    sheet_of = filled.sheet_of
    cost = filled.cost
    late = [cost] * LATE_STEPS
    for step in range(iterations):
        if not keep_going(best):
            break
        tried = _moved(current, sheet_of, rng)
        if tried == current:
            continue
        allowed = max(cost, late[step % LATE_STEPS])
        found = filler.fill_below(tried, allowed)
        if found is not None and found.cost <= allowed:
            current, cost, sheet_of = tried, found.cost, found.sheet_of
            if cost < best.cost:
                best = found
        late[step % LATE_STEPS] = cost
    return best


def _moved(order: list[tuple[int, int]], sheet_of: tuple[int, ...], rng: np.random.Generator) -> list[tuple[int, int]]:
    """Return the order with one piece moved, two exchanged, a short run shuffled, or a piece laid another way.

    Half of the pieces that move are taken from the last sheet and laid earlier: that is what saves a sheet.
    """
    result = list(order)
    i, j = (int(k) for k in rng.integers(len(order), size=2))
    kind = int(rng.integers(9))
    if kind <= 3:
        if kind >= 2:
            top = max(sheet_of)
            last = [k for k, sheet in enumerate(sheet_of) if sheet in (top, -1)]
            i = last[int(rng.integers(len(last)))]
            j = int(rng.integers(i + 1))
        result.insert(j, result.pop(i))
    elif kind <= 5:
        result[i], result[j] = result[j], result[i]
    elif kind <= 7:
        run = result[i : i + RUN]
        rng.shuffle(run)
        result[i : i + RUN] = run
    else:
        result[i] = (result[i][0], WAYS[int(rng.integers(len(WAYS)))])
    return result
