"""``make`` for one or for many: with a list of names a piece for each of its rows, without one the recipe as it is."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from frameforge.errors import InputError
from frameforge.job.made import Made
from frameforge.job.make import MakeOrder, Progress, make_recipe
from frameforge.job.recipe_file import recipe_of

if TYPE_CHECKING:
    from frameforge.job.batch.made import BatchMade

__all__ = ["make_any"]

_MOST_WORKERS: Final = 64


def make_any(
    order: MakeOrder, progress: Progress, *, names: str | None, workers: str | None, scheduler: str | None
) -> Made | BatchMade:
    """Return what was made. ``names`` is the list's file, ``workers`` a number as typed, ``scheduler`` an address.

    Raises as ``make`` does, and InputError for workers that are no number or have no list to work at.
    """
    recipe = recipe_of(order.recipe, order.options)
    table = recipe.tables.names
    given = Path(names) if names is not None else None
    if given is None and table is not None and table.file is not None:
        given = (order.recipe.parent if order.recipe else Path()) / table.file
    count = _workers(workers)
    if given is None:
        if table is not None:
            say = 'a list without a file. Write file = "names.csv" below it, or add --names names.csv.'
            raise InputError(say, where=recipe.source.place(("names",)), code="names")
        if workers is not None or scheduler is not None:
            option = "--workers" if workers is not None else "--scheduler"
            say = "there is only one piece to make. It goes with a list: add --names names.csv."
            raise InputError(say, where=f"make, {option}", code="names")
        return make_recipe(recipe, order, progress)
    if count > 1 and scheduler is not None:
        say = "a cluster brings its own workers. Leave out one of --workers and --scheduler."
        raise InputError(say, where="make", code="workers")
    from frameforge.job.batch.run import BatchOrder, make_batch  # here, since most runs are of a few pieces

    return make_batch(recipe, BatchOrder(order, given, count, scheduler), progress)


def _workers(given: str | None) -> int:
    """Return the number of workers."""
    if given is None:
        return 1
    text = given.strip()
    if not text.isdecimal() or not 1 <= int(text) <= _MOST_WORKERS:
        say = f"workers are 1 to {_MOST_WORKERS}. Write --workers 2."
        raise InputError(say, where=f'make, --workers "{given}"', code="range")
    return int(text)
