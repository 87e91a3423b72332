"""Where a piece that lies too near would lie clear: the least move that does, by trial."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Final

import numpy as np
import shapely

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.sheet.design import Sheet

__all__ = ["clear_place"]

_STEP_MM: Final = 0.1
"""Moves are whole tenths of a millimetre, as a ruler is read."""

_WAYS: Final = 16
_GROWTH: Final = 1.25
_FARTHEST_MM: Final = 120.0
_COARSE_MM: Final = 0.02
"""Chords lie within this of the curves: a place is only looked for, and proved elsewhere."""

_SLACK_MM: Final = 0.06
"""Wider than asked by more than the chords of two pieces and of the round ends can hide."""


def clear_place(
    pieces: Sequence[Sequence[Region]], number: int, sheet: Sheet, used: Sequence[Region] = ()
) -> complex | None:
    """Return the move (mm) that lays one piece clear of all others, of what is used up, and of the edge.

    Of those tried the least: 16 ways, ever further. None where none of them is clear.
    """
    mine = [to_polygon(region, _COARSE_MM) for region in pieces[number]]
    others = [region for k, piece in enumerate(pieces) if k != number for region in piece]
    card = boolean.union([to_polygon(region, _COARSE_MM) for region in (*others, *used)])
    taken = boolean.buffered(card, sheet.apart_mm + _SLACK_MM)
    shapely.prepare(taken)
    room = bounds(pieces[number])
    low = complex(sheet.margin_mm - room.left, sheet.margin_mm - room.bottom)
    high = complex(sheet.width_mm - sheet.margin_mm - room.right, sheet.height_mm - sheet.margin_mm - room.top)
    for move in _moves(low, high):
        moved = shapely.transform(mine, partial(np.add, np.array([move.real, move.imag])))
        if not shapely.intersects(taken, moved).any():
            return move
    return None


def _moves(low: complex, high: complex) -> Iterator[complex]:
    """Yield moves within the margin, the shorter before the longer; what reaches over the edge is first put within."""
    if low.real > high.real or low.imag > high.imag:
        return
    at = complex(_within(low.real, high.real), _within(low.imag, high.imag))
    yield at
    far = _STEP_MM
    while far <= _FARTHEST_MM:
        for way in range(_WAYS):
            move = at + far * cmath.rect(1, 2 * math.pi * way / _WAYS)
            move = complex(round(move.real / _STEP_MM) * _STEP_MM, round(move.imag / _STEP_MM) * _STEP_MM)
            if low.real <= move.real <= high.real and low.imag <= move.imag <= high.imag:
                yield complex(round(move.real, 6), round(move.imag, 6))
        far = max(far + _STEP_MM, far * _GROWTH)


def _within(low: float, high: float) -> float:
    """Return the least move in tenths that lies between two bounds."""
    if low <= 0 <= high:
        return 0.0
    tenths = math.ceil(low / _STEP_MM - 1e-6) if low > 0 else math.floor(high / _STEP_MM + 1e-6)
    return round(tenths * _STEP_MM, 6)
