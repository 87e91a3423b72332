"""One pass over all rings of a result: polygons in, true curves out, and what did not go well."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from frameforge.geometry.outline import Outline
from frameforge.geometry.segment_table import Bools, Complexes, Ints
from frameforge.geometry.trace.added import Added
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.classify import Edges, classify, point_keys
from frameforge.geometry.trace.emit import Pieces, cut_pieces, merged, to_table
from frameforge.geometry.trace.ends import Ends, settle
from frameforge.geometry.trace.fallback import plain_lines, with_ends_on_curves
from frameforge.geometry.trace.joints import Places, Rules
from frameforge.geometry.trace.runs import Rings, Runs, find_runs
from frameforge.geometry.trace.source import Source

__all__ = ["Traced", "trace"]


@dataclass(frozen=True, eq=False)
class Traced:
    """The rings of a result as true curves.

    ``result``: one closed chain a ring, or None where nothing is left; ``ring``: the number of the ring of each chain
    (rings that shrank to nothing are missing). ``lost``, ``patched``: places (mm) of edges that lie on no chord, and
    of joints without an exact crossing. ``touches``: places where the rings meet in a point. ``crossings``: the
    joints that had to be solved, as places on either curve.
    """

    result: Chains | None
    ring: Ints
    lost: tuple[complex, ...] = ()
    patched: tuple[complex, ...] = ()
    touches: tuple[complex, ...] = ()
    crossings: tuple[Added, Added] = (Added.nothing(), Added.nothing())

    @cached_property
    def outlines(self) -> dict[int, Outline]:
        """The outlines by the number of their ring."""
        if self.result is None:
            return {}
        segments, first = self.result.table.to_segments(), self.result.first.tolist()
        return {ring: Outline(tuple(segments[first[k] : first[k + 1]])) for k, ring in enumerate(self.ring.tolist())}


def trace(rings: Rings, source: Source, rules: Rules = Rules()) -> Traced:  # noqa: B008
    """Return the true outlines of rings whose edges are chords of ``source``."""
    if not len(rings.point):
        return Traced(None, np.zeros(0, dtype=np.intp))
    edges = classify(rings.point, rings.first, source)
    runs = find_runs(rings, edges, source.chains)
    ends = Ends.from_runs(runs)
    ends.lives &= ~_dropped_rings(rings, edges, rules)[runs.ring]
    settle(ends, runs, source, rules)
    return _traced(ends, runs, source, rings)


def _dropped_rings(rings: Rings, edges: Edges, rules: Rules) -> Bools:
    """Return which rings are left out: those shorter than dust, and those without a single chord if so ruled."""
    dropped = np.zeros(len(rings.first) - 1, dtype=bool)
    if rules.dust_mm:
        dropped |= np.add.reduceat(abs(rings.next_point - rings.point), rings.first[:-1]) < rules.dust_mm
    if rules.drops_pockets:
        dropped |= np.maximum.reduceat(edges.segment, rings.first[:-1]) < 0
    return dropped


def _traced(ends: Ends, runs: Runs, source: Source, rings: Rings) -> Traced:
    """Return the curves of the living runs, and what is to be told about them."""
    living = np.flatnonzero(ends.lives)
    if not len(living):
        return Traced(None, living)
    pieces, turn = merged(_pieces(ends, runs, source.chains, living), source.chains.table, source.labels)
    table, first = to_table(pieces, turn, source.chains.table)
    lost, patched = living[runs.chain[living] < 0], living[ends.miss[living] > 0]
    return Traced(
        Chains(table, first, np.zeros(len(first) - 1, dtype=bool)),
        pieces.ring[first[:-1]],
        tuple(((ends.begin[lost] + ends.finish[lost]) / 2).tolist()),
        tuple(ends.finish[patched].tolist()),
        _touches(rings, runs, ends),
        _crossings(ends, runs, living),
    )


def _pieces(ends: Ends, runs: Runs, chains: Chains, living: Ints) -> Pieces:
    """Return the pieces of all living runs in their order, lines where nothing exact was found."""
    traced = living[runs.chain[living] >= 0]
    whole, way, chain = ends.is_whole[traced], runs.way[traced], runs.chain[traced]
    start = _whole_or(ends.start.taken(traced), whole, chains, chain, way > 0)
    stop = _whole_or(ends.stop.taken(traced), whole, chains, chain, way < 0)
    length = np.where(whole, np.diff(chains.first)[chain], ends.length[traced])
    begin, finish = with_ends_on_curves(ends, runs, chains)
    points = np.where(whole, start.point(chains), begin[traced]), np.where(whole, stop.point(chains), finish[traced])
    both = Pieces.joined((
        cut_pieces(chains, traced, way, (start, stop), length, points),
        plain_lines(ends, runs, begin, finish),
    ))  # fmt: skip
    both = both.taken(np.argsort(both.ring, kind="stable"))
    return replace(both, ring=runs.ring[both.ring.astype(np.intp)])


def _whole_or(places: Places, whole: Bools, chains: Chains, chain: Ints, at_first: Bools) -> Places:
    """Return the places, those of whole chains put at the chain's first joint, on its first or its last segment."""
    segment = np.where(at_first, chains.first[chain], chains.first[chain + 1] - 1)
    return Places(np.where(whole, segment, places.segment), np.where(whole, np.where(at_first, 0.0, 1.0), places.t))


def _touches(rings: Rings, runs: Runs, ends: Ends) -> tuple[complex, ...]:
    """Return the places where rings meet themselves or each other: vertices that occur twice, solved where joints."""
    keys = point_keys(rings.point)
    _, index, count = np.unique(keys, return_index=True, return_counts=True)
    index = index[count > 1]
    if not len(index):
        return ()
    point = rings.point[index]
    joint = point_keys(runs.finish)
    order = np.argsort(joint)
    place = np.minimum(np.searchsorted(joint[order], keys[index]), len(order) - 1)
    is_joint = joint[order[place]] == keys[index]
    return tuple(np.where(is_joint, ends.finish[order[place]], point).tolist())


def _crossings(ends: Ends, runs: Runs, living: Ints) -> tuple[Added, Added]:
    """Return the joints that had to be solved, as places on the curve before and on the curve after."""
    joint = living[ends.is_crossing[living]]
    after = ends.next_living(runs.ring)[joint]
    point: Complexes = ends.finish[joint]
    return (
        Added(ends.stop.segment[joint], ends.stop.t[joint], point),
        Added(ends.start.segment[after], ends.start.t[after], point),
    )
