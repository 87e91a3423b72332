"""The exact point where one run of a ring ends and the next begins."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.tolerances import JOINT_MM, NATURAL_JOINT_MM, SAME_T, WELD_MM

__all__ = ["Joints", "Places", "Rules", "newton", "solve_joints", "walk"]

_ITERATIONS = 40
_GREATEST_STEP = 0.25  # of a segment: further the linear model means nothing
_SETTLED_MM = 1e-12  # convergence is quadratic: after a step this short only rounding is left


@dataclass(frozen=True, slots=True)
class Rules:
    """What a trace accepts beyond a plain union; the defaults are those of unions.

    ``accept`` says of solved joints (mm) whether they may stand; ``free_end_mm``: free ends of open chains this close
    are joined in their middle; ``crumb_mm``: lost edges shorter than this are dropped; ``dust_mm``: rings shorter
    than this are dropped; ``drops_pockets``: so are rings on which no chord is found at all.
    """

    accept: Callable[[Complexes], Bools] | None = None
    free_end_mm: float = 0.0
    crumb_mm: float = 0.0
    dust_mm: float = 0.0
    drops_pockets: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Places on segments: the segment and t of each."""

    segment: Ints
    t: Floats

    def taken(self, rows: Ints | Bools) -> Places:
        """Return some of the places."""
        return Places(self.segment[rows], self.t[rows])

    def copy(self) -> Places:
        """Return places with arrays of their own."""
        return Places(self.segment.copy(), self.t.copy())

    def put(self, rows: Ints, others: Places) -> None:
        """Replace the places ``rows`` by others; the arrays must be this function's own."""
        self.segment[rows], self.t[rows] = others.segment, others.t

    def point(self, chains: Chains) -> Complexes:
        """Return the points in mm, stored ends to the bit."""
        table = chains.table
        point = table.point(self.segment, self.t)
        point = np.where(self.t == 0, table.start[self.segment], point)
        return np.where(self.t == 1, table.end[self.segment], point)

    def since(self, earlier: Places, chains: Chains) -> Floats:
        """Return how far each place lies after ``earlier`` on its chain, in chain parameter, the short way round."""
        apart = (self.segment - earlier.segment) + (self.t - earlier.t)
        chain = chains.chain[self.segment]
        count = np.diff(chains.first)[chain]
        return np.asarray(np.where(chains.is_open[chain], apart, apart - count * np.rint(apart / count)))

    def is_free_end(self, chains: Chains) -> Bools:
        """Return which places are free ends of open chains."""
        at_end = (chains.following[self.segment] < 0) & (self.t >= 1 - SAME_T)
        return at_end | ((chains.preceding[self.segment] < 0) & (self.t <= SAME_T))


@dataclass(frozen=True, slots=True, eq=False)
class Joints:
    """Joints between the end ``a`` of a run and the start ``b`` of the next; ``point`` in mm stands in both runs.

    ``is_solved`` is False for patched joints: no crossing was found, and the polygon's vertex stands for it.
    ``is_natural``: the vertex itself lies on both curves, nothing had to be solved. ``miss``: how far the farther
    curve passes from the vertex of a patched joint (mm), else 0.
    """

    a: Places
    b: Places
    point: Complexes
    is_solved: Bools
    is_natural: Bools
    miss: Floats


