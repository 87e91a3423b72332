"""Which repeats of a row are there: positions skipped, and a zone kept free."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.errors import InputError
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.zone import reaches_into

__all__ = ["present"]

_SIDES = {"top": 0.0, "right": 90.0, "bottom": 180.0, "left": 270.0}


def present(
    model: RowModel,
    layout: Layout,
    directions: Sequence[float],
    positions: Sequence[int],
    is_out: Sequence[bool] = (),
) -> tuple[bool, ...]:
    """Return for every repeat whether it is there: none of those that are ``is_out`` already. Raises InputError for a
    position that the row lacks and for a row of which nothing is left.

    A side ("top") leaves out the repeat nearest to it. A zone that is kept free leaves out every repeat any part of
    which, seen from the middle of the piece, lies inside it.
    """
    count = len(positions)
    missing = {position for position, out in zip(positions, is_out, strict=False) if out}
    for item in model.row.skip:
        if isinstance(item, str):
            missing.add(positions[min(range(count), key=lambda k: _apart(directions[k], _SIDES[item]))])
        elif 1 <= item <= count:
            missing.add(item)
        else:
            say = f"there is no position {item} to skip. Write one from 1 to {count}, counted from the top clockwise."
            raise InputError(say, where=model.spec.name, position=item, count=count)
    if model.row.keep_free is not None:
        width, middle = model.row.keep_free
        missing.update(position for k, position in enumerate(positions) if reaches_into(layout, k, width, middle))
    if missing.issuperset(positions):
        say = f"all {count} positions of the row are left out. Keep one, or make the piece without a motif."
        raise InputError(say, where=model.spec.name, count=count)
    return tuple(position not in missing for position in positions)


def _apart(a_deg: float, b_deg: float) -> float:
    return round(abs((a_deg - b_deg + 180) % 360 - 180), 9)
