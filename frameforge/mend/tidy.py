"""What a mend leaves behind made few and clean: short bits joined, chains of them drawn as one true curve.

A sweep along the middle of a thin place is bounded by a chain of arcs, and where it runs out of old edges bits of these
are left over. Only what a mend made is drawn anew, and within ``TIDY_FIT_MM``, which the margin of every mend allows
for; old edges stay where they are.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
import shapely

from frameforge.check.chords import Chords, to_chords
from frameforge.check.width import spot_on
from frameforge.geometry import boolean
from frameforge.geometry.arc import Arc
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, lengths_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.mend.chain_fit import Chain, refitted
from frameforge.mend.joint import joined_over
from frameforge.mend.wall import foot
from frameforge.tolerances import CHORD_MM, SLIVER_MM, TIDY_FIT_MM, TOUCH_MM

__all__ = ["Tidied", "is_sound", "tidied"]

SMOOTH_RAD = 0.03
"""New segments that meet at a smaller angle run on as one line."""
CAP_RAD = math.radians(60)
"""An arc that turns by more is the round end of something, and stays one arc."""
LOOKED_AT = (0.25, 0.5, 0.75)
NEAR_MM = 1.5
"""A finding this near to a sliver may come from how the sliver was done without: about the width of a limit."""


@dataclass(frozen=True, slots=True)
class Tidied:
    """The regions made clean, and by how much the card grew (mm2, below 0: shrank) near which places (mm, y up)."""

    regions: tuple[Region, ...]
    grown: tuple[tuple[complex, float], ...]


def tidied(
    before: Sequence[Region],
    after: Sequence[Region],
    fit_mm: float = TIDY_FIT_MM,
    passed_over: Sequence[complex] = (),
) -> Tidied:
    """Return the regions ``after`` a mend with as few segments as their new edges need, none of them a sliver.

    Outlines and segments that were there ``before`` come back as they are, but for the ends of those that a sliver
    lay between. New edges move by ``fit_mm`` at most, 0: not at all, and near a sliver by a few of its lengths.
    For each place (mm, y up) in ``passed_over`` slivers near it are done without in the next way instead, or stay.
    """
    old = _Old.from_regions(before)
    outlines = [outline for region in after for outline in region.outlines if outline not in old.outlines]
    kept = [old.holds(outline.segments) for outline in outlines]
    work = [_Work(outline.segments, tuple(is_kept)) for outline, is_kept in zip(outlines, kept, strict=True)]
    grown = list[tuple[complex, float]]()
    for run_on in (_is_same_circle, _is_no_cap) if fit_mm > 0 else ():
        found = [one.chains(run_on) for one in work]
        new = iter(refitted([chain for chains in found for _, chain in chains], fit_mm))
        redrawn = [one.redrawn(chains, [next(new) for _ in chains]) for one, chains in zip(work, found, strict=True)]
        work = [one for one, _ in redrawn]
        grown += [more for _, mores in redrawn for more in mores]
    clean = {}
    for outline, one in zip(outlines, work, strict=True):
        segments, also = _without_slivers(one.segments, old.segments, passed_over)
        clean[outline] = Outline(segments)
        grown += also
    regions = tuple(
        Region(clean.get(region.outer, region.outer), tuple(clean.get(hole, hole) for hole in region.holes))
        for region in after
    )
    return Tidied(regions, tuple(grown))


@dataclass(frozen=True, slots=True, eq=False)
class _Old:
    """The edges before a mend."""

    outlines: frozenset[Outline]
    segments: frozenset[Segment]
    chords: Chords

    @classmethod
    def from_regions(cls, regions: Sequence[Region]) -> _Old:
        outlines = frozenset(outline for region in regions for outline in region.outlines)
        return cls(outlines, frozenset(s for outline in outlines for s in outline.segments), to_chords(regions))

    def holds(self, segments: Sequence[Segment]) -> list[bool]:
        """Return for each segment whether it is one of the old ones, or lies on them and is no sliver."""
        lengths = lengths_mm(segments)
        asked = [k for k, s in enumerate(segments) if s not in self.segments and lengths[k] >= SLIVER_MM]
        on = dict(zip(asked, self._lie_on([segments[k] for k in asked]), strict=True))
        return [segment in self.segments or on.get(k, False) for k, segment in enumerate(segments)]

    def _lie_on(self, segments: Sequence[Segment]) -> list[bool]:
        """Return for each segment whether it lies on old edges."""
        if not segments:
            return []
        points = [segment.point(t) for segment in segments for t in LOOKED_AT]
        spots = shapely.points([z.real for z in points], [z.imag for z in points])
        found, away = self.chords.tree.query_nearest(spots, return_distance=True, all_matches=False)
        nearest = dict(zip(found[0].tolist(), zip(found[1].tolist(), away.tolist(), strict=True), strict=True))
        near = [nearest[k][1] <= 2 * CHORD_MM for k in range(len(points))]
        many = len(LOOKED_AT)
        return [
            all(near[many * k : many * k + many])
            and all(self._away_mm(points[i], nearest[i][0]) <= TOUCH_MM for i in range(many * k, many * k + many))
            for k in range(len(segments))
        ]

    def _away_mm(self, point: complex, chord: int) -> float:
        """Return how far a point is from the true curve behind the chord nearest to it."""
        return abs(foot(spot_on(self.chords, chord, point), point).point - point)


@dataclass(frozen=True, slots=True)
class _Work:
    """The segments of an outline, and which of them are old ones that stay."""

    segments: tuple[Segment, ...]
    stays: tuple[bool, ...]

    def chains(self, run_on: Callable[[Segment, Segment], bool]) -> list[tuple[int, Chain]]:
        """Return the chains of new segments, two or more, that run on smoothly, each with the place it begins at."""
        segments, count = self.segments, len(self.segments)
        goes_on = [
            not (self.stays[k] or self.stays[k - 1])
            and _is_smooth(segments[k - 1], segments[k])
            and run_on(segments[k - 1], segments[k])
            for k in range(count)
        ]
        first = next((k for k in range(count) if not goes_on[k]), 0)
        chains: list[tuple[int, list[Segment]]] = []
        for k in ((first + step) % count for step in range(count)):
            if chains and goes_on[k]:
                chains[-1][1].append(segments[k])
            else:
                chains.append((k, [segments[k]]))
        return [(place, tuple(chain)) for place, chain in chains if len(chain) > 1]

    def redrawn(
        self, chains: Sequence[tuple[int, Chain]], new: Sequence[Chain]
    ) -> tuple[_Work, list[tuple[complex, float]]]:
        """Return the same with new chains in place of some, and how the area grew by each."""
        count, grown = len(self.segments), list[tuple[complex, float]]()
        drawn: dict[int, tuple[Chain, bool]] = {k: ((s,), self.stays[k]) for k, s in enumerate(self.segments)}
        for (place, chain), others in zip(chains, new, strict=True):
            if others is not chain:
                grown.append((chain[len(chain) // 2].start, _between_mm2(others, chain)))
                drawn |= {(place + step) % count: ((), False) for step in range(len(chain))}
                drawn[place] = others, False
        rows = [(segment, stays) for k in range(count) for segment in drawn[k][0] for stays in (drawn[k][1],)]
        return _Work(tuple(segment for segment, _ in rows), tuple(stays for _, stays in rows)), grown


def _is_same_circle(one: Segment, two: Segment) -> bool:
    """Return whether two arcs lie on what is as good as one circle."""
    if not (isinstance(one, Arc) and isinstance(two, Arc) and one.is_circular and two.is_circular):
        return False
    return abs(one.center - two.center) + abs(abs(one.u) - abs(two.u)) <= TIDY_FIT_MM


def _is_no_cap(one: Segment, two: Segment) -> bool:
    """Return whether neither of two segments is an arc that turns so far that it is the round end of something."""
    return not any(isinstance(segment, Arc) and abs(segment.sweep_rad) > CAP_RAD for segment in (one, two))


def _is_smooth(one: Segment, two: Segment) -> bool:
    """Return whether two segments run on in one direction."""
    return abs(cmath.phase(start_direction(two) / end_direction(one))) <= SMOOTH_RAD


def _between_mm2(new: Sequence[Segment], old: Sequence[Segment]) -> float:
    """Return the card gained where one chain takes the place of another between the same ends, card on the left."""
    return area_mm2([*new, *(segment.reversed() for segment in reversed(old))])


def _without_slivers(
    segments: tuple[Segment, ...], old: frozenset[Segment], passed_over: Sequence[complex]
) -> tuple[tuple[Segment, ...], list[tuple[complex, float]]]:
    """Return a closed chain without slivers that were not there before, and how the area grew by each.

    A sliver stays where all ways to do without it would make the chain cross itself.
    """
    grown, stay = list[tuple[complex, float]](), set[Segment]()
    while True:
        lengths = lengths_mm(segments)
        slivers = [k for k, s in enumerate(segments) if lengths[k] < SLIVER_MM and s not in old and s not in stay]
        if not slivers:
            return segments, grown
        k = min(slivers, key=lambda k: float(lengths[k]))
        turned = (*segments[k:], *segments[:k])
        stay.add(turned[0])
        skipped = sum(abs(turned[0].start - place) <= NEAR_MM for place in passed_over)
        for joined in islice(joined_over(turned), skipped, None):
            last = len(turned) - joined.before
            after = (*joined.new, *turned[joined.after + 1 : last])
            if is_sound((Region(Outline(after)),)):
                gone = (*turned[last:], *turned[: joined.after + 1])
                grown.append((turned[0].start, _between_mm2(joined.new, gone)))
                segments = after
                break


def is_sound(regions: Sequence[Region]) -> bool:
    """Return whether no outline crosses itself or another of its region."""
    return boolean.is_sound(np.array([to_polygon(region) for region in regions], dtype=object))