def solve_joints(chains: Chains, a: Places, b: Places, vertex: Complexes, chord_mm: float, rules: Rules) -> Joints:
    """Return the joints of runs that part at ``vertex`` (mm), a and b being the places of the vertex on their chords.

    In this order: both curves pass through the vertex (natural); both places are free ends close together; the
    crossing of the two curves found by Newton from the chords' places; the same from the neighbouring segments, the
    one nearest the vertex; both curves within JOINT_MM of the vertex.
    """
    miss = _misses(chains, a, b, vertex)
    natural = miss <= NATURAL_JOINT_MM
    joints = Joints(a.copy(), b.copy(), vertex.copy(), natural.copy(), natural, np.zeros(len(miss)))
    joints = _with_free_ends(chains, joints, rules)
    for starts in (_plain_start, _neighbour_starts):
        rows = np.flatnonzero(~joints.is_solved)
        if not len(rows):
            return joints
        for some_a, some_b in starts(chains, a.taken(rows), b.taken(rows)):
            _try(chains, joints, rows, some_a, some_b, vertex, chord_mm, rules)
    is_solved = joints.is_solved | (miss <= JOINT_MM)
    return replace(joints, is_solved=is_solved, miss=np.where(is_solved, 0.0, miss))


def _misses(chains: Chains, a: Places, b: Places, vertex: Complexes) -> Floats:
    """Return the greater of the distances of both places from the vertex."""
    return np.asarray(np.maximum(abs(a.point(chains) - vertex), abs(b.point(chains) - vertex)))


def _with_free_ends(chains: Chains, joints: Joints, rules: Rules) -> Joints:
    """Return the joints with free ends of open chains snapped to the middle where they nearly touch."""
    if not rules.free_end_mm:
        return joints
    free = joints.a.is_free_end(chains) & joints.b.is_free_end(chains) & ~joints.is_solved
    free &= _misses(chains, joints.a, joints.b, joints.point) <= rules.free_end_mm
    middle = (joints.a.point(chains) + joints.b.point(chains)) / 2
    rounded = [Places(ends.segment, np.where(free, np.rint(ends.t), ends.t)) for ends in (joints.a, joints.b)]
    return replace(
        joints,
        a=rounded[0],
        b=rounded[1],
        point=np.where(free, middle, joints.point),
        is_solved=joints.is_solved | free,
    )


def _plain_start(chains: Chains, a: Places, b: Places) -> list[tuple[Places, Places]]:
    return [(a, b)]


def _neighbour_starts(chains: Chains, a: Places, b: Places) -> list[tuple[Places, Places]]:
    """Return starts on the same and the neighbouring segments of both chains, at the ends that face the joint."""

    def around(places: Places) -> list[Places]:
        after, before = chains.following[places.segment], chains.preceding[places.segment]
        stay = [np.where(other < 0, places.segment, other) for other in (after, before)]
        ends = [np.where(after < 0, 1.0, 0.0), np.where(before < 0, 0.0, 1.0)]
        return [places, Places(stay[0], ends[0]), Places(stay[1], ends[1])]

    return list(product(around(a), around(b)))[1:]


def _try(
    chains: Chains, joints: Joints, rows: Ints, a: Places, b: Places, vertex: Complexes, chord_mm: float, rules: Rules
) -> None:
    """Run Newton from the given starts and keep each good result that lies nearer the vertex than what was kept."""
    a, b = newton(chains, a, b)
    a, b, point = _snapped(chains, a, b)
    direction_a, direction_b = (chains.table.velocity(p.segment, p.t) for p in (a, b))
    size = np.maximum(abs(direction_a) * abs(direction_b), 1e-300)
    sine = abs((direction_a.conj() * direction_b).imag) / size
    reach = 4 * chord_mm / np.maximum(sine, np.sqrt(chord_mm / 50))
    distance = abs(point - vertex[rows])
    good = (_misses(chains, a, b, point) < JOINT_MM) & (distance <= reach)
    same_chain = chains.chain[a.segment] == chains.chain[b.segment]
    good &= ~(same_chain & (np.abs(a.since(b, chains)) < SAME_T))
    if rules.accept is not None:
        good &= rules.accept(point)
    good &= ~joints.is_solved[rows] | (distance < abs(joints.point[rows] - vertex[rows]))
    kept = rows[good]
    joints.a.put(kept, a.taken(good))
    joints.b.put(kept, b.taken(good))
    joints.point[kept], joints.is_solved[kept] = point[good], True


