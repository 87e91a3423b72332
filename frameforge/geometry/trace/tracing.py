"""One pass over all rings of a result: polygons in, true curves out, and what did not go well."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.classify import Edges, classify
from frameforge.geometry.trace.emit import Pieces, cut_pieces, merged, to_outlines
from frameforge.geometry.trace.joints import Places, Rules, solve_joints
from frameforge.geometry.trace.nearby import Added
from frameforge.geometry.trace.runs import Rings, Runs, find_runs
from frameforge.geometry.trace.source import Source
from frameforge.tolerances import JOINT_MM

__all__ = ["Traced", "trace"]


@dataclass(frozen=True, slots=True)
class Traced:
    """Outlines by the number of their ring; rings that shrank to nothing are missing.

    ``lost``, ``patched``: places (mm) of edges that lie on no chord, and of joints without an exact crossing.
    ``touches``: places where another outline only touched and was left out. ``crossings``: the joints that had to be
    solved, as places on either curve.
    """

    outlines: dict[int, Outline]
    lost: tuple[complex, ...]
    patched: tuple[complex, ...]
    touches: tuple[complex, ...]
    crossings: tuple[Added, Added]


def trace(rings: Rings, source: Source, rules: Rules = Rules()) -> Traced:  # noqa: B008
    """Return the true outlines of rings whose edges are chords of ``source``."""
    if not len(rings.point):
        none = Added(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0, dtype=np.complex128))
        return Traced({}, (), (), (), (none, none))
    edges = classify(rings.point, rings.first, source)
    runs = find_runs(rings, edges, source.chains)
    ends = _Ends.from_runs(runs)
    ends.lives &= ~_dropped_rings(rings, edges, rules)[runs.ring]
    _settle(ends, runs, source, rules)
    return _result(ends, runs, source)


def _dropped_rings(rings: Rings, edges: Edges, rules: Rules) -> Bools:
    """Return which rings are left out: those shorter than dust, and those without a single chord if so ruled."""
    dropped = np.zeros(len(rings.first) - 1, dtype=bool)
    if rules.dust_mm:
        dropped |= np.add.reduceat(abs(rings.next_point - rings.point), rings.first[:-1]) < rules.dust_mm
    if rules.drops_pockets:
        dropped |= np.maximum.reduceat(edges.segment, rings.first[:-1]) < 0
    return dropped


@dataclass(slots=True, eq=False)
class _Ends:
    """The runs while their joints are being solved; the arrays are changed in place.

    Joint j stands between run j and the next living run of its ring.
    """

    start: Places
    stop: Places
    length: Floats
    begin: Complexes
    finish: Complexes
    lives: Bools
    is_whole: Bools
    is_open: Bools
    is_patched: Bools
    is_crossing: Bools
    touches: list[complex] = field(default_factory=list)

    @classmethod
    def from_runs(cls, runs: Runs) -> _Ends:
        many = len(runs.ring)
        start, stop = (
            Places(runs.from_segment.copy(), runs.from_t.copy()),
            Places(runs.to_segment.copy(), runs.to_t.copy()),
        )
        return cls(
            start, stop, runs.length.copy(), runs.begin.copy(), runs.finish.copy(),
            np.ones(many, dtype=bool), runs.is_whole.copy(), ~runs.is_whole, np.zeros(many, dtype=bool),
            np.zeros(many, dtype=bool),
        )  # fmt: skip

    def next_living(self, ring: Ints) -> Ints:
        """Return for every living run the next one of its ring, itself where it is alone; -1 for the others."""
        after = np.full(len(ring), -1)
        living = np.flatnonzero(self.lives)
        if not len(living):
            return after
        order = ring[living]
        is_last = np.append(order[1:] != order[:-1], True)
        heads = np.append(True, order[1:] != order[:-1])
        first_of_ring = living[heads]
        after[living[~is_last]] = living[1:][~is_last[:-1]]
        after[living[is_last]] = first_of_ring
        return after


def _settle(ends: _Ends, runs: Runs, source: Source, rules: Rules) -> None:
    """Solve all joints; drop runs that come out with no length and solve again between their neighbours."""
    while True:
        after = ends.next_living(runs.ring)
        _solve_open_joints(ends, runs, after, source, rules)
        crumbs = _crumbs(ends, runs, rules, source)
        if not len(crumbs):
            return
        ends.lives[crumbs] = False
        _close_up(ends, runs, after, source)


def _solve_open_joints(ends: _Ends, runs: Runs, after: Ints, source: Source, rules: Rules) -> None:
    """Solve the joints marked open and write them into both runs."""
    chains = source.chains
    joint = np.flatnonzero(ends.is_open & ends.lives & ~ends.is_whole)
    ends.is_open[joint] = False
    nxt = after[joint]
    known = (runs.chain[joint] >= 0) & (runs.chain[nxt] >= 0)
    for rows in (joint[~known],):
        _join_lost(ends, runs, rows, after)
    joint, nxt = joint[known], nxt[known]
    if not len(joint):
        return
    a, b = ends.stop.taken(joint), ends.start.taken(nxt)
    vertex = np.where(
        ends.finish[joint] == ends.begin[nxt], ends.finish[joint], (ends.finish[joint] + ends.begin[nxt]) / 2
    )
    solved = solve_joints(chains, a, b, vertex, source.chord_mm, rules)
    ends.length[joint] += runs.way[joint] * solved.a.since(a, chains)
    ends.stop.put(joint, solved.a)
    ends.length[nxt] -= runs.way[nxt] * solved.b.since(b, chains)
    ends.start.put(nxt, solved.b)
    ends.finish[joint] = ends.begin[nxt] = solved.point
    ends.is_patched[joint] = ~solved.is_solved
    ends.is_crossing[joint] = solved.is_solved & ~solved.is_natural


def _join_lost(ends: _Ends, runs: Runs, joint: Ints, after: Ints) -> None:
    """Let lost edges keep the polygon's vertices as their ends."""
    for j in joint.tolist():
        point = ends.finish[j] if runs.chain[j] < 0 else ends.begin[after[j]]
        ends.finish[j] = ends.begin[after[j]] = point
        ends.is_patched[j] = False


