"""One step of Newton towards equal gaps: how gaps change when repeats move along their edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np

from frameforge.frame.gap import Gap, Standing
from frameforge.frame.profile import Complexes, Floats
from frameforge.frame.seat import FootSeat

__all__ = ["gap_miss", "gap_rates", "ring_step", "stretch_step", "turn_of_end"]

_FEW = 5
_DENSE = 200
"""Up to so many repeats the equations are solved as a whole; beyond, round the ring from the first one."""


def gap_rates(seats: Sequence[FootSeat], standing: Sequence[Standing], gaps: Sequence[Gap]) -> tuple[Floats, Floats]:
    """Return for every gap (k, k + 1) how it changes, mm per radian of tau, when k moves and when k + 1 moves.

    A place carries the contact points of its motif along. Where repeats stand in each other the line of their seats
    turns as well.
    """
    place = np.array([s.move for s in standing])
    moved = np.array([seat.moved(s.move) for seat, s in zip(seats, standing, strict=True)])
    moved_a = np.array([seat.moved(gap.on_a) for seat, gap in zip(seats, gaps, strict=False)])
    moved_b = np.array([seat.moved(gap.on_b) for seat, gap in zip(seats[1:], gaps, strict=False)])
    unit = np.array([gap.direction for gap in gaps])
    line = np.diff(place)
    turning = np.array([gap.turning for gap in gaps]) / np.maximum(np.abs(line) ** 2, 1e-300)
    own = -_dot(unit, moved_a) - turning * _dot(1j * line, moved[:-1])
    other = _dot(unit, moved_b) + turning * _dot(1j * line, moved[1:])
    return own, other


def ring_step(
    seats: Sequence[FootSeat], standing: Sequence[Standing], gaps: Sequence[Gap], pin: tuple[float, bool]
) -> tuple[Floats, float]:
    """Return the change of every place and how far the ring misses its start (radians).

    Seats and standings are those of all repeats and of the first one again, a turn on. ``pin`` is (the tau at which
    the first stays, False), or (the direction, clockwise from the top in radians, that halves the angle between the
    foot ends beside the last gap, True).
    """
    count = len(gaps)
    own, other = gap_rates(seats, standing, gaps)
    row = np.zeros(count)
    if pin[1]:
        miss = gap_miss(seats[-2], seats[-1], pin[0])
        row[0], row[-1] = turn_of_end(seats[0], "left") / 2, row[-1] + turn_of_end(seats[-2], "right") / 2
        if count == 1:
            row[0] = turn_of_end(seats[0], "left") / 2 + turn_of_end(seats[0], "right") / 2
    else:
        miss, row[0] = seats[0].tau - pin[0], 1.0
    values = np.array([gap.gap_mm for gap in gaps])
    if count > _DENSE:
        return _round_the_ring(own, other, values, (row, miss)), miss
    matrix = np.zeros((count + 1, count + 1))
    rows = np.arange(count)
    matrix[rows, rows] += own
    matrix[rows, (rows + 1) % count] += other
    matrix[rows, count] = -1.0
    matrix[count, :count] = row
    return _solved(matrix, np.append(-values, -miss))[:count], miss


def stretch_step(seats: Sequence[FootSeat], standing: Sequence[Standing], gaps: Sequence[Gap]) -> Floats:
    """Return the change of every place of a stretch whose first and last repeat stay."""
    count = len(seats)
    own, other = gap_rates(seats, standing, gaps)
    matrix = np.zeros((count + 1, count + 1))
    rows = np.arange(count - 1)
    matrix[rows, rows] = own
    matrix[rows, rows + 1] = other
    matrix[rows, count] = -1.0
    matrix[count - 1, count - 1] = matrix[count, 0] = 1.0
    values = [gap.gap_mm for gap in gaps]
    return _solved(matrix, np.array([*(-value for value in values), 0.0, 0.0]))[:count]


def turn_of_end(seat: FootSeat, which: Literal["left", "right"]) -> float:
    """Return how fast a foot end turns round the middle of the piece, clockwise, per radian of the place."""
    end = seat.left if which == "left" else seat.right
    moved = seat.moved(end)
    return -(end.conjugate() * moved).imag / abs(end) ** 2


def gap_miss(last: FootSeat, first: FootSeat, direction_rad: float) -> float:
    """Return how far the middle of the gap from ``last`` to ``first`` lies past where it should, radians clockwise."""
    towards = complex(math.sin(direction_rad), math.cos(direction_rad)).conjugate()
    before, after = (-math.atan2(z.imag, z.real) for z in (last.right * towards, first.left * towards))
    return (before + after) / 2


def _round_the_ring(own: Floats, other: Floats, values: Floats, pin: tuple[Floats, float]) -> Floats:
    """Return the change of all places: each follows from the one before, the first from the ring's end and start.

    change[k] = base[k] + slope[k] change[0] + rise[k] G.
    """
    count = len(values)
    base, slope, rise = np.zeros(count + 1), np.ones(count + 1), np.zeros(count + 1)
    for k in range(count):
        base[k + 1] = (-values[k] - own[k] * base[k]) / other[k]
        slope[k + 1] = -own[k] * slope[k] / other[k]
        rise[k + 1] = (1 - own[k] * rise[k]) / other[k]
    row, miss = pin
    matrix = np.array([
        [slope[count] - 1, rise[count]],
        [float(row @ slope[:count]), float(row @ rise[:count])],
    ])  # fmt: skip
    first, gap = _solved(matrix, np.array([-base[count], -miss - float(row @ base[:count])]))
    return np.asarray(base[:count] + slope[:count] * first + rise[:count] * gap)


def _solved(matrix: Floats, wanted: Floats) -> Floats:
    """Return the solution; for a few repeats by least squares, since two on the ends of an oval are singular."""
    if len(wanted) > _FEW:
        return np.asarray(np.linalg.solve(matrix, wanted), dtype=np.float64)
    # Older numpy has another cut-off, and says so to whoever is at the terminal.
    return np.asarray(np.linalg.lstsq(matrix, wanted, rcond=None)[0], dtype=np.float64)


def _dot(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((np.conj(a) * b).real)
