"""Equal discs in a rectangle: many starts let go at once until no two overlap.

Overlaps push discs apart: the sum of squared overlaps is lowered by projected gradients with the step of J. Barzilai
and J. M. Borwein, 1988, "Two-point step size gradient methods", IMA Journal of Numerical Analysis 8, 141-148. A
start that comes to rest with overlaps has a pressed disc set into one of its largest holes, and is let go again; every
few rounds all starts are drawn anew.
How many points can be at least 1 apart at all: N. Oler, 1961, "An inequality in the geometry of numbers", Acta
Mathematica 105, 19-48: 2/sqrt(3) area + half the perimeter + 1.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from frameforge.geometry.segment_table import Complexes, Floats

__all__ = ["most_points", "spread_points"]

PAIRS_AT_ONCE = 200_000
MOST_STARTS = 96
"""Starts let go at once: as many as the pairs allow, but no more than this."""
FEW, FEW_ROUNDS = 25, 3
"""Up to so many discs so many rounds find what there is to be found."""
HOPELESS = 0.06
"""Part of the distance that the best start may lack after two rounds; beyond it no third is made."""
STEPS = 400
"""Gradient steps between two jumps."""
TIGHTER = 1e-6
"""Discs are let go with a diameter greater by this part, so that they come to rest clear."""
FRESH = 3
"""Rounds after which all starts are drawn anew."""
KEPT, JUMPS = 8, 2
"""Starts kept from round to round, and copies of each that jump."""
LONGER, LONGER_STEPS = 4, 2000
"""The best few starts of a round are let go for longer."""
LOOK = 50
"""Steps after which it is looked whether the best start still comes to rest."""
VOID_GRID = 24
"""Places along each side at which the largest hole is looked for."""


def most_points(width: float, height: float, apart: float) -> int:
    """Return a bound on how many points at least ``apart`` from each other lie in a rectangle (Oler); in one unit."""
    w, h = width / apart, height / apart
    return math.floor(2 / math.sqrt(3) * w * h + w + h + 1 + 1e-9)


def spread_points(
    count: int,
    width: float,
    height: float,
    apart: float,
    *,
    seed: int,
    rounds: int,
    keep_going: Callable[[], bool] = lambda: True,
) -> Complexes | None:
    """Return ``count`` points of the rectangle (0, 0, width, height) at least ``apart`` from each other, else None.

    Lengths in one unit. ``rounds`` limits how often all starts are let go; ``keep_going`` is asked before each. Same
    seed, same points.
    """
    if count > most_points(width, height, apart):
        return None
    rng = np.random.default_rng(seed)
    size = np.array([width, height])
    starts = min(max(PAIRS_AT_ONCE // count**2, 8), MOST_STARTS)
    points = np.empty((0, count, 2))
    for number in range(rounds if count > FEW else min(rounds, FEW_ROUNDS)):
        if not keep_going():
            return None
        if number % FRESH == 0:
            points = _starts(count, size, apart, rng, starts)
        points, energy = _let_go(points, size, apart * (1 + TIGHTER), STEPS)
        best_few = np.argsort(energy, kind="stable")[:LONGER]
        points[best_few], energy[best_few] = _let_go(points[best_few], size, apart * (1 + TIGHTER), LONGER_STEPS)
        best: Complexes = points[int(energy.argmin())].view(np.complex128)[:, 0]
        nearest = _nearest(best)
        if nearest >= apart:
            return best
        if number and nearest < (1 - HOPELESS) * apart:
            return None
        points = _jumped(points, energy, size, apart, rng)
    return None


def _nearest(at: Complexes) -> float:
    """Return the least distance between two of the points."""
    gaps = np.abs(at[:, None] - at)
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min())


def _starts(count: int, size: Floats, apart: float, rng: np.random.Generator, starts: int) -> Floats:
    """Return starts: half of them staggered rows of all kinds with discs taken away, the others by chance."""
    found: list[Floats] = []
    for rows in range(2, 4 * count):
        if len(found) >= starts // 2:
            break
        for long in range(2, count + 1):
            # Near to the closest pattern the count is hardly more than wanted.
            if count <= rows * long <= 1.12 * count + 2:
                grid = _staggered(rows, long, size)
                found.append(grid[np.sort(rng.permutation(len(grid))[:count])])
    rng.shuffle(found)
    found = found[: starts // 2]
    chance = rng.random((starts - len(found), count, 2)) * size
    noise = rng.normal(scale=0.02 * apart, size=(len(found), count, 2))
    return np.concatenate([np.array(found).reshape(-1, count, 2) + noise, chance])


def _staggered(rows: int, long: int, size: Floats) -> Floats:
    """Return the points of rows that fill the rectangle, every other row shifted by half a spacing."""
    pitch, places = size[0] / (long - 0.5), []
    for row in range(rows):
        x = np.arange(long) * pitch + (pitch / 2 if row % 2 else 0)
        places.append(np.column_stack([x, np.full(long, size[1] * row / (rows - 1))]))
    return np.concatenate(places)


def _let_go(points: Floats, size: Floats, apart: float, steps: int) -> tuple[Floats, Floats]:
    """Return the points at rest and the energy left in each start."""
    points = np.clip(points, 0, size)
    force, energy = _force(points, apart)
    step = np.full(len(points), 0.25)
    before = np.inf
    for number in range(steps):
        least = float(energy.min())
        if least == 0 or (number % LOOK == LOOK - 1 and least > 0.999 * before):
            break
        before = least if number % LOOK == LOOK - 1 else before
        new = np.clip(points + step[:, None, None] * force, 0, size)
        new_force, energy = _force(new, apart)
        moved, turned = new - points, force - new_force
        square, slope = (moved**2).sum(axis=(1, 2)), (moved * turned).sum(axis=(1, 2))
        with np.errstate(divide="ignore", invalid="ignore"):
            step = np.where(slope > 0, np.clip(square / slope, 0.05, 2.0), 0.5)
        points, force = new, new_force
    return points, energy


def _force(points: Floats, apart: float) -> tuple[Floats, Floats]:
    """Return the push on every point (down the gradient) and the energy of each start, half the squared overlaps."""
    x, y = points[:, :, 0], points[:, :, 1]
    dx, dy = x[:, :, None] - x[:, None, :], y[:, :, None] - y[:, None, :]
    gap = np.sqrt(dx * dx + dy * dy)
    over = np.maximum(apart - gap, 0)
    count = points.shape[1]
    over[:, np.arange(count), np.arange(count)] = 0
    part = over / np.maximum(gap, 1e-12 * apart)
    push = np.stack([(part * dx).sum(axis=2), (part * dy).sum(axis=2)], axis=2)
    return push, (over * over).sum(axis=(1, 2)) / 4


def _jumped(points: Floats, energy: Floats, size: Floats, apart: float, rng: np.random.Generator) -> Floats:
    """Return the best starts and copies of each with a pressed disc in one of its largest holes."""
    keep = np.argsort(energy, kind="stable")[:KEPT]
    jumped = np.repeat(points[keep], JUMPS, axis=0)
    grid = np.stack(np.meshgrid(*(np.linspace(0, s, VOID_GRID) for s in size), indexing="ij"), axis=-1).reshape(-1, 2)
    for start in jumped:
        at = start.copy().view(np.complex128)[:, 0]
        over = np.maximum(apart - np.abs(at[:, None] - at), 0)
        np.fill_diagonal(over, 0)
        pressed = np.argsort(-over.sum(axis=1), kind="stable")[: max(len(at) // 6, 1)]
        k = int(pressed[int(rng.integers(len(pressed)))])
        others = np.delete(start, k, axis=0)
        room = np.sqrt(((grid[:, None, :] - others) ** 2).sum(axis=2)).min(axis=1)
        holes = np.argsort(-room, kind="stable")[:4]
        start[k] = grid[int(holes[int(rng.integers(len(holes)))])]
    return np.concatenate([points[keep], jumped])
