"""Where a rising function passes 0."""

from __future__ import annotations

import math
from collections.abc import Callable

__all__ = ["rising_zero"]

_WIDENINGS = 60
_STEPS = 200


def rising_zero(
    f: Callable[[float], float], guess: float, *, least: float = 0.0, factor: float = 1.6, settled: float = 0.0
) -> float | None:
    """Return x > ``least`` with f(x) = 0 for a rising f, or None when no bracket is found.

    The bracket grows from ``guess`` by ``factor``; f may be -infinity below some x. Then the Illinois variant of
    false position (Dowell and Jarratt, BIT 11 (1971) 168), with halving where f is infinite, until |f| is at
    most ``settled`` or the bracket is a few units in the last place wide. The end with the smaller |f| is returned.
    """
    bracket = _bracket(f, guess, least, factor)
    if bracket is None:
        return None
    (low, f_low), (high, f_high) = bracket
    weight_low, weight_high, side = f_low, f_high, 0
    for _ in range(_STEPS):
        if min(abs(f_low), abs(f_high)) <= settled or high - low <= 4e-16 * (abs(low) + abs(high)):
            break
        middle = (low + high) / 2
        if math.isfinite(weight_low) and math.isfinite(weight_high):
            middle = high - weight_high * (high - low) / (weight_high - weight_low)
        if not low < middle < high:
            middle = (low + high) / 2
        if not low < middle < high:
            break
        value = f(middle)
        # An end that stays where it is twice running counts for half; otherwise this is the plain secant.
        if value < 0:
            low, f_low, weight_low = middle, value, value
            weight_high, side = weight_high / 2 if side < 0 else f_high, -1
        else:
            high, f_high, weight_high = middle, value, value
            weight_low, side = weight_low / 2 if side > 0 else f_low, 1
    return low if abs(f_low) < abs(f_high) else high


Point = tuple[float, float]


def _bracket(f: Callable[[float], float], guess: float, least: float, factor: float) -> tuple[Point, Point] | None:
    """Return two neighbouring tries with f < 0 and f >= 0."""
    here = (guess, f(guess))
    for _ in range(_WIDENINGS):
        if here[1] < 0:
            there = (least + (here[0] - least) * factor, 0.0)
            there = (there[0], f(there[0]))
            if there[1] >= 0:
                return here, there
        else:
            there = (least + (here[0] - least) / factor, 0.0)
            there = (there[0], f(there[0]))
            if there[1] < 0:
                return there, here
        here = there
    return None
