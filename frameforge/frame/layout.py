"""A row laid out: where every repeat stands, and the gaps that come of it, measured."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from frameforge.frame.base import Edge
from frameforge.frame.gap import Gap, neighbour_gaps
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.seat import FootSeat
from frameforge.frame.spacing import equal_angle, equal_arc, equal_chord
from frameforge.frame.spec import Spread
from frameforge.frame.standing import stand

__all__ = ["Layout", "Start", "lay_out", "measured", "one_turn"]

Rule = Callable[[Edge, int, float], tuple[float, ...]]

_CENTRING_STEPS = 30


@dataclass(frozen=True, slots=True)
class Start:
    """Where a row begins: a direction clockwise from the top in radians, for a motif's axis or for a gap's middle."""

    direction_rad: float = 0.0
    is_gap: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """Repeats on their track, clockwise from the first, with what was measured between neighbours (mm).

    ``gaps[i]`` and ``foot_gaps[i]`` belong to repeat i and the next one; None where one of the two is left out, or
    where there is only one repeat. ``foot_gaps`` are below 0 where feet overlap, None for motifs without feet. Of an
    open row the last and the first are no neighbours: a zone is kept free between them.
    """

    track: Track
    readies: tuple[Ready, ...]
    seats: tuple[FootSeat, ...]
    is_there: tuple[bool, ...]
    gaps: tuple[Gap | None, ...]
    foot_gaps: tuple[float | None, ...]
    spread: Spread | None
    is_open: bool = False

    @property
    def gap_mm(self) -> float | None:
        """The least real gap."""
        return min((gap.gap_mm for gap in self.gaps if gap), default=None)

    @property
    def gap_max_mm(self) -> float | None:
        """The greatest real gap."""
        return max((gap.gap_mm for gap in self.gaps if gap), default=None)

    @property
    def foot_gap_mm(self) -> float | None:
        """The least straight distance between the feet of neighbours."""
        return min((gap for gap in self.foot_gaps if gap is not None), default=None)


def lay_out(track: Track, readies: Sequence[Ready], start: Start, spread: Spread) -> tuple[float, ...]:
    """Return the places (tau) of all repeats by the named rule.

    On a circle with one kind of motif all rules are equal turns. A pattern of unlike motifs, or of mirrored ones,
    stands by equal gaps unless equal arc or chord is asked for.
    """
    count = len(readies)
    edge = track.edge
    first = edge.tau_towards(start.direction_rad)
    if count == 1:
        return (first,)
    is_uniform = all(ready is readies[0] for ready in readies)
    if edge.is_circle and (is_uniform or spread != "equal-gap"):
        return equal_angle(count, first + (math.pi / count if start.is_gap else 0.0))
    if spread == "equal-gap":
        from frameforge.frame.ring import solve_ring  # here, since like motifs on a circle need no solving

        part = _part_of(track, readies)
        turn = math.tau * part / count
        taus = solve_ring(track, readies[:part], first, starts_with_gap=start.is_gap, turn_rad=turn).taus
        return tuple(taus[k % part] + k // part * turn for k in range(count))
    rule = equal_arc if spread == "equal-arc" else equal_chord
    return _round_a_gap(rule, edge, count, first) if start.is_gap else rule(edge, count, first)


def one_turn(track: Track, readies: Sequence[Ready], start: Start, spread: Spread) -> Layout | None:
    """Return the first repeats of a ring on a circle and the one after, where the rest only repeats them; else None.

    Between the last and the first of these nothing is measured. Gaps and seats are those of the whole ring.
    """
    count, part = len(readies), _part_of(track, readies)
    if part == count:
        return None
    turn = math.tau * part / count
    first = track.edge.tau_towards(start.direction_rad)
    if part == 1 or spread != "equal-gap":
        taus = equal_angle(count, first)[:part]
    else:
        from frameforge.frame.ring import solve_ring  # here, as above

        taus = solve_ring(track, readies[:part], first, starts_with_gap=start.is_gap, turn_rad=turn).taus
    is_there = (True,) * (part + 1)
    layout = measured(track, readies[: part + 1], (*taus, taus[0] + turn), is_there, spread, is_open=True)
    return replace(layout, is_open=False)


def _part_of(track: Track, readies: Sequence[Ready]) -> int:
    """Return how many repeats come round again and again on a circle; all of them elsewhere."""
    count = len(readies)
    if not track.edge.is_circle:
        return count
    parts = (n for n in range(1, count) if count % n == 0)
    return next((n for n in parts if all(readies[k] is readies[k % n] for k in range(n, count))), count)


def _round_a_gap(rule: Rule, edge: Edge, count: int, middle: float) -> tuple[float, ...]:
    """Return places by a rule so that ``middle`` lies half-way (in tau) between the last and the first."""
    first = middle + math.pi / count
    for _ in range(_CENTRING_STEPS):
        taus = rule(edge, count, first)
        miss = (taus[0] + taus[-1] - math.tau) / 2 - middle
        if abs(miss) < 1e-14:
            break
        first -= miss
    return taus


def measured(
    track: Track,
    readies: Sequence[Ready],
    taus: Sequence[float],
    is_there: Sequence[bool],
    spread: Spread | None,
    *,
    is_open: bool = False,
) -> Layout:
    """Return the layout of repeats at given places (``taus``, radians), every gap measured between neighbours there."""
    seats, standing = stand(track, readies, taus)
    count = len(seats)
    ring = [(k, (k + 1) % count) for k in range(count - is_open) if count > 1]
    pairs = [(k, after) for k, after in ring if is_there[k] and is_there[after]]
    gaps: list[Gap | None] = [None] * count
    feet: list[float | None] = [None] * count
    for (k, _), gap in zip(pairs, neighbour_gaps([(standing[a], standing[b]) for a, b in pairs]), strict=True):
        gaps[k] = gap
    if track.by == "foot":
        for k, after in pairs:
            feet[k] = seats[k].gap_to_mm(seats[after])
    return Layout(track, tuple(readies), tuple(seats), tuple(is_there), tuple(gaps), tuple(feet), spread, is_open)
