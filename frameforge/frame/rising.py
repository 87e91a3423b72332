"""Where a rising function passes 0."""

from __future__ import annotations

import math
from collections.abc import Callable

__all__ = ["rising_zero"]

_WIDENINGS = 60
_WIDE, _WIDEST = 12, 4.0
"""After so many widenings each is larger than the one before, up to this factor: 0 is further off than was thought."""
_STEPS = 200
_LONG = 16
"""After so many steps every other one halves: false position creeps where f jumps over 0."""
_JUMP = 1e-6
_JUMP_BY = 1e-3
"""Ends as near to each other as this, by their size, between which f passes 0 by more than this on both sides."""
_GAINS = 4
"""By what factor a step along the line of one side must come nearer, or false position has the next one."""


def rising_zero(
    f: Callable[[float], float], guess: float, *, least: float = 0.0, factor: float = 1.6, settled: float = 0.0
) -> float | None:
    """Return x > ``least`` with f(x) = 0 for a rising f, or None when no bracket is found.

    The bracket grows from ``guess`` by ``factor``; f may be -infinity below some x. Then the Illinois variant of
    false position (Dowell and Jarratt, BIT 11 (1971) 168), with halving where f is infinite, until |f| is at
    most ``settled`` or the bracket is a few units in the last place wide, or f is seen to jump over 0. Where f has a
    corner at 0, as gaps of motifs that touch may have, false position creeps: a line through the last two points of one
    side goes first as long as it gains. The end with the smaller |f| is returned.
    """
    bracket = _bracket(f, guess, least, factor, settled)
    if bracket is None:
        return None
    (low, f_low), (high, f_high) = bracket
    weight_low, weight_high, side = f_low, f_high, 0
    lower, upper = [bracket[0]], [bracket[1]]
    extends = True
    for step in range(_STEPS):
        nearest = min(abs(f_low), abs(f_high))
        if nearest <= settled or high - low <= 4e-16 * (abs(low) + abs(high)):
            break
        if nearest > _JUMP_BY and high - low <= _JUMP * (abs(low) + abs(high)) and math.isfinite(f_low):
            break
        is_halved = step >= _LONG and step % 2 == 0
        middle = _extended(lower if nearest == abs(f_low) else upper) if extends and not is_halved else None
        is_extended = middle is not None and low < middle < high
        if middle is None or not is_extended:
            middle = (low + high) / 2
            if math.isfinite(weight_low) and math.isfinite(weight_high) and not is_halved:
                middle = high - weight_high * (high - low) / (weight_high - weight_low)
        if not low < middle < high:
            middle = (low + high) / 2
        if not low < middle < high:
            break
        value = f(middle)
        extends = not is_extended or abs(value) <= nearest / _GAINS
        # An end that stays where it is twice running counts for half; otherwise this is the plain secant.
        if value < 0:
            low, f_low, weight_low = middle, value, value
            weight_high, side = weight_high / 2 if side < 0 else f_high, -1
            lower = [lower[-1], (low, f_low)]
        else:
            high, f_high, weight_high = middle, value, value
            weight_low, side = weight_low / 2 if side > 0 else f_low, 1
            upper = [upper[-1], (high, f_high)]
    return low if abs(f_low) < abs(f_high) else high


Point = tuple[float, float]


def _extended(side: list[Point]) -> float | None:
    """Return where the line through two points of one side of 0 meets it; None where there is but one, or no line."""
    (x, f_x), (y, f_y) = side[0], side[-1]
    if f_x == f_y or not math.isfinite(f_x):
        return None
    return y - f_y * (y - x) / (f_y - f_x)


def _bracket(
    f: Callable[[float], float], guess: float, least: float, factor: float, settled: float
) -> tuple[Point, Point] | None:
    """Return two neighbouring tries with f < 0 and f >= 0; twice the first where that is it already."""
    here = (guess, f(guess))
    if abs(here[1]) <= settled:
        return here, here
    for k in range(_WIDENINGS):
        if k >= _WIDE:
            factor = max(factor, min(factor**2, _WIDEST))
        if here[1] < 0:
            x = least + (here[0] - least) * factor
            there = (x, f(x))
            if there[1] >= 0:
                return here, there
        else:
            x = least + (here[0] - least) / factor
            if x <= least:
                # Rounding has come to where f is not looked at.
                return None
            there = (x, f(x))
            if there[1] < 0:
                return there, here
        here = there
    return None
