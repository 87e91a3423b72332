"""Equal gaps by stepping and shooting: slower than Newton, and sure where the gap rises from place to place.

From the first repeat each next one is set at a trial gap behind the one before; the gap is then changed until the
last step ends where the ring closes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.gap import gap_between
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Floats
from frameforge.frame.ring_step import gap_miss, gap_rates
from frameforge.frame.standing import stand

__all__ = ["shoot_ring", "shoot_stretch"]

_STEPS = 100
_OUTER_STEPS = 20
_WIDENINGS = 24
_TRIALS = 60
"""So many gaps may be measured for each repeat to close a ring once; one that is not closed by then is given up."""
_SETTLED_RAD = 2e-14
_SETTLED_MM = 1e-13
_ULPS = 4e-16
_SHORTEST = 0.02
"""First step when a place is looked for, as a part of the distance it was found at before."""

_NEWTON_STEPS = 8
_MOST_CHANGE = 0.3
"""A step of Newton that changes a distance by a larger part is not trusted."""

Point = tuple[float, float]

_ANYWHERE = (-math.inf, math.inf)
_A_TURN = (0.0, math.tau)


def shoot_ring(
    track: Track, readies: Sequence[Ready], guess: Floats, turn_rad: float, gap_at_rad: float | None
) -> Floats | None:
    """Return places with the same gap from each to the next, and from the last to the first a turn on.

    The first repeat stays where ``guess`` has it, or moves until the middle of the last gap lies in the direction
    ``gap_at_rad``. None where no gap closes the ring.
    """
    ring = [*readies, readies[0]]
    shot = _Shot(track, ring, [*np.diff(guess).tolist(), float(guess[0] + turn_rad - guess[-1])])
    first = float(guess[0])
    found = shot.ending(first, first + turn_rad)
    before: Point | None = None
    for _ in range(_OUTER_STEPS if gap_at_rad is not None else 0):
        if found is None:
            return None
        seats, _ = stand(track, ring[-2:], found[-2:])
        miss = gap_miss(seats[0], seats[1], gap_at_rad or 0.0)
        if abs(miss) <= _SETTLED_RAD:
            break
        rate = (miss - before[1]) / (first - before[0]) if before and first != before[0] else 1.0
        before = (first, miss)
        first -= miss / (rate if 0.2 < rate < 5 else 1.0)
        found = shot.ending(first, first + turn_rad)
    return None if found is None else np.array(found[:-1])


def shoot_stretch(track: Track, readies: Sequence[Ready], guess: Floats) -> Floats | None:
    """Return places with the same gap from each to the next while the first and the last stay where ``guess`` is."""
    shot = _Shot(track, readies, np.diff(guess).tolist())
    found = shot.ending(float(guess[0]), float(guess[-1]))
    return None if found is None else np.array([*found[:-1], guess[-1]])


class _Shot:
    """Repeats to be set one behind the other; ``hints`` are the latest distances from each to the next."""

    def __init__(self, track: Track, readies: Sequence[Ready], hints: list[float]) -> None:
        self.track, self.readies, self.hints = track, readies, hints
        self.left = 0

    def ending(self, first: float, end: float) -> list[float] | None:
        """Return the places of equal gaps from ``first`` on, the last of them at ``end``; None where there is none."""
        latest: list[float] | None = None
        self.left = _TRIALS * len(self.readies)

        def past(gap_mm: float) -> float:
            nonlocal latest
            places = self.stepped(first, gap_mm)
            if places is None:
                return math.inf
            latest, self.hints = places, np.diff(places).tolist()
            return places[-1] - end

        start = self.excess_mm((self.readies[0], self.readies[1]), first, 0.0, self.hints[0])[0]
        reach = max(ready.box.width_mm for ready in self.readies) / 8
        _passed(past, start if math.isfinite(start) else 0.0, reach, _SETTLED_RAD)
        return latest if latest is not None and abs(latest[-1] - end) <= 1e3 * _SETTLED_RAD else None

    def stepped(self, first: float, gap_mm: float) -> list[float] | None:
        """Return places from ``first`` on, ``gap_mm`` from each to the next; None where a step finds no place."""
        places = [first]
        for ready, after, hint in zip(self.readies, self.readies[1:], self.hints, strict=False):
            look = partial(self.excess_mm, (ready, after), places[-1], gap_mm)
            step = _by_newton(look, hint)
            if step is None:
                step = _passed(partial(_value, look), hint, abs(hint) * _SHORTEST, _SETTLED_MM, _A_TURN)
            if step is None:
                return None
            places.append(places[-1] + step)
        return places

    def excess_mm(self, pair: tuple[Ready, Ready], tau: float, gap_mm: float, step: float) -> Point:
        """Return by how much the gap from a repeat to the next, a step on, passes the wanted one, and its rate.

        -infinity where there is no seat.
        """
        self.left -= 1
        if self.left < 0:
            return -math.inf, math.nan
        try:
            seats, standing = stand(self.track, pair, (tau, tau + step))
        except GeometryError:
            return -math.inf, math.nan
        gap = gap_between(*standing)
        return gap.gap_mm - gap_mm, float(gap_rates(seats, standing, [gap])[1][0])


def _value(look: Callable[[float], Point], step: float) -> float:
    return look(step)[0]


def _by_newton(look: Callable[[float], Point], hint: float) -> float | None:
    """Return the step near ``hint`` at which the excess is 0 on its rise; None where Newton does not get there."""
    here = hint
    for _ in range(_NEWTON_STEPS):
        value, rate = look(here)
        if not (math.isfinite(value) and rate > 0):
            return None
        if abs(value) <= _SETTLED_MM:
            return here
        change = -value / rate
        if abs(change) > _MOST_CHANGE * here:
            return None
        if abs(change) <= _ULPS * here:
            return here
        here += change
    return None


def _passed(
    f: Callable[[float], float], start: float, reach: float, settled: float, within: Point = _ANYWHERE
) -> float | None:
    """Return where a rising function, which may be infinite, passes 0 next to ``start``; None where that is not found.

    Looked for from ``start`` on in growing steps inside ``within``, then by the Illinois variant of false position.
    """
    here, value = start, f(start)
    for _ in range(_WIDENINGS):
        if abs(value) <= settled:
            return here
        there = here + (reach if value < 0 else -reach)
        if not within[0] < there < within[1]:
            there = (here + within[1 if value < 0 else 0]) / 2
        other = f(there)
        if (other < 0) != (value < 0):
            low, high = ((here, value), (there, other)) if value < 0 else ((there, other), (here, value))
            return _between(f, low, high, settled)
        here, value, reach = there, other, reach * 1.6
    return None


def _between(f: Callable[[float], float], low: Point, high: Point, settled: float) -> float:
    """Return the zero between a place below 0 and one at or above it: Illinois, halving where f is infinite."""
    (x_low, f_low), (x_high, f_high) = low, high
    side = 0
    for _ in range(_STEPS):
        if abs(x_high - x_low) <= _ULPS * (abs(x_low) + abs(x_high)):
            break
        middle = (x_low + x_high) / 2
        if math.isfinite(f_low) and math.isfinite(f_high):
            middle = x_high - f_high * (x_high - x_low) / (f_high - f_low)
        value = f(middle)
        if abs(value) <= settled:
            return middle
        if value < 0:
            x_low, f_low, f_high = middle, value, f_high / 2 if side < 0 else f_high
        else:
            x_high, f_high, f_low = middle, value, f_low / 2 if side > 0 else f_low
        side = -1 if value < 0 else 1
    return x_high
