"""A stated gap stepped round an edge: all neighbours stand that far apart, what is left over lies at the seam."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.errors import GeometryError, InputError
from frameforge.frame.gap import Gap, Standing, neighbour_gaps
from frameforge.frame.layout import Layout, measured
from frameforge.frame.model import RowModel
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Floats
from frameforge.frame.ring_step import gap_miss, gap_rates, turn_of_end
from frameforge.frame.seat import FootSeat
from frameforge.frame.solve import MOST_REPEATS
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import Size
from frameforge.frame.standing import stand
from frameforge.tolerances import CHAIN_MM, GAP_SLACK_MM, SAME_ANGLE_RAD

__all__ = ["LEAST_COUNT", "Chain", "chain_of", "longest_chain", "seam_deg", "step_gaps"]

LEAST_COUNT = 3
"""Of two repeats the gap and the seam are one and the same straight line, so a rest needs a third."""

_ITERATIONS = 80
_SETTLED_MM = 1e-11
_SETTLED_RAD = 1e-13
_TABLE = 360
_LEAST_SHARE = 0.4
"""What a step must leave of the distance between two neighbours."""


@dataclass(frozen=True, slots=True)
class Chain:
    """Repeats clockwise from the seam, each ``gap_mm`` from the next, their places ``taus``.

    ``seam_gap_mm`` is what the last and the first leave between them (mm, measured as the gap is), ``seam_rad`` the
    direction of its middle, clockwise from the top. The middle halves the angle, seen from the middle of the piece,
    between the two foot ends that face each other.
    """

    track: Track
    readies: tuple[Ready, ...]
    taus: tuple[float, ...]
    gap_mm: float
    seam_gap_mm: float
    seam_rad: float

    @property
    def count(self) -> int:
        """How many repeats there are."""
        return len(self.readies)

    def layout(self) -> Layout:
        """Return the chain laid out and measured, the gap at the seam among its gaps."""
        return measured(self.track, self.readies, self.taus, (True,) * self.count, None)


def seam_deg(model: RowModel) -> float:
    """Return the direction of the row's seam, degrees clockwise from the top: stated, or opposite the row's start.

    Raises InputError where a stated start is not opposite a stated seam.
    """
    row = model.row
    opposite = (row.start_deg + 180.0) % 360.0
    if row.seam_deg is None:
        return opposite
    if row.start_deg and abs(math.remainder(row.seam_deg - opposite, 360.0)) > math.degrees(SAME_ANGLE_RAD):
        say = (
            f"the row starts at {row.start_deg:g} deg, so its seam lies at {opposite:g} deg, not at "
            f"{row.seam_deg % 360:g}. Leave out the start or the seam."
        )
        raise InputError(say, where=model.spec.name, start_deg=row.start_deg, seam_deg=row.seam_deg)
    return row.seam_deg % 360.0


def longest_chain(model: RowModel, size: Size, scale: float, gap_mm: float) -> Chain | None:
    """Return the chain of the most repeats whose seam is at least as wide as the gap; None below three repeats.

    Counts are whole patterns, and even where the row starts with a gap: it lies opposite the seam. ``GAP_SLACK_MM`` is
    forgiven. None as well where motifs a foot gap apart stand in each other above their feet. Raises GeometryError
    where the row has no edge to stand on.
    """
    unit = math.lcm(model.unit, 2) if model.row.starts_with_gap else model.unit
    track, widths = model.track(size, scale), [_width_mm(ready) for ready in model.readies(model.unit, scale)]
    pitch = sum(widths) / len(widths) + gap_mm
    low, high, best = math.ceil(LEAST_COUNT / unit) - 1, MOST_REPEATS // unit + 1, None
    # From the least on: a crowd far too large takes long to be seen for one.
    groups = max(low + 1, round(edge_length_mm(track.edge) / pitch / unit))
    while high - low > 1:
        groups = groups if low < groups < high else (low + high) // 2
        chain = _tried(model, size, groups * unit, scale, gap_mm)
        room = -math.inf if chain is None else chain.seam_gap_mm - gap_mm
        if room >= -GAP_SLACK_MM:
            low, best = groups, chain
        else:
            high = groups
        if math.isfinite(room):
            # What is over, or missing, at the seam tells about how many more go, or how many are too many.
            groups += max(1, math.floor(room / pitch / unit)) if room >= 0 else -max(1, math.ceil(-room / pitch / unit))
    if best is not None and model.row.foot_gap_mm is not None and _overlaps(best):
        return None
    return best


def _overlaps(chain: Chain) -> bool:
    """Whether neighbours stand in each other, whatever the gap between their feet."""
    gap = chain.layout().gap_mm
    return gap is not None and gap < -GAP_SLACK_MM


def _tried(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> Chain | None:
    """Return the chain of a count; None for too few repeats, or where they do not go on the edge."""
    try:
        return chain_of(model, size, count, scale, gap_mm) if count >= LEAST_COUNT else None
    except GeometryError:
        return None


def chain_of(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> Chain:
    """Return the chain of exactly ``count`` (three or more) repeats; below 0 at the seam they stand in each other.

    Raises GeometryError when a foot finds no seat or the gaps do not settle to ``CHAIN_MM``.
    """
    track, readies = model.track(size, scale), model.readies(count, scale)
    seam = math.radians(seam_deg(model))
    by_foot = model.row.foot_gap_mm is not None
    taus = _solved(track, readies, gap_mm, seam, by_foot=by_foot)
    if taus[-1] - taus[0] >= math.tau:
        return Chain(track, readies, taus, gap_mm, -math.inf, seam)
    closing = step_gaps(*stand(track, (readies[-1], readies[0]), (taus[-1], taus[0])), by_foot=by_foot)[0]
    return Chain(track, readies, taus, gap_mm, closing.gap_mm, seam)


def step_gaps(seats: Sequence[FootSeat], standing: Sequence[Standing], *, by_foot: bool) -> list[Gap]:
    """Return the gap from every repeat but the last to the next: between outlines, or between foot ends."""
    if not by_foot:
        return neighbour_gaps(list(pairwise(standing)))
    gaps = []
    for seat, after in pairwise(seats):
        across = after.left - seat.right
        line = after.middle - seat.middle
        gap_mm = seat.gap_to_mm(after)
        unit = math.copysign(1.0, gap_mm) * across / abs(across) if across else line / abs(line)
        gaps.append(Gap(gap_mm, seat.right, after.left, unit))
    return gaps


def _solved(
    track: Track, readies: Sequence[Ready], gap_mm: float, seam_rad: float, *, by_foot: bool
) -> tuple[float, ...]:
    """Return places, clockwise from the seam, with ``gap_mm`` between neighbours and the seam's middle in its place.

    Newton from places that leave the gap between outline boxes. The equations g(i, i+1) = gap form two diagonals, so
    every step follows from that of the first repeat, and the middle of the seam settles that one.
    """
    taus = _first_guess(track, readies, gap_mm, seam_rad)
    best, kept = math.inf, taus
    for _ in range(_ITERATIONS):
        seats, standing = stand(track, readies, [float(t) for t in taus])
        gaps = step_gaps(seats, standing, by_foot=by_foot)
        excess = np.array([gap.gap_mm for gap in gaps]) - gap_mm
        worst, miss = float(np.abs(excess).max()), gap_miss(seats[-1], seats[0], seam_rad)
        is_no_better = best <= CHAIN_MM and worst > best / 2
        if abs(miss) <= _SETTLED_RAD and worst < best:
            best, kept = worst, taus
        if best <= _SETTLED_MM or is_no_better:
            break
        change = _newton_step(seats, standing, gaps, excess, miss)
        if not (np.isfinite(change).all() and np.diff(taus).all()):
            break  # two repeats in one place, as on a base of next to nothing: there is no step from there
        taus = taus + change * _step_limit(taus, change)
    if best > CHAIN_MM:
        say = (
            f"gaps of {gap_mm:g} mm between {len(readies)} motifs cannot be stepped round this edge. Take another gap."
        )
        raise GeometryError(say, code="no-chain", count=len(readies), gap_mm=gap_mm)
    return _tidied(track, readies, kept, seam_rad)


def _first_guess(track: Track, readies: Sequence[Ready], gap_mm: float, seam_rad: float) -> Floats:
    """Return places along the edge by half widths and gap, half of their way each side of opposite the seam."""
    widths = [_width_mm(ready) for ready in readies]
    arcs = np.cumsum([0.0, *((a + b) / 2 + gap_mm for a, b in pairwise(widths))])
    arcs -= arcs[-1] / 2
    middle = track.edge.tau_towards(seam_rad) + math.pi
    # Lengths read off a table of one turn are near enough to start from.
    table = np.linspace(0, math.tau, _TABLE + 1)
    speeds = np.array([track.edge.speed(middle + float(turn)) for turn in table])
    lengths = np.concatenate([[0.0], np.cumsum((speeds[1:] + speeds[:-1]) / 2)])
    around = edge_length_mm(track.edge)
    turns = np.floor(arcs / around)
    within = np.interp(arcs - turns * around, lengths * (around / lengths[-1]), table)
    return np.asarray(middle + within + turns * math.tau)


def _width_mm(ready: Ready) -> float:
    """Return how wide a motif is about its axis, both sides counted."""
    return max(ready.box.right, 0.1) - min(ready.box.left, -0.1)


def _newton_step(
    seats: Sequence[FootSeat], standing: Sequence[Standing], gaps: Sequence[Gap], excess: Floats, miss: float
) -> Floats:
    """Return the change of all places: base + slope times the change of the first one; NaN where a gap has no rate."""
    own, other = gap_rates(seats, standing, gaps)
    base, slope = np.zeros(len(seats)), np.ones(len(seats))
    if not np.all(other):
        return np.full(len(seats), np.nan)
    for k in range(len(gaps)):
        base[k + 1] = (-excess[k] - own[k] * base[k]) / other[k]
        slope[k + 1] = -own[k] * slope[k] / other[k]
    first, last = turn_of_end(seats[0], "left"), turn_of_end(seats[-1], "right")
    start = (-2 * miss - last * base[-1]) / (first + last * slope[-1])
    return np.asarray(base + slope * start)


def _step_limit(taus: Floats, change: Floats) -> float:
    """Return the share of a step that keeps enough of every distance between neighbours."""
    shrink = float((-np.diff(change) / np.diff(taus)).max())
    return 1.0 if shrink <= 1 - _LEAST_SHARE else (1 - _LEAST_SHARE) / shrink


def _tidied(track: Track, readies: Sequence[Ready], taus: Floats, seam_rad: float) -> tuple[float, ...]:
    """Return the places with what rounding did to them taken out, where the row is its own mirror image."""
    middle = track.edge.tau_towards(seam_rad) + math.pi
    mirrored = 2 * middle - taus[::-1]
    if float(np.abs(taus - mirrored).max()) > SAME_ANGLE_RAD:
        return tuple(float(t) for t in taus)
    if track.edge.is_circle and all(ready is readies[0] for ready in readies):
        pitch = float(taus[-1] - taus[0]) / (len(taus) - 1)
        return tuple(middle + (k - (len(taus) - 1) / 2) * pitch for k in range(len(taus)))
    return tuple(float(t) for t in (taus + mirrored) / 2)
