"""Equal gaps round a closed ring, or over a stretch of it: Newton on all places at once."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.gap import neighbour_gaps
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.profile import Floats
from frameforge.frame.remembering import keep_places, kept_places
from frameforge.frame.ring_step import ring_step, stretch_step
from frameforge.frame.shooting import shoot_ring, shoot_stretch
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.standing import neighbours, stand
from frameforge.frame.trying import is_trying
from frameforge.tolerances import RING_MM, SAME_ANGLE_RAD

__all__ = ["RingAnswer", "neighbours", "solve_ring", "solve_stretch", "stand"]

_ITERATIONS = 40
_SETTLED_MM = 1e-11
_SETTLED_RAD = 1e-13
_PATIENCE = 12
"""Steps in which the worst gap must have halved, or Newton is going round in circles."""
_PATIENCE_TRYING = 6
"""Rings that close do so in 4 steps or 5; where there are other ways at hand no more is spent on one."""
_DEEP_MM = 1.0
_TABLE = 360
_LEAST_SHARE = 0.4
"""What a step must leave of the distance between two neighbours: no step shrinks it by more than 60 %."""


@dataclass(frozen=True, slots=True)
class RingAnswer:
    """Places of the repeats with the gap that all neighbours share, mm; below 0 when they stand in each other."""

    taus: tuple[float, ...]
    gap_mm: float
    iterations: int


def solve_ring(
    track: Track,
    readies: Sequence[Ready],
    start_tau: float,
    *,
    starts_with_gap: bool = False,
    turn_rad: float = math.tau,
) -> RingAnswer:
    """Return the places, clockwise from the first, at which all neighbours have the same real gap.

    The first repeat stays at ``start_tau``; with ``starts_with_gap`` the foot ends beside the last gap stand, seen from
    the middle, at equal angles from there. On a circle the readies may be one part of a ring that goes on with the
    same ones every ``turn_rad``. The common gap depends a little on the start. Residual at most ``RING_MM``.
    Raises GeometryError when the ring does not settle.

    Unknown are the places and the gap G, the equations g(i, i+1) = G and one for the start: Newton, and where that
    finds no end, stepping round with a gap and shooting for the one that closes the ring.
    """
    kept = kept_places(len(readies), turn_rad)
    direction = track.edge.direction_rad(start_tau)

    def step(taus: Floats) -> tuple[Floats, Floats, float]:
        ends = np.append(taus, taus[0] + turn_rad)
        seats, standing = stand(track, [*readies, readies[0]], ends.tolist())
        gaps = neighbour_gaps(list(pairwise(standing)))
        pin = (direction + turn_rad if starts_with_gap else start_tau, starts_with_gap)
        change, miss = ring_step(seats, standing, gaps, pin)
        return np.array([gap.gap_mm for gap in gaps]), change, miss

    def shoot(taus: Floats) -> Floats | None:
        return shoot_ring(track, readies, taus, turn_rad, direction + turn_rad if starts_with_gap else None)

    answer = _newton(np.array(kept), step, turn_rad) if kept else None
    if answer is None:
        places = _first_guess(track, readies, start_tau, turn_rad, starts_with_gap=starts_with_gap)
        answer = _settled(places, step, shoot, turn_rad)
    keep_places(answer.taus, turn_rad)
    return RingAnswer(_tidied(answer.taus, start_tau, turn_rad, starts_with_gap), answer.gap_mm, answer.iterations)


def solve_stretch(track: Track, readies: Sequence[Ready], taus: Sequence[float]) -> RingAnswer:
    """Return places with the same real gap between all neighbours while the first and the last (of at least two) stay.

    ``taus`` (radians) is the start, in order. Residual at most ``RING_MM``. Raises GeometryError where none settles.
    """

    def step(places: Floats) -> tuple[Floats, Floats, float]:
        seats, standing = stand(track, readies, places.tolist())
        gaps = neighbour_gaps(list(pairwise(standing)))
        return np.array([gap.gap_mm for gap in gaps]), stretch_step(seats, standing, gaps), 0.0

    return _settled(np.array(taus, dtype=np.float64), step, lambda places: shoot_stretch(track, readies, places), None)


Step = Callable[[Floats], tuple[Floats, Floats, float]]
"""Takes places; gives the gaps of all neighbours, Newton's change of the places, and how far the start is missed."""


