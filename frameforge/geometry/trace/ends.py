"""The ends of runs while the joints between them are being solved."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from frameforge.geometry.segment_table import Bools, Complexes, Floats, Ints
from frameforge.geometry.trace.joints import Places, Rules, solve_joints
from frameforge.geometry.trace.runs import Runs
from frameforge.geometry.trace.source import Source
from frameforge.tolerances import JOINT_MM

__all__ = ["Ends", "settle"]


@dataclass(slots=True, eq=False)
class Ends:
    """One entry a run; the arrays are changed in place. Joint j stands between run j and the next living run.

    ``start``, ``stop``: places of both ends on the chain; ``length``: in chain parameter; ``begin``, ``finish``: both
    joints in mm; ``lives``: not dropped; ``is_whole``: a closed chain without joints; ``is_open``: joint j is yet to
    be solved; ``is_crossing``: it had to be solved; ``miss``: how far (mm) the curves pass from a joint for which no
    crossing was found, else 0.
    """

    start: Places
    stop: Places
    length: Floats
    begin: Complexes
    finish: Complexes
    lives: Bools
    is_whole: Bools
    is_open: Bools
    is_crossing: Bools
    miss: Floats

    @classmethod
    def from_runs(cls, runs: Runs) -> Ends:
        """Return the ends as the polygon has them, all joints open."""
        many = len(runs.ring)
        start, stop = Places(runs.from_segment, runs.from_t), Places(runs.to_segment, runs.to_t)
        return cls(
            start.copy(), stop.copy(), runs.length.copy(), runs.begin.copy(), runs.finish.copy(),
            np.ones(many, dtype=bool), runs.is_whole.copy(), ~runs.is_whole, np.zeros(many, dtype=bool), np.zeros(many),
        )  # fmt: skip

    def next_living(self, ring: Ints) -> Ints:
        """Return for every living run the next one of its ring, itself where it is alone; -1 for the others."""
        after = np.full(len(ring), -1)
        living = np.flatnonzero(self.lives)
        if len(living):
            is_head = np.append(True, np.diff(ring[living]) != 0)
            is_last = np.append(is_head[1:], True)
            after[living[~is_last]] = living[1:][~is_last[:-1]]
            after[living[is_last]] = living[is_head]
        return after


def settle(ends: Ends, runs: Runs, source: Source, rules: Rules) -> None:
    """Solve all joints; drop runs that come out with no length and solve again between their neighbours.

    Runs that turn back on their own chain are a spur without width: shapely makes them where an earlier step has put
    a crossing, rounded, on one of two common chords. They are cut back first.
    """
    after = ends.next_living(runs.ring)
    turns = (runs.chain == runs.chain[after]) & (runs.way != runs.way[after]) & (runs.chain >= 0)
    _close_up(ends, runs, np.flatnonzero(turns & ends.lives), source)
    while True:
        after = ends.next_living(runs.ring)
        _solve_open_joints(ends, runs, after, source, rules)
        crumbs = _crumbs(ends, runs, source, rules)
        if not len(crumbs):
            return
        ends.lives[crumbs] = False
        changed = ends.lives & (ends.next_living(runs.ring) != after) & ~ends.is_whole
        _close_up(ends, runs, np.flatnonzero(changed), source)


def _solve_open_joints(ends: Ends, runs: Runs, after: Ints, source: Source, rules: Rules) -> None:
    """Solve the joints marked open and write them into both runs; lost edges keep the polygon's vertices."""
    joint = np.flatnonzero(ends.is_open & ends.lives & ~ends.is_whole)
    ends.is_open[joint] = False
    is_known = (runs.chain[joint] >= 0) & (runs.chain[after[joint]] >= 0)
    lost = joint[~is_known]
    vertex = np.where(runs.chain[lost] < 0, ends.finish[lost], ends.begin[after[lost]])
    ends.finish[lost] = ends.begin[after[lost]] = vertex
    joint = joint[is_known]
    if len(joint):
        _solve(ends, runs, joint, after[joint], source, rules)


