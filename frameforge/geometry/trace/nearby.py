"""The guard: where curves come close, chords alone must not decide on which side of each other they run.

Chords stand off their curves by up to the chord distance, so two circles that overlap by less may come out apart, and
a corner just inside a curve may poke through its chord. At every place where two segments come within a few chord
distances of each other both get a vertex at the true closest approach. There the polygons then lie as the curves do,
whatever the chord distance; where the curves touch, both get the very same vertex.

Four kinds of place: a joint near a segment (its foot of the perpendicular), two segments with a common normal, and
stretches that run close along each other, or into a cusp (feet of all vertices of one on the other), and crossings that
a third curve passes close by.
"""

from __future__ import annotations

import numpy as np
import shapely

from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints, SegmentTable
from frameforge.geometry.trace.added import MOST_FEET, Added, dropped_feet, inserted
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.crossings import crossings, near_third_curves
from frameforge.geometry.trace.cubic_loops import self_crossings
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.vertices import Vertices
from frameforge.tolerances import JOINT_MM

__all__ = ["NEAR", "near_pairs", "with_near_places"]

NEAR = 2.5  # times the chord distance: each of two curves may stand off its chords by one
_CUSP_RAD = 0.35  # joints that turn back more sharply than this leave chords on both sides within reach of each other
_ALONG_RAD = 0.5  # curves that meet more steeply part at once
_ITERATIONS = 12
_GREATEST_STEP = 0.25


def with_near_places(chains: Chains, labels: Ints, vertices: Vertices, strips: Strips, chord_mm: float) -> Vertices:
    """Return the vertices with those of all close approaches (within 2.5 ``chord_mm``) added.

    ``strips`` holds the chords of ``vertices``, ``labels`` the support of each segment.
    """
    near_mm = NEAR * chord_mm
    one, two = near_pairs(chains, labels, strips, near_mm)
    starts = _nearest(strips, one, two)
    crossing = crossings(chains, strips, (one, two), starts)
    before, after = _strips_at_cusps(chains, strips)
    along = _run_along(chains.table, strips, (one, two), starts)
    single = Added.joined(
        _feet(chains, strips, near_mm),
        _common_normals(chains.table, strips, (one, two), starts, near_mm),
        _common_normals(chains.table, strips, (before, after), _half_a_chord_in(strips, before, after), near_mm),
        _small_loops(chains.table),
        near_third_curves(chains, strips, *crossing, near_mm),
    )
    added = Added.joined(
        single,
        _rungs_at(chains, labels, strips, single, near_mm),
        _rungs(chains, strips, np.concatenate([one[along], before]), np.concatenate([two[along], after]), near_mm),
        _rungs(chains, strips, np.concatenate([two[along], after]), np.concatenate([one[along], before]), near_mm),
    )
    return inserted(chains, labels, vertices, strips, added, chord_mm) if len(added.t) else vertices


def _feet(chains: Chains, strips: Strips, near_mm: float) -> Added:
    """Return vertices at the feet of the perpendiculars from joints, and free ends, onto segments near them."""
    free = np.flatnonzero(chains.following < 0)
    points = np.concatenate([chains.table.start, chains.table.end[free]])
    after = np.concatenate([np.arange(len(chains.table)), np.full(len(free), -1)])
    before = np.concatenate([chains.preceding, free])
    joint, strip = strips.near_points(points, near_mm)
    is_own = (strips.segment[strip] == after[joint]) | (strips.segment[strip] == before[joint])
    return dropped_feet(chains, strips, points[joint[~is_own]], strip[~is_own], near_mm)


def near_pairs(chains: Chains, labels: Ints, strips: Strips, near_mm: float) -> tuple[Ints, Ints]:
    """Return pairs of strips within ``near_mm`` of each other; not neighbours on a chain, nor on one support."""
    one, two = strips.candidates(near_mm)
    a, b = strips.segment[one], strips.segment[two]
    is_pair = (labels[a] != labels[b]) & (chains.following[a] != b) & (chains.preceding[a] != b)
    one, two = one[is_pair], two[is_pair]
    is_pair = strips.are_near(one, two, near_mm)
    return one[is_pair], two[is_pair]


def _strips_at_cusps(chains: Chains, strips: Strips) -> tuple[Ints, Ints]:
    """Return the strips before and after every joint at which the outline turns back on itself."""
    table, after = chains.table, chains.following
    every = np.flatnonzero(after >= 0)
    arrives = table.velocity(every, np.ones(len(every)))
    leaves = table.velocity(after[every], np.zeros(len(every)))
    cusp = every[np.abs(np.angle(-leaves * arrives.conj())) < _CUSP_RAD]
    return np.searchsorted(strips.segment, cusp, side="right") - 1, np.searchsorted(strips.segment, after[cusp])


def _run_along(table: SegmentTable, strips: Strips, pairs: tuple[Ints, Ints], starts: tuple[Floats, Floats]) -> Bools:
    """Return which pairs of strips run roughly along each other, either way, where they come nearest."""
    one, two = (table.velocity(strips.segment[side], t) for side, t in zip(pairs, starts, strict=True))
    return np.asarray(np.abs(_cross(one, two)) <= np.sin(_ALONG_RAD) * abs(one) * abs(two))


