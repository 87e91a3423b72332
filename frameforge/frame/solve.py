"""Of base size, count, gap and scale, the one that is not known."""

from __future__ import annotations

import math
from collections.abc import Callable

from frameforge.frame.base import Edge
from frameforge.frame.model import RowModel
from frameforge.frame.rising import rising_zero
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import PieceSpec, Size
from frameforge.tolerances import GAP_SLACK_MM

__all__ = ["MOST_REPEATS", "Growth", "count_for", "growth_of", "scale_for", "size_for"]

MOST_REPEATS = 2000
"""More repeats than this round one edge are refused: no cutter finishes them, and no maker means them."""

Growth = Callable[[float], Size]
"""How a base grows: from its width in mm to its size."""


def growth_of(spec: PieceSpec, given: Size | None) -> tuple[Growth, float]:
    """Return how the piece's base grows with its width, and the width that it cannot fall to.

    A given size keeps its proportion; else ``grow_from`` adds the same to both axes, ``ratio`` is width over height,
    and without either the base is a circle.
    """
    if given is None and spec.grow_from is not None:
        extra = spec.grow_from.width_mm - spec.grow_from.height_mm
        return lambda width: Size(width, width - extra), max(extra, 0.0)
    ratio = given.width_mm / given.height_mm if given else (spec.ratio or 1.0)
    return lambda width: Size(width, width / ratio), 0.0


def count_for(model: RowModel, size: Size, scale: float, gap_mm: float) -> int:
    """Return the largest count of repeats whose gap is at least ``gap_mm``, a multiple of the pattern; 0 if none.

    The count by feet or widths alone gives the start; the real gap decides, with ``GAP_SLACK_MM`` forgiven so that
    a ring that just closes keeps its last repeat. The gap falls as the count grows.
    """
    unit = model.unit
    known: dict[int, bool] = {0: True}

    def fits(groups: int) -> bool:
        if groups not in known:
            known[groups] = model.clearance_mm(size, groups * unit, scale) >= gap_mm - GAP_SLACK_MM
        return known[groups]

    # One pattern past the greatest count can be found too, so that whoever asks sees that there are more.
    low, high = 0, MOST_REPEATS // unit + 2
    groups = max(1, min(high - 1, _guess(model, size, scale, gap_mm) // unit))
    # Step out from the guess, then halve what is left.
    step = 1
    while low < groups < high:
        if fits(groups):
            low, groups = groups, groups + step
        else:
            high, groups = groups, groups - step
        step *= 2
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return low * unit


def size_for(model: RowModel, growth: tuple[Growth, float], count: int, scale: float, gap_mm: float) -> Size | None:
    """Return the base size at which ``count`` repeats have exactly the gap ``gap_mm``; None when there is none."""
    grow, least = growth

    def excess(width: float) -> float:
        try:
            return model.clearance_mm(grow(width), count, scale) - gap_mm
        except ValueError:
            return -math.inf

    widths = [max(r.foot_mm, r.box.width_mm / 2, 1e-3) for r in model.readies(count, scale)]
    guess = max(least * 1.01, (sum(widths) + count * max(gap_mm, 0.0)) / math.pi)
    width = rising_zero(excess, guess, least=least)
    return None if width is None else grow(width)


def scale_for(model: RowModel, size: Size, count: int, gap_mm: float) -> float | None:
    """Return the scale at which ``count`` repeats have exactly the gap ``gap_mm``; None when there is none."""
    length = edge_length_mm(Edge.from_size(size))
    widths = [max(r.foot_mm, r.box.width_mm / 2, 1e-3) for r in model.readies(count, 1.0)]
    guess = max(0.05, (length - count * max(gap_mm, 0.0)) / sum(widths))
    # The gap falls as the scale rises: look for the zero of its opposite in 1/scale.
    inverse = rising_zero(lambda x: model.clearance_mm(size, count, 1 / x) - gap_mm, 1 / guess)
    return None if inverse is None else 1 / inverse


def _guess(model: RowModel, size: Size, scale: float, gap_mm: float) -> int:
    """Return about how many repeats go round: the edge's length by foot, or half width, and gap."""
    widths = [max(r.foot_mm, r.box.width_mm / 2, 1e-3) for r in model.readies(model.unit, scale)]
    mean = sum(widths) / len(widths) + max(gap_mm, 0.0)
    return min(MOST_REPEATS, round(edge_length_mm(Edge.from_size(size)) / mean))
