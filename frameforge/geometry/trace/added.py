"""Vertices to be added to chords, and how they come to be common to all curves through them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.clusters import clusters
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.vertices import Vertices, ordered
from frameforge.tolerances import SUPPORT_MM, WELD_MM

__all__ = ["MOST_FEET", "Added", "dropped_feet", "inserted", "perpendicular"]

MOST_FEET = 200_000
_ITERATIONS = 12
_GREATEST_STEP = 0.25
_SETTLED_MM = 1e-12  # convergence is quadratic: after a step this short only rounding is left
_REACH = 2.5  # times the chord distance: how far a strip may lie from a point of its own curve, with room to spare


@dataclass(frozen=True, slots=True, eq=False)
class Added:
    """Vertices to be added: segment, t, point."""

    segment: Ints
    t: Floats
    point: Complexes

    @classmethod
    def nothing(cls) -> Added:
        """Return no vertices."""
        return cls(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0, dtype=np.complex128))

    @classmethod
    def joined(cls, *parts: Added) -> Added:
        """Return the vertices of all parts."""
        return cls(*(np.concatenate([getattr(part, name) for part in parts]) for name in cls.__slots__))


def dropped_feet(
    chains: Chains, strips: Strips, point: Complexes, strip: Ints, near_mm: float, same_mm: float = WELD_MM
) -> Added:
    """Return vertices at the feet of the perpendiculars from points onto the segments of strips near them.

    A foot at an end of its segment adds nothing; one within ``same_mm`` of its point becomes that very point. Of more
    than ``MOST_FEET`` pairs none are made: hundreds of curves then run through one place, as in the middle of a tight
    bend cut into chords, and no vertices would part them.
    """
    if len(strip) > MOST_FEET:
        return Added.nothing()
    table, segment = chains.table, strips.segment[strip]
    t = perpendicular(table, segment, strips.nearest_t(strip, point), point)
    foot = table.point(segment, t)
    gap = abs(foot - point)
    foot = np.where(gap <= same_mm, point, foot)
    is_foot = (t > 0) & (t < 1) & (gap <= near_mm)
    return Added(segment[is_foot], t[is_foot], foot[is_foot])


def perpendicular(table: SegmentTable, segment: Ints, t: Floats, point: Complexes) -> Floats:
    """Return t of the foot of each perpendicular near its start: Newton on (P - point) . P' = 0, kept in [0, 1]."""
    curves = table.curves(segment)
    for _ in range(_ITERATIONS):
        at, first, second = curves.motion(t)
        apart = at - point
        slope = np.maximum(_dot(first, first) + _dot(apart, second), 0.1 * _dot(first, first))
        step = -_dot(apart, first) / np.maximum(slope, 1e-300)
        t = np.clip(t + np.clip(step, -_GREATEST_STEP, _GREATEST_STEP), 0, 1)
        if np.abs(step * abs(first)).max(initial=0) < _SETTLED_MM:
            break
    return t


def inserted(
    chains: Chains, labels: Ints, vertices: Vertices, strips: Strips, added: Added, chord_mm: float
) -> Vertices:
    """Return the vertices with others added; an old one in the same place gives way unless it is a joint.

    All segments of one support that run through the place get the vertex, with the same bits, so that their common
    chords stay common.
    """
    added = Added.joined(added, _on_same_support(chains, labels, strips, added, chord_mm))
    label = clusters((labels[added.segment].astype(np.float64), added.point.real, added.point.imag), WELD_MM)
    leader = np.unique(label, return_index=True)[1]
    point = added.point[leader][label]
    segment = np.concatenate([added.segment, vertices.segment])
    t = np.concatenate([added.t, vertices.t])
    point = np.concatenate([point, vertices.point])
    is_new = np.arange(len(t)) < len(added.t)
    rank = np.where(~is_new & ((t == 0) | (t == 1)), 0, np.where(is_new, 1, 2))
    is_kept = np.ones(len(t), dtype=bool)
    some = np.flatnonzero(np.isin(segment, added.segment))
    speed = abs(chains.table.velocity(segment[some], t[some]))
    is_kept[some] = _kept(segment[some], t[some], speed, rank[some])
    return ordered(chains, segment[is_kept], t[is_kept], point[is_kept])


def _on_same_support(chains: Chains, labels: Ints, strips: Strips, added: Added, chord_mm: float) -> Added:
    """Return the same vertices for the other segments that run through them on the same support."""
    is_common = np.bincount(labels)[labels[added.segment]] > 1
    some = Added(added.segment[is_common], added.t[is_common], added.point[is_common])
    if not len(some.t):
        return some
    number, strip = strips.near_points(some.point, _REACH * chord_mm)
    segment = strips.segment[strip]
    is_other = (labels[segment] == labels[some.segment[number]]) & (segment != some.segment[number])
    number, strip = number[is_other], strip[is_other]
    return dropped_feet(chains, strips, some.point[number], strip, SUPPORT_MM, SUPPORT_MM)


def _kept(segment: Ints, t: Floats, speed: Floats, rank: Ints) -> Bools:
    """Return which vertices stay when of several in one place (within WELD_MM) only the lowest rank does."""
    order = np.lexsort((t, segment))
    close = (np.diff(segment[order]) == 0) & (
        np.diff(t[order]) * np.minimum(speed[order][1:], speed[order][:-1]) < WELD_MM
    )
    place = np.concatenate([[0], np.cumsum(~close)])
    best = np.lexsort((t[order], rank[order], place))
    first = np.ones(len(best), dtype=bool)
    first[1:] = np.diff(place[best]) != 0
    kept = np.zeros(len(t), dtype=bool)
    kept[order[best[first]]] = True
    near_end = (1 - t) * speed < WELD_MM
    return np.asarray(kept & ~(near_end & (rank == 1)))


def _dot(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((a.conj() * b).real)