def _crumbs(ends: _Ends, runs: Runs, rules: Rules, source: Source) -> Ints:
    """Return the runs that have no length: solved to nothing or backwards, or lost edges shorter than allowed."""
    some = ends.lives & ~ends.is_whole
    gap = abs(ends.finish - ends.begin)
    speed = abs(source.chains.table.velocity(ends.start.segment, ends.start.t))
    is_short = (gap <= JOINT_MM) & (ends.length * speed <= 10 * JOINT_MM)
    is_nothing = (runs.chain >= 0) & ((ends.length <= 0) | is_short)
    is_lost_crumb = (runs.chain < 0) & (gap < max(rules.crumb_mm, JOINT_MM))
    return np.flatnonzero(some & (is_nothing | is_lost_crumb))


def _close_up(ends: _Ends, runs: Runs, before: Ints, source: Source) -> None:
    """Bring together the runs on both sides of dropped ones: joined where they continue each other, else to be
    solved. ``before`` are the neighbours as they were."""
    chains = source.chains
    counts = np.diff(chains.first)
    after = ends.next_living(runs.ring)
    for j in np.flatnonzero(ends.lives & (after != before) & ~ends.is_whole).tolist():
        k = int(after[j])
        while k != j and not ends.lives[k]:
            k = int(ends.next_living(runs.ring)[j])
        middle = (ends.finish[j] + ends.begin[k]) / 2
        here, there = ends.stop.taken(np.array([j])), ends.start.taken(np.array([k]))
        apart = float(there.since(here, chains)[0]) if runs.chain[j] == runs.chain[k] and runs.chain[j] >= 0 else 1.0
        speed = float(abs(chains.table.velocity(here.segment, here.t)[0]))
        goes_on = runs.way[j] == runs.way[k] and abs(apart) * speed <= 10 * JOINT_MM
        if not goes_on:
            ends.is_open[j] = True
            ends.finish[j] = ends.begin[k] = middle
            continue
        ends.touches.append(complex(middle))
        if k == j:
            ends.is_whole[j] = abs(ends.length[j] - counts[runs.chain[j]]) < 0.5
            continue
        ends.lives[k] = False
        ends.length[j] += ends.length[k] + runs.way[j] * apart
        ends.stop.put(np.array([j]), ends.stop.taken(np.array([k])))
        for column in (ends.finish, ends.is_open, ends.is_patched, ends.is_crossing):
            column[j] = column[k]


def _result(ends: _Ends, runs: Runs, source: Source) -> Traced:
    """Return the outlines of the living runs."""
    chains = source.chains
    living = np.flatnonzero(ends.lives)
    lost = living[runs.chain[living] < 0]
    patched = living[ends.is_patched[living]]
    lost_places = tuple(((ends.begin[lost] + ends.finish[lost]) / 2).tolist())
    patched_places = tuple(ends.finish[patched].tolist())
    joint = living[ends.is_crossing[living]]
    after = ends.next_living(runs.ring)[joint]
    sides = (ends.stop.taken(joint), ends.start.taken(after))
    crossings = (
        Added(sides[0].segment, sides[0].t, ends.finish[joint]),
        Added(sides[1].segment, sides[1].t, ends.finish[joint]),
    )
    if not len(living):
        return Traced({}, lost_places, patched_places, tuple(ends.touches), crossings)
    traced = living[runs.chain[living] >= 0]
    whole = ends.is_whole[traced]
    way, chain = runs.way[traced], runs.chain[traced]
    start = _whole_or(ends.start.taken(traced), whole, chains, chain, way, 0)
    stop = _whole_or(ends.stop.taken(traced), whole, chains, chain, way, 1)
    length = np.where(whole, np.diff(chains.first)[chain], ends.length[traced])
    points = [
        np.where(whole, p.point(chains), solved[traced]) for p, solved in ((start, ends.begin), (stop, ends.finish))
    ]
    pieces = cut_pieces(chains, traced, way, (start, stop), length, (points[0], points[1]))
    nothing = np.zeros(len(lost))
    lines = Pieces(lost, np.full(len(lost), -1), nothing, nothing, ends.begin[lost], ends.finish[lost])
    both = Pieces.joined((pieces, lines))
    both = both.taken(np.argsort(both.ring, kind="stable"))
    both = replace(both, ring=runs.ring[both.ring])
    outlines = to_outlines(*merged(both, chains.table, source.labels), chains.table)
    return Traced(outlines, lost_places, patched_places, tuple(ends.touches), crossings)


def _whole_or(places: Places, whole: Bools, chains: Chains, chain: Ints, way: Ints, end: int) -> Places:
    """Return the places, those of whole chains put at the chain's first joint (``end`` 0: start, 1: stop)."""
    at_first = (way > 0) == (end == 0)
    segment = np.where(at_first, chains.first[chain], chains.first[chain + 1] - 1)
    return Places(np.where(whole, segment, places.segment), np.where(whole, np.where(at_first, 0.0, 1.0), places.t))
