"""The free stretch: what is left of a row when a zone is kept free, spread anew over the rest of the edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.layout import Layout, measured
from frameforge.frame.ornament import Ready
from frameforge.frame.place import Track
from frameforge.frame.presence import reaches_into
from frameforge.frame.ring import solve_stretch
from frameforge.frame.spacing import arc_from_top_mm, equal_chord_between, tau_at_arc
from frameforge.frame.spec import Spread
from frameforge.frame.standing import standing_at

__all__ = ["spread_over_rest"]

_STEPS = 60
_SETTLED_RAD = 1e-13


def spread_over_rest(layout: Layout, zone: tuple[float, float], where: str) -> Layout:
    """Return the ring with all repeats that keep out of the zone spread evenly over the free stretch.

    ``zone`` is (width, middle) in degrees, the middle clockwise from the top. The outermost parts of the first and the
    last repeat come to the ends of the zone; in between gaps are equal, or arcs, or straight steps from place to
    place, as the row is spread. A single one goes to the middle of the stretch. Repeats that reach into the zone stay
    where they are, to be left out; when none does, nothing moves. Raises GeometryError when no repeat is left.
    """
    count = len(layout.seats)
    inside = [reaches_into(layout, k, *zone) for k in range(count)]
    if not any(inside):
        return layout
    kept = _in_order(inside)
    if not kept:
        say = f"no motif is left outside a zone of {zone[0]:g} degrees. Make the zone narrower, or leave the row out."
        raise GeometryError(say, where=where, code="no-room", zone_deg=zone[0])
    readies = [layout.readies[k] for k in kept]
    begin = math.radians(zone[1] + zone[0] / 2)
    end = begin + math.tau - math.radians(zone[0])
    places = _places(layout.track, readies, (begin, end), layout.spread)
    taus = [seat.tau for seat in layout.seats]
    for k, tau in zip(kept, places, strict=True):
        taus[k] += math.remainder(tau - taus[k], math.tau)
    return measured(layout.track, layout.readies, taus, (True,) * count, layout.spread)


def _in_order(inside: Sequence[bool]) -> list[int]:
    """Return the repeats outside the zone, clockwise from its end."""
    count, first = len(inside), inside.index(True)
    return [k % count for k in range(first, first + count) if not inside[k % count]]


def _places(
    track: Track, readies: Sequence[Ready], stretch: tuple[float, float], spread: Spread | None
) -> tuple[float, ...]:
    """Return the places of repeats over a stretch between two directions, clockwise from the top in radians."""
    if len(readies) == 1:
        return (track.edge.tau_towards(sum(stretch) / 2),)
    first = _reaching_to(track, readies[0], stretch[0], "begin")
    last = _reaching_to(track, readies[-1], stretch[1], "end")
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
