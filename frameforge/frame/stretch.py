"""The free stretch: the edge beside a zone that is kept free, and a row spread over it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.layout import Layout, Start, lay_out, measured
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.ring import solve_stretch
from frameforge.frame.spacing import arc_from_top_mm, equal_chord_between, tau_at_arc
from frameforge.frame.spec import Spread
from frameforge.frame.standing import standing_at
from frameforge.frame.zone import reaches_into

__all__ = ["spread_beside"]

_STEPS = 60
_SETTLED_RAD = 1e-13


def spread_beside(
    track: Track, readies: Sequence[Ready], zone: tuple[float, float], start: Start, spread: Spread
) -> Layout:
    """Return all repeats spread over what a zone leaves of the edge, none of them reaching into it.

    ``zone`` is (width, middle) in degrees, the middle clockwise from the top. The outermost parts of the first and the
    last repeat come to the ends of the zone; in between gaps are equal, or arcs, or straight steps from place to
    place, as the row is spread. The ring is open: over the zone nothing is measured. A single one goes to the middle.

    A zone narrower than the gaps beside it needs no more room than a gap has: then the ring is closed, begun where
    ``start`` says if that leaves the zone free, else with the middle of a gap at the middle of the zone.
    Raises GeometryError where the repeats do not find room.
    """
    opened = _over_stretch(track, readies, zone, spread)
    *inner, over = (gap.gap_mm if gap else math.inf for gap in opened.gaps)
    if len(readies) > 2 and over >= min(inner):
        return _opened(opened)
    for begun in (start, Start(math.radians(zone[1]), is_gap=True)):
        closed = measured(track, readies, lay_out(track, readies, begun, spread), (True,) * len(readies), spread)
        if _is_free(closed, zone):
            return closed
    return _opened(opened) if len(readies) <= 2 else opened


def _opened(layout: Layout) -> Layout:
    """Return the layout with nothing measured over the zone."""
    return replace(layout, gaps=(*layout.gaps[:-1], None), foot_gaps=(*layout.foot_gaps[:-1], None), is_open=True)


def _is_free(layout: Layout, zone: tuple[float, float]) -> bool:
    return not any(reaches_into(layout, k, *zone) for k in range(len(layout.seats)))


def _over_stretch(track: Track, readies: Sequence[Ready], zone: tuple[float, float], spread: Spread) -> Layout:
    """Return the repeats over the stretch from one end of the zone to the other, all gaps measured."""
    begin = math.radians(zone[1] + zone[0] / 2)
    end = begin + math.tau - math.radians(zone[0])
    taus = _places(track, readies, (begin, end), spread)
    layout = measured(track, readies, taus, (True,) * len(readies), spread)
    if len(readies) == 1 and not _is_free(layout, zone):
        raise _no_room(1)
    return layout


def _places(track: Track, readies: Sequence[Ready], stretch: tuple[float, float], spread: Spread) -> tuple[float, ...]:
    """Return the places of repeats over a stretch between two directions, clockwise from the top in radians."""
    if len(readies) == 1:
        return (track.edge.tau_towards(sum(stretch) / 2),)
    first = _reaching_to(track, readies[0], stretch[0], "begin")
    last = _reaching_to(track, readies[-1], stretch[1], "end")
    if not first < last:
        raise _no_room(len(readies))
    shares = [k / (len(readies) - 1) for k in range(len(readies))]
    if track.edge.is_circle:
        even = tuple(first + share * (last - first) for share in shares)
        if spread != "equal-gap" or all(ready is readies[0] for ready in readies):
            return even
    else:
        arcs = arc_from_top_mm(track.edge, first), arc_from_top_mm(track.edge, last)
        inner = [tau_at_arc(track.edge, arcs[0] + share * (arcs[1] - arcs[0])) for share in shares[1:-1]]
        even = (first, *inner, last)
        if spread == "equal-chord" and len(readies) > 2:
            return equal_chord_between(track.edge, even)
    return solve_stretch(track, readies, even).taus if spread == "equal-gap" else even


def _no_room(count: int) -> GeometryError:
    return GeometryError(f"beside the zone kept free there is no room for {count}.", code="no-room", count=count)


def _reaching_to(track: Track, ready: Ready, direction_rad: float, which: Literal["begin", "end"]) -> float:
    """Return the place at which the first (or last) bit of a motif, seen from the middle, lies in a direction."""
    tau = track.edge.tau_towards(direction_rad)
    before: tuple[float, float] | None = None
    for _ in range(_STEPS):
        miss = _reach(track, ready, tau, direction_rad, which)
        # On a circle the reach moves with the place; elsewhere nearly so, and the last two places tell how.
        rate = (miss - before[1]) / (tau - before[0]) if before and tau != before[0] else 1.0
        before = (tau, miss)
        if abs(miss) <= _SETTLED_RAD:
            break
        tau -= miss / (rate if 0.2 < rate < 5 else 1.0)
    return tau


def _reach(track: Track, ready: Ready, tau: float, direction_rad: float, which: Literal["begin", "end"]) -> float:
    """Return how far past a direction, clockwise in radians, the first or last bit of a motif at tau lies."""
    placed = standing_at(track, ready, track.seat(ready, tau)).points
    past = -np.angle(placed * complex(math.sin(direction_rad), math.cos(direction_rad)).conjugate())
    return float(past.min() if which == "begin" else past.max())