def _settled(
    places: Floats, step: Step, shoot: Callable[[Floats], Floats | None], turn_rad: float | None
) -> RingAnswer:
    """Return what Newton comes to from ``places``, and from those of ``shoot`` where it comes to nothing."""
    answer = _newton(places, step, turn_rad)
    if answer is not None:
        return answer
    # Rings that Newton leaves open are few, and shooting takes seconds to see that none closes. Where all stand deep in
    # each other already, no places part them: what one gap gains another loses.
    found = None if is_trying() or _are_all_deep(places, step) else shoot(places)
    if found is None:
        raise _unsettled(len(places))
    better = _newton(found, step, turn_rad)
    if better is not None:
        return better
    gaps, _, miss = step(found)
    if np.ptp(gaps) > RING_MM or abs(miss) > SAME_ANGLE_RAD:
        raise _unsettled(len(places))
    return RingAnswer(tuple(found.tolist()), float(gaps.min()), _ITERATIONS)


def _are_all_deep(places: Floats, step: Step) -> bool:
    """Whether all neighbours stand in each other at ``places``, so that they do wherever they stand."""
    try:
        return float(step(places)[0].max()) < -_DEEP_MM
    except (GeometryError, np.linalg.LinAlgError):
        return False


def _newton(places: Floats, step: Step, turn_rad: float | None) -> RingAnswer | None:
    """Return the answer that Newton settles on; None when it does not, or leaves the order of the repeats."""
    spreads: list[float] = []
    patience = _PATIENCE_TRYING if is_trying() else _PATIENCE
    for iteration in range(_ITERATIONS):
        try:
            gaps, change, miss = step(places)
        except (GeometryError, np.linalg.LinAlgError):
            return None
        spreads.append(float(np.ptp(gaps)))
        if spreads[-1] <= _SETTLED_MM and abs(miss) <= _SETTLED_RAD:
            return RingAnswer(tuple(places.tolist()), float(gaps.min()), iteration)
        if iteration and _is_at_its_best(spreads[-2], spreads[-1]) and abs(miss) <= SAME_ANGLE_RAD:
            return RingAnswer(tuple(places.tolist()), float(gaps.min()), iteration)
        if iteration >= patience and min(spreads[-patience:]) > min(spreads[:-patience]) / 2:
            return None
        places = places + change * _step_limit(places, change, turn_rad)
    return None


def _is_at_its_best(before_mm: float, spread_mm: float) -> bool:
    """Whether gaps are as equal as they must be and become no more so: far from the middle rounding holds them off."""
    return spread_mm <= RING_MM and spread_mm > before_mm / 2


def _unsettled(count: int) -> GeometryError:
    say = f"the gaps of {count} motifs could not be made equal to {RING_MM:g} mm."
    return GeometryError(say, code="no-equal-gap", count=count)


def _first_guess(
    track: Track, readies: Sequence[Ready], start_tau: float, turn_rad: float, *, starts_with_gap: bool
) -> Floats:
    """Return places along the edge in proportion to the half widths that meet there."""
    widths = [max(ready.box.right, 0.1) - min(ready.box.left, -0.1) for ready in readies]
    shares = [(a + b) / 2 for a, b in zip(widths, [*widths[1:], widths[0]], strict=True)]
    # Half of the room goes by width and half evenly: gaps are seldom small against the motifs.
    whole = edge_length_mm(track.edge)
    step = whole * turn_rad / math.tau
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
    return np.asarray(np.interp(arcs, lengths * (whole / lengths[-1]), table))


def _step_limit(taus: Floats, change: Floats, turn_rad: float | None) -> float:
    """Return the share of a step that keeps at least ``_LEAST_SHARE`` of every distance between neighbours."""
    if turn_rad is not None:
        taus, change = np.append(taus, taus[0] + turn_rad), np.append(change, change[0])
    apart, nearing = np.diff(taus), -np.diff(change)
    if np.any((apart <= 0) & (nearing > 0)):
        # Those stand in one place already: nothing is left between them.
        return 0.0
    worst = float((nearing[apart > 0] / apart[apart > 0]).max(initial=0.0))
    return 1.0 if worst <= 1 - _LEAST_SHARE else (1 - _LEAST_SHARE) / worst


def _tidied(taus: tuple[float, ...], start_tau: float, turn_rad: float, is_gap: bool) -> tuple[float, ...]:
    """Return the places with what rounding did to them taken out, where the ring is its own mirror image.

    About its start place k is mirrored to n - k (n - 1 - k where a gap is there), about a quarter turn from it to
    n / 2 - k.
    """
    places, count = np.array(taus), len(taus)
    numbers = np.arange(count)
    for part in (1, 2) if count % 2 == 0 else (1,):
        other = count // part - numbers - is_gap
        mirrored = 2 * start_tau + turn_rad / part - (places[other % count] + other // count * turn_rad)
        if float(np.abs(places - mirrored).max()) <= SAME_ANGLE_RAD:
            places = (places + mirrored) / 2
    return tuple(places.tolist())