def _rungs(chains: Chains, strips: Strips, one: Ints, two: Ints, near_mm: float) -> Added:
    """Return vertices on the strips ``two`` at the feet of vertices of the strips ``one`` no further than ``near_mm``.

    Where curves run along each other the chords of both then part at the same places, like a ladder's rungs, and keep
    the order of the curves.
    """
    if len(one) > MOST_FEET:
        return Added.nothing()
    point = strips.points[one]
    number, column = np.nonzero(strips.distances(two, point) <= near_mm)
    return dropped_feet(chains, strips, point[number, column], two[number], near_mm)


def _rungs_at(chains: Chains, labels: Ints, strips: Strips, added: Added, near_mm: float) -> Added:
    """Return vertices at the feet of added vertices on all other curves no further than ``near_mm``."""
    number, strip = strips.near_points(added.point, near_mm)
    own, other = added.segment[number], strips.segment[strip]
    is_other = (labels[own] != labels[other]) & (chains.following[own] != other) & (chains.preceding[own] != other)
    return dropped_feet(chains, strips, added.point[number[is_other]], strip[is_other], near_mm)


def _small_loops(table: SegmentTable) -> Added:
    """Return vertices where cubics cross themselves and half-way round the loop, which chords may overlook."""
    row, low, high = self_crossings(table)
    crossing = (table.point(row, low) + table.point(row, high)) / 2
    middle = (low + high) / 2
    return Added(
        np.tile(row, 3),
        np.concatenate([low, high, middle]),
        np.concatenate([crossing, crossing, table.point(row, middle)]),
    )


def _nearest(strips: Strips, one: Ints, two: Ints) -> tuple[Floats, Floats]:
    """Return t on both strips of each pair where their chords come nearest to each other."""
    shortest = shapely.get_coordinates(shapely.shortest_line(strips.lines[one], strips.lines[two]))
    ends = shortest.view(np.complex128).reshape(-1, 2)
    return strips.nearest_t(one, ends[:, 0]), strips.nearest_t(two, ends[:, 1])


def _half_a_chord_in(strips: Strips, before: Ints, after: Ints) -> tuple[Floats, Floats]:
    """Return t half a chord before the end of one strip and half a chord after the start of the other."""
    t, s = strips.t[before], strips.t[after]
    return (1 + np.where(t < 1, t, 0).max(axis=1)) / 2, np.where(s > 0, s, 1).min(axis=1) / 2


def _common_normals(
    table: SegmentTable, strips: Strips, pairs: tuple[Ints, Ints], starts: tuple[Floats, Floats], near_mm: float
) -> Added:
    """Return vertices on both sides of places where two segments have a common normal no longer than ``near_mm``."""
    a, b = (strips.segment[side] for side in pairs)
    t, s, is_found = _normal(table, a, starts[0], b, starts[1])
    on_a, on_b = table.point(a, t), table.point(b, s)
    gap = abs(on_b - on_a)
    is_found &= (gap <= near_mm) & (t > 0) & (t < 1) & (s > 0) & (s < 1)
    on_b = np.where(gap <= JOINT_MM, on_a, on_b)
    a, b = a[is_found], b[is_found]
    return Added.joined(Added(a, t[is_found], on_a[is_found]), Added(b, s[is_found], on_b[is_found]))


def _normal(table: SegmentTable, a: Ints, t: Floats, b: Ints, s: Floats) -> tuple[Floats, Floats, Ints]:
    """Return t, s of a common normal near a start, and whether there is one.

    Newton on A' x B' = 0 and (B - A) . A' = 0: parallel tangents and a normal between them. Unlike the two
    perpendicularity conditions this stays regular where the curves touch or overlap, if their curvatures differ.
    """
    is_found = np.zeros(len(t), dtype=bool)
    curves_a, curves_b = table.curves(a), table.curves(b)
    for _ in range(_ITERATIONS):
        (on_a, a1, a2), (on_b, b1, b2) = curves_a.motion(t), curves_b.motion(s)
        apart = on_b - on_a
        f, g = _cross(a1, b1), _dot(apart, a1)
        ft, fs = _cross(a2, b1), _cross(a1, b2)
        gt, gs = _dot(apart, a2) - _dot(a1, a1), _dot(b1, a1)
        det = ft * gs - fs * gt
        det = np.where(det == 0, np.inf, det)
        dt, ds = (fs * g - gs * f) / det, (gt * f - ft * g) / det
        t = np.clip(t + np.clip(dt, -_GREATEST_STEP, _GREATEST_STEP), 0, 1)
        s = np.clip(s + np.clip(ds, -_GREATEST_STEP, _GREATEST_STEP), 0, 1)
        is_found = np.isfinite(det) & (np.abs(dt) * abs(a1) + np.abs(ds) * abs(b1) < JOINT_MM)
        if is_found.all():
            break
    return t, s, is_found


def _dot(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((a.conj() * b).real)


def _cross(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((a.conj() * b).imag)
