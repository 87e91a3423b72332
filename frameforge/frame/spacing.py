"""Where spokes stand when they are spread by a rule that does not look at the motifs: equal angle, arc or chord."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.geometry.arclength import ellipse_length_mm, ellipse_perimeter_mm, equal_arc_rad, equal_chord_rad

__all__ = [
    "arc_from_top_mm", "arc_steps_mm", "edge_length_mm", "equal_angle", "equal_arc", "equal_chord",
    "equal_chord_between", "tau_at_arc",
]  # fmt: skip

_NEWTON_STEPS = 50
_CHORDS_SETTLED = 1e-13


def edge_length_mm(edge: Edge) -> float:
    """Return the length round the edge, mm; a parallel at d is longer by 2 pi d (Steiner)."""
    return ellipse_perimeter_mm(edge.half_width_mm, edge.half_height_mm) + math.tau * edge.offset_mm


def arc_from_top_mm(edge: Edge, tau: float) -> float:
    """Return the length along the edge from the top clockwise to tau, mm; below 0 for tau below 0.

    tau is the parameter of the ellipse with its axes swapped, and a parallel adds its distance times the turn of the
    normal.
    """
    length = ellipse_length_mm(edge.half_height_mm, edge.half_width_mm, tau)
    if not edge.offset_mm:
        return length
    turn = math.atan2(edge.half_height_mm * math.sin(tau), edge.half_width_mm * math.cos(tau))
    turn += round((tau - turn) / math.tau) * math.tau
    return length + edge.offset_mm * turn


def tau_at_arc(edge: Edge, arc_mm: float) -> float:
    """Return the tau (radians) that lies ``arc_mm`` clockwise from the top along the edge, to about 1e-14."""
    tau = arc_mm / edge_length_mm(edge) * math.tau
    low, high = tau - math.pi, tau + math.pi
    for _ in range(_NEWTON_STEPS):
        excess = arc_from_top_mm(edge, tau) - arc_mm
        low, high = (tau, high) if excess < 0 else (low, tau)
        better = tau - excess / edge.speed(tau)
        if not low <= better <= high:
            better = (low + high) / 2
        if abs(better - tau) <= 1e-15 * max(1.0, abs(tau)):
            return better
        tau = better
    return tau


def equal_angle(count: int, start_tau: float) -> tuple[float, ...]:
    """Return ``count`` equal turns from ``start_tau``; on a circle the spokes then stand evenly in every sense."""
    return tuple(start_tau + k * math.tau / count for k in range(count))


def equal_arc(edge: Edge, count: int, start_tau: float) -> tuple[float, ...]:
    """Return ``count`` places with the same length along the edge from each to the next, 1e-10 mm."""
    if edge.is_circle:
        return equal_angle(count, start_tau)
    if not edge.offset_mm:
        return equal_arc_rad(edge.half_height_mm, edge.half_width_mm, count, start_tau)
    first, step = arc_from_top_mm(edge, start_tau), edge_length_mm(edge) / count
    return (start_tau, *(tau_at_arc(edge, first + k * step) for k in range(1, count)))


def equal_chord(edge: Edge, count: int, start_tau: float) -> tuple[float, ...]:
    """Return ``count`` places with the same straight step from each to the next, 1e-10 mm."""
    if edge.is_circle:
        return equal_angle(count, start_tau)
    places = equal_chord_rad(edge.half_height_mm, edge.half_width_mm, count, start_tau)
    if not edge.offset_mm or count <= 2:
        return places
    return equal_chord_between(edge, (*places, start_tau + math.tau))[:-1]


def equal_chord_between(edge: Edge, taus: Sequence[float]) -> tuple[float, ...]:
    """Return places with the same straight step from each to the next while the first and the last stay, 1e-10 mm.

    ``taus`` (three or more, in order) is the start. Newton on places and step c together: F_i = |P(i+1) - P(i)| - c has
    two diagonals and a column, so that every change is a_i + b_i dc, and dc follows from the last place.
    Raises GeometryError when it does not settle.
    """
    places = list(taus)
    for _ in range(_NEWTON_STEPS):
        points = [edge.point(tau) for tau in places]
        speeds = [edge.velocity(tau) for tau in places]
        steps = [b - a for a, b in pairwise(points)]
        mean = sum(map(abs, steps)) / len(steps)
        changes, slopes = [0.0], [0.0]
        for k, step in enumerate(steps):
            unit = step.conjugate() / abs(step)
            own, other = (unit * speeds[k]).real, (unit * speeds[k + 1]).real
            changes.append((mean - abs(step) + own * changes[-1]) / other)
            slopes.append((1 + own * slopes[-1]) / other)
        by = -changes[-1] / slopes[-1]
        moves = [change + slope * by for change, slope in zip(changes, slopes, strict=True)]
        shrink = max((a - b) / (t - s) for (s, t), (a, b) in zip(pairwise(places), pairwise(moves), strict=True))
        share = min(1.0, 0.5 / max(shrink, 0.5))
        places = [places[0], *(t + share * m for t, m in zip(places[1:-1], moves[1:-1], strict=True)), places[-1]]
        if max(map(abs, moves)) < _CHORDS_SETTLED:
            return tuple(places)
    raise GeometryError("no equal chords were found here; take equal-arc.", code="no-equal-chord", count=len(places))


def arc_steps_mm(edge: Edge, taus: tuple[float, ...]) -> tuple[float, ...]:
    """Return the lengths along the edge from each place to the next, the last back to the first, mm."""
    arcs = [arc_from_top_mm(edge, tau) for tau in taus]
    arcs.append(arcs[0] + edge_length_mm(edge))
    return tuple(b - a for a, b in pairwise(arcs))
