"""Which repeats of a row are there: positions skipped, and a zone kept free."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from frameforge.errors import InputError
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.standing import standing_at

__all__ = ["present", "reaches_into"]

_SIDES = {"top": 0.0, "right": 90.0, "bottom": 180.0, "left": 270.0}


def present(model: RowModel, layout: Layout, directions: Sequence[float], positions: Sequence[int]) -> tuple[bool, ...]:
    """Return for every repeat whether it is there. Raises InputError for a position that the row lacks and for
    a row of which nothing is left.

    A side ("top") leaves out the repeat nearest to it. A zone that is kept free leaves out every repeat any part of
    which, seen from the middle of the piece, lies inside it.
    """
    count = len(positions)
    missing: set[int] = set()
    for item in model.row.skip:
        if isinstance(item, str):
            missing.add(positions[min(range(count), key=lambda k: _apart(directions[k], _SIDES[item]))])
        elif 1 <= item <= count:
            missing.add(item)
        else:
            say = f"there is no position {item} to skip; the row has 1 to {count}, counted from the top clockwise."
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


def reaches_into(layout: Layout, k: int, width_deg: float, middle_deg: float) -> bool:
    """Whether any part of repeat k above the edge lies in the zone, seen from the middle of the piece."""
    ready, seat = layout.readies[k], layout.seats[k]
    middle = math.radians(middle_deg)
    # Turned so that the middle of the zone is the real axis, directions are plain arguments.
    towards = complex(math.sin(middle), math.cos(middle))
    points = standing_at(layout.track, ready, seat).points * towards.conjugate()
    return bool((np.abs(np.angle(points)) < math.radians(width_deg / 2) - 1e-9).any())
