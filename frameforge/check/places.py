"""Samples of tangent discs gathered into places: one thin neck, one slot, one finger each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from frameforge.check.chords import Chords, FloatArray, IntArray
from frameforge.check.discs import BoolArray, DiscSamples

__all__ = ["Form", "Place", "find_places"]

Form = Literal["neck", "web", "dangling", "whole"]
"""neck: within one loop; web: between two loops; dangling: ends free; whole: every loop of it is thin all along."""

PARTNER_STEPS = 1.01
"""A contact belongs to the samples within this many steps of it: samples are at most one step apart."""


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """One place: its form and the numbers of its opposite samples, those with least radius first."""

    form: Form
    samples: IntArray


def find_places(chords: Chords, discs: DiscSamples) -> tuple[Place, ...]:
    """Return the places where walls face each other nearer than the screen, in the order of their first sample."""
    opposite = discs.is_opposite
    if not opposite.any():
        return ()
    edge = _Edge.of(chords, discs)
    loop = edge.loop
    opposite_run = _runs(loop, opposite)
    loose_run, loose_whole = _runs(loop, discs.is_loose), _whole_runs(loop, discs.is_loose)
    facing_from, facing_to = _facing(edge, opposite)
    group = _joined(opposite_run, facing_from, facing_to)
    members = np.flatnonzero(opposite)
    faced_loop, faced = _faced(edge, members)
    places = []
    order = np.argsort(group[members], kind="stable")
    cuts = np.flatnonzero(np.diff(group[members][order])) + 1
    for some in np.split(order, cuts):
        if len(some):
            mine = members[some]
            form = _form(loop[mine], faced_loop[some], mine, faced[some], loose_run, loose_whole)
            places.append(Place(form, mine[np.argsort(discs.radius[mine], kind="stable")]))
    return tuple(sorted(places, key=lambda place: int(place.samples.min())))


@dataclass(frozen=True, slots=True, eq=False)
class _Edge:
    """The samples in order along all loops: ``key`` is the way walked, loop after loop, ``base`` where each begins."""

    chords: Chords
    discs: DiscSamples
    loop: IntArray
    key: FloatArray
    base: FloatArray
    reach: float

    @classmethod
    def of(cls, chords: Chords, discs: DiscSamples) -> _Edge:
        """Return the samples with loops set so far apart that none reaches into the next."""
        loop, reach = chords.loop[discs.chord], PARTNER_STEPS * discs.step
        base = np.concatenate([[0.0], np.cumsum(chords.loop_length + 4 * reach)])
        return cls(chords, discs, loop, base[loop] + discs.along, base, reach)

    def contact(self, mine: IntArray) -> tuple[IntArray, FloatArray]:
        """Return loop and place along it of the contacts of some samples."""
        k = self.discs.partner[mine]
        return self.chords.loop[k], self.chords.along[k] + np.abs(self.discs.contact[mine] - self.chords.start[k])

    def near(self, loops: IntArray, along: FloatArray) -> tuple[IntArray, IntArray]:
        """Return pairs (number of the asked place, sample) of all samples within a step of places on loops."""
        pairs = []
        for shift in (-1, 0, 1):
            want = self.base[loops] + along + shift * self.chords.loop_length[loops]
            low = np.searchsorted(self.key, want - self.reach)
            high = np.searchsorted(self.key, want + self.reach, side="right")
            count = np.maximum(high - low, 0)
            asked = np.repeat(np.arange(len(want)), count)
            nth = np.arange(len(asked)) - np.repeat(np.cumsum(count) - count, count)
            sample = low[asked] + nth
            good = self.loop[sample] == loops[asked]
            pairs.append((asked[good], sample[good]))
        return np.concatenate([p[0] for p in pairs]), np.concatenate([p[1] for p in pairs])


def _runs(loop: IntArray, flag: BoolArray) -> IntArray:
    """Return for each sample the number of its run of flagged samples, -1 where not flagged; loops are closed."""
    begins = np.ones(len(flag), dtype=np.bool_)
    begins[1:] = (flag[1:] != flag[:-1]) | (loop[1:] != loop[:-1])
    run = np.cumsum(begins) - 1
    for first, last in _loop_ends(loop):
        if flag[first] and flag[last] and run[first] != run[last]:
            mine = run[first : last + 1]
            mine[mine == run[last]] = run[first]
    return np.where(flag, run, -1)


def _whole_runs(loop: IntArray, flag: BoolArray) -> BoolArray:
    """Return for each sample whether every sample of its loop is flagged."""
    whole = np.ones(int(loop.max()) + 1 if len(loop) else 0, dtype=np.bool_)
    whole[loop[~flag]] = False
    return whole[loop]


def _loop_ends(loop: IntArray) -> list[tuple[int, int]]:
    """Return (first, last) sample of each loop."""
    if not len(loop):
        return []
    first = np.concatenate([[0], np.flatnonzero(np.diff(loop)) + 1])
    last = np.concatenate([first[1:] - 1, [len(loop) - 1]])
    return list(zip(first.tolist(), last.tolist(), strict=True))


def _facing(edge: _Edge, opposite: BoolArray) -> tuple[IntArray, IntArray]:
    """Return pairs of opposite samples that lie at each other's contact with normals that face."""
    mine = np.flatnonzero(opposite)
    asked, sample = edge.near(*edge.contact(mine))
    source = mine[asked]
    normal = edge.discs.normal
    faces = (np.conj(normal[source]) * normal[sample]).real < 0
    good = faces & opposite[sample]
    return source[good], sample[good]