def newton(chains: Chains, a: Places, b: Places) -> tuple[Places, Places]:
    """Return places of a crossing of the two chains, from given places on both.

    A(t) + A' dt = B(s) + B' ds gives dt = (B - A) x B' / (A' x B'), ds = (B - A) x A' / (A' x B'). Leaving [0, 1] the
    walk goes on along the chain. Entries that do not converge come back as they stand.
    """
    a, b = a.copy(), b.copy()
    rows = np.arange(len(a.t))
    for _ in range(_ITERATIONS):
        p, q = a.taken(rows), b.taken(rows)
        apart = chains.table.point(q.segment, q.t) - chains.table.point(p.segment, p.t)
        va, vb = chains.table.velocity(p.segment, p.t), chains.table.velocity(q.segment, q.t)
        cross = _cross(va, vb)
        is_parallel = np.abs(cross) <= 1e-15 * abs(va) * abs(vb)
        cross = np.where(is_parallel, np.inf, cross)
        dt, ds = _cross(apart, vb) / cross, _cross(apart, va) / cross
        a.put(rows, walk(chains, p, np.clip(dt, -_GREATEST_STEP, _GREATEST_STEP)))
        b.put(rows, walk(chains, q, np.clip(ds, -_GREATEST_STEP, _GREATEST_STEP)))
        moved = np.maximum(np.abs(dt) * abs(va), np.abs(ds) * abs(vb))
        rows = rows[moved > _SETTLED_MM]
        if not len(rows):
            break
    return a, b


def walk(chains: Chains, places: Places, step: Floats) -> Places:
    """Return each place a step of t further along its chain.

    Past the end of a segment the rest of the step goes on on the neighbour, converted by the ratio of the speeds at
    the joint; past a free end it stops there.
    """
    segment, t = places.segment, places.t + step
    for is_past, neighbours, here, there in (
        (t > 1, chains.following, 1.0, 0.0),
        (t < 0, chains.preceding, 0.0, 1.0),
    ):
        rows = np.flatnonzero(is_past)
        if not len(rows):
            continue
        old, new = segment[rows], neighbours[segment[rows]]
        stops = new < 0
        new = np.where(stops, old, new)
        speeds = [abs(chains.table.velocity(s, np.full(len(rows), end))) for s, end in ((old, here), (new, there))]
        rest = (t[rows] - here) * speeds[0] / np.maximum(speeds[1], 1e-12)
        rest = np.clip(rest, -_GREATEST_STEP, _GREATEST_STEP)
        segment, t = segment.copy(), t.copy()
        segment[rows], t[rows] = new, np.where(stops, here, there + rest)
    return Places(segment, t)


def _snapped(chains: Chains, a: Places, b: Places) -> tuple[Places, Places, Complexes]:
    """Return the places moved to stored joints within WELD_MM, and the common point: such a joint's bits first."""
    ends = [_at_ends(chains, places) for places in (a, b)]
    point = np.where(_is_end(ends[0]), ends[0].point(chains), ends[1].point(chains))
    free = ~_is_end(ends[0]) & ~_is_end(ends[1])
    middle = (a.point(chains) + b.point(chains)) / 2
    return ends[0], ends[1], np.where(free, middle, point)


def _is_end(places: Places) -> Bools:
    return np.asarray((places.t == 0) | (places.t == 1))


def _at_ends(chains: Chains, places: Places) -> Places:
    """Return the places with t made 0 or 1 where the point is a stored end within WELD_MM."""
    point, table = chains.table.point(places.segment, places.t), chains.table
    t = np.where((abs(point - table.start[places.segment]) <= WELD_MM) & (places.t < 0.5), 0.0, places.t)
    return Places(places.segment, np.where((abs(point - table.end[places.segment]) <= WELD_MM) & (t > 0.5), 1.0, t))


def _cross(a: Complexes, b: Complexes) -> Floats:
    return np.asarray((a.conj() * b).imag, dtype=np.float64)
