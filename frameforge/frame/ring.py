"""Equal gaps round a closed ring, or over a stretch of it: Newton on all places at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.gap import Gap, Standing, neighbour_gaps
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Complexes, Floats
from frameforge.frame.seat import FootSeat
from frameforge.frame.spacing import edge_length_mm

__all__ = ["RingAnswer", "neighbours", "solve_ring", "solve_stretch", "stand"]

_ITERATIONS = 60
_SETTLED_MM = 1e-11
_SETTLED_RAD = 1e-13
_FEW = 5
_TABLE = 360
_LEAST_SHARE = 0.4
"""What a step must leave of the distance between two neighbours: no step shrinks it by more than 60 %."""


@dataclass(frozen=True, slots=True)
class RingAnswer:
    """Places of the repeats with the gap that all neighbours share, mm; below 0 when they stand in each other."""

    taus: tuple[float, ...]
    gap_mm: float
    iterations: int


def stand(track: Track, readies: Sequence[Ready], taus: Sequence[float]) -> tuple[list[FootSeat], list[Standing]]:
    """Return seat and placed profile of every repeat."""
    seats = [track.seat(ready, tau) for ready, tau in zip(readies, taus, strict=True)]
    placed = [track.placement(ready, seat) for ready, seat in zip(readies, seats, strict=True)]
    return seats, [Standing(ready.profile, p.a, p.c) for ready, p in zip(readies, placed, strict=True)]


def neighbours(standing: Sequence[Standing]) -> list[tuple[Standing, Standing]]:
    """Return every repeat with the next one clockwise, the last with the first."""
    return list(zip(standing, [*standing[1:], standing[0]], strict=True))


def solve_ring(
    track: Track, readies: Sequence[Ready], start_tau: float, *, starts_with_gap: bool = False
) -> RingAnswer:
    """Return the places, clockwise from the first, at which all neighbours have the same real gap.

    The first repeat stays at ``start_tau``, or, with ``starts_with_gap``, the feet beside the last gap stay
    symmetric to it. The common gap depends a little on the start. Residual at most 1e-11 mm.
    Raises GeometryError when the ring does not settle.

    Unknown are the places tau_i and the gap G, the equations g(i, i+1) = G and one for the start. A place moves the
    contact point p of its motif by dO + i theta' (p - O) per radian, which gives the Jacobian.
    """
    count = len(readies)
    taus = _first_guess(track, readies, start_tau, starts_with_gap=starts_with_gap)
    for iteration in range(_ITERATIONS):
        seats, standing = stand(track, readies, [float(t) for t in taus])
        gaps = neighbour_gaps(neighbours(standing))
        values = np.array([gap.gap_mm for gap in gaps])
        matrix = _jacobian(seats, gaps)
        wanted = np.zeros(count + 1)
        pin, miss = _pin(seats, start_tau, starts_with_gap=starts_with_gap)
        if values.max() - values.min() <= _SETTLED_MM and abs(miss) <= _SETTLED_RAD:
            return RingAnswer(tuple(float(t) for t in taus), float(values.min()), iteration)
        matrix[count, :count] = pin
        wanted[:count], wanted[count] = -values, -miss
        change = _solved(matrix, wanted)
        taus = taus + change[:count] * _step_limit(taus, change[:count])
    raise _unsettled(count)


def solve_stretch(track: Track, readies: Sequence[Ready], taus: Sequence[float]) -> RingAnswer:
    """Return places with the same real gap between all neighbours while the first and the last (of at least two) stay.

    ``taus`` is the start, in order. Residual at most 1e-11 mm. Raises GeometryError when it does not settle.
    """
    count = len(readies)
    places = np.array(taus, dtype=np.float64)
    for iteration in range(_ITERATIONS):
        seats, standing = stand(track, readies, [float(t) for t in places])
        # The gap from the last back to the first is measured and not used: its row and the ring's hold the two ends.
        gaps = neighbour_gaps(neighbours(standing))
        values = np.array([gap.gap_mm for gap in gaps[:-1]])
        if values.max() - values.min() <= _SETTLED_MM:
            return RingAnswer(tuple(float(t) for t in places), float(values.min()), iteration)
        matrix = _jacobian(seats, gaps)
        matrix[count - 1] = 0.0
        matrix[count - 1, count - 1] = matrix[count, 0] = 1.0
        change = _solved(matrix, np.array([*-values, 0.0, 0.0]))
        places = places + change[:count] * _step_limit(places, change[:count])
    raise _unsettled(count)


def _unsettled(count: int) -> GeometryError:
    say = f"the gaps of {count} motifs could not be made equal to {_SETTLED_MM} mm; take equal-arc or equal-chord."
    return GeometryError(say, code="no-equal-gap", count=count)


def _first_guess(track: Track, readies: Sequence[Ready], start_tau: float, *, starts_with_gap: bool) -> Floats:
    """Return places along the edge in proportion to the half widths that meet there."""
    widths = [max(ready.box.right, 0.1) - min(ready.box.left, -0.1) for ready in readies]
    shares = [(a + b) / 2 for a, b in zip(widths, [*widths[1:], widths[0]], strict=True)]
    # Half of the room goes by width and half evenly: gaps are seldom small against the motifs.
    step = edge_length_mm(track.edge)
    total = sum(shares)
    free = max(0.0, (step - total) / len(readies))
    tight = min(1.0, step / total)
    arcs = np.cumsum([0.0, *(share * tight + free for share in shares[:-1])])
    if starts_with_gap:
        arcs += (shares[-1] * tight + free) / 2
    # Lengths read off a table are near enough to start from.
    table = start_tau + np.linspace(0, math.tau, _TABLE + 1)
    speeds = np.array([track.edge.speed(float(tau)) for tau in table])
    lengths = np.concatenate([[0.0], np.cumsum((speeds[1:] + speeds[:-1]) / 2)])
    return np.asarray(np.interp(arcs, lengths * (step / lengths[-1]), table))


def _jacobian(seats: list[FootSeat], gaps: list[Gap]) -> Floats:
    """Return the matrix of the equations g(i, i+1) - G, the last row left empty."""
    count = len(seats)
    middle = np.array([seat.middle for seat in seats])
    rate = np.array([seat.middle_rate for seat in seats])
    turn = np.array([seat.turn_rate for seat in seats])
    unit = np.array([gap.direction for gap in gaps])
    on_a = np.array([gap.on_a for gap in gaps])
    on_b = np.array([gap.on_b for gap in gaps])
    after = np.roll(np.arange(count), -1)
    matrix = np.zeros((count + 1, count + 1))
    rows = np.arange(count)
    moved_a = rate + 1j * turn * (on_a - middle)
    moved_b = rate[after] + 1j * turn[after] * (on_b - middle[after])
    matrix[rows, rows] -= _dot(unit, moved_a)
    matrix[rows, after] += _dot(unit, moved_b)
    matrix[rows, count] = -1.0
    return matrix


def _pin(seats: list[FootSeat], start_tau: float, *, starts_with_gap: bool) -> tuple[Floats, float]:
    """Return the row that holds the ring's start, and by how much it is missed (radians of tau)."""
    row = np.zeros(len(seats))
    row[0] = 1.0
    if not starts_with_gap:
        return row, seats[0].tau - start_tau
    row[-1] += 1.0
    reach = _half_turn(seats[-1]) - _half_turn(seats[0])
    return row, seats[0].tau + seats[-1].tau + reach - 2 * start_tau - math.tau


def _half_turn(seat: FootSeat) -> float:
    """Return half the foot in radians of tau."""
    return abs(seat.right - seat.left) / 2 / max(abs(seat.middle_rate), 1e-300)


def _solved(matrix: Floats, wanted: Floats) -> Floats:
    """Return the solution; for a few repeats by least squares, since two on the ends of an oval are singular."""
    few = len(wanted) <= _FEW
    return np.asarray(np.linalg.lstsq(matrix, wanted)[0] if few else np.linalg.solve(matrix, wanted), dtype=np.float64)


def _step_limit(taus: Floats, change: Floats) -> float:
    """Return the share of a step that keeps at least ``_LEAST_SHARE`` of every distance between neighbours."""
    between = np.diff([*taus, taus[0] + math.tau])
    shrink = -np.diff([*change, change[0]]) / between
    worst = float(shrink.max())
    return 1.0 if worst <= 1 - _LEAST_SHARE else (1 - _LEAST_SHARE) / worst


def _dot(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((np.conj(a) * b).real)