def _joined(run: IntArray, left: IntArray, right: IntArray) -> IntArray:
    """Return the runs renumbered so that runs with a pair between them share a number (union-find)."""
    parent = np.arange(int(run.max()) + 1 if len(run) else 0)

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = int(parent[i])
        return i

    # As one number each: rows of two would be sorted as bytes, which takes many times as long.
    for pair in np.unique(run[left] * len(parent) + run[right]).tolist():
        ra, rb = (root(i) for i in divmod(pair, len(parent)))
        parent[max(ra, rb)] = min(ra, rb)
    roots = np.array([root(i) for i in range(len(parent))], dtype=np.int64)
    return np.where(run >= 0, roots[run], -1)


def _faced(edge: _Edge, mine: IntArray) -> tuple[IntArray, IntArray]:
    """Return the loop that each sample of ``mine`` touches, and there the sample that looks back, -1 for none."""
    loops, along = edge.contact(mine)
    asked, near = edge.near(loops, along)
    # At a corner several normals share one point: the partner is a sample that looks back.
    normal = edge.discs.normal
    back = edge.discs.is_loose[near] & ((np.conj(normal[mine[asked]]) * normal[near]).real < 0)
    return loops, _closest_sample(edge.discs, along, asked[back], near[back], len(mine))


def _form(
    loop: IntArray, faced_loop: IntArray, mine: IntArray, faced: IntArray, loose_run: IntArray, whole: BoolArray
) -> Form:
    """Return the form of the place made of the samples ``mine``, on ``loop``, that face the samples ``faced``."""
    both = np.concatenate([mine, faced[faced >= 0]])
    if bool(np.all(whole[both])):
        return "whole"
    runs = loose_run[both]
    if bool(np.all(runs == runs[0])) and not bool(np.any(faced < 0)):
        return "dangling"
    return "neck" if bool(np.all(loop == loop[0]) and np.all(faced_loop == loop[0])) else "web"


def _closest_sample(discs: DiscSamples, along: FloatArray, asked: IntArray, near: IntArray, count: int) -> IntArray:
    """Return for each asked place the sample nearest along the loop, -1 where there is none."""
    result = np.full(count, -1, dtype=np.int64)
    distance = np.abs(discs.along[near] - along[asked])
    order = np.lexsort((distance, asked))
    first = np.ones(len(order), dtype=np.bool_)
    first[1:] = asked[order][1:] != asked[order][:-1]
    result[asked[order][first]] = near[order][first]
    return result