def _solve(ends: Ends, runs: Runs, joint: Ints, nxt: Ints, source: Source, rules: Rules) -> None:
    """Solve the joints between the runs ``joint`` and ``nxt``."""
    a, b = ends.stop.taken(joint), ends.start.taken(nxt)
    finish, begin = ends.finish[joint], ends.begin[nxt]
    vertex = np.where(finish == begin, finish, (finish + begin) / 2)
    solved = solve_joints(source.chains, a, b, vertex, source.chord_mm, rules)
    ends.length[joint] += runs.way[joint] * solved.a.since(a, source.chains)
    ends.length[nxt] -= runs.way[nxt] * solved.b.since(b, source.chains)
    ends.stop.put(joint, solved.a)
    ends.start.put(nxt, solved.b)
    ends.finish[joint] = ends.begin[nxt] = solved.point
    ends.is_crossing[joint] = solved.is_solved & ~solved.is_natural
    ends.miss[joint] = solved.miss


def _crumbs(ends: Ends, runs: Runs, source: Source, rules: Rules) -> Ints:
    """Return the runs that have no length: solved to nothing or backwards, or lost edges shorter than allowed."""
    gap = abs(ends.finish - ends.begin)
    speed = abs(source.chains.table.velocity(ends.start.segment, ends.start.t))
    is_nothing = (ends.length <= 0) | ((gap <= JOINT_MM) & (ends.length * speed <= 10 * JOINT_MM))
    is_nothing = np.where(runs.chain >= 0, is_nothing, gap < max(rules.crumb_mm, JOINT_MM))
    return np.flatnonzero(ends.lives & ~ends.is_whole & is_nothing)


def _close_up(ends: Ends, runs: Runs, joints: Ints, source: Source) -> None:
    """Bring together the runs on both sides of some joints: made one where the second continues the first, cut back
    where it turns back on it, else marked to be solved."""
    for first in joints.tolist():
        j = first
        while ends.lives[j] and not ends.is_whole[j] and ends.length[j] > 0:
            k = int(ends.next_living(runs.ring)[j])
            apart = _apart(ends, runs, j, k, source)
            if apart is None:
                ends.is_open[j] = True
                ends.finish[j] = ends.begin[k] = (ends.finish[j] + ends.begin[k]) / 2
                break
            if runs.way[j] == runs.way[k]:
                _make_one(ends, runs, j, k, apart)
                break
            j = _cut_back(ends, runs, j, k)


def _make_one(ends: Ends, runs: Runs, j: int, k: int, apart: float) -> None:
    """Let run j go on as run k; a run that meets its own start is the whole chain."""
    if k == j:
        ends.is_whole[j] = True
        return
    ends.length[j] += ends.length[k] + runs.way[j] * apart
    _end_as(ends, j, k)


def _end_as(ends: Ends, j: int, k: int) -> None:
    """Let run j end where run k ends, and drop k."""
    ends.lives[k] = False
    ends.stop.put(np.array([j]), ends.stop.taken(np.array([k])))
    for column in (ends.finish, ends.is_open, ends.is_crossing, ends.miss):
        column[j] = column[k]


def _cut_back(ends: Ends, runs: Runs, j: int, k: int) -> int:
    """Take the shorter of two runs that lie on each other from both, and return the run whose joint is new."""
    rest = float(ends.length[j] - ends.length[k])
    if rest > 0:
        ends.length[j] = rest
        _end_as(ends, j, k)
        return j
    before = int(np.flatnonzero(ends.next_living(runs.ring) == j)[0])
    ends.lives[j] = False
    ends.length[k] = -rest
    ends.start.put(np.array([k]), ends.start.taken(np.array([j])))
    ends.begin[k] = ends.begin[j]
    return before


def _apart(ends: Ends, runs: Runs, j: int, k: int, source: Source) -> float | None:
    """Return how far run k starts after the end of run j if it starts there on the same chain, else None."""
    if runs.chain[j] < 0 or runs.chain[j] != runs.chain[k] or (j == k and runs.way[j] != runs.way[k]):
        return None
    here, there = ends.stop.taken(np.array([j])), ends.start.taken(np.array([k]))
    apart = float(there.since(here, source.chains)[0])
    speed = float(abs(source.chains.table.velocity(here.segment, here.t)[0]))
    return apart if abs(apart) * speed <= 10 * JOINT_MM else None
