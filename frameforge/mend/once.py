"""Equal repeats mended once: one of them is mended between its neighbours, and what that took is put to all others."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import area_mm2, centroid
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.apply import worked
from frameforge.mend.patch import Change, Patch, grown
from frameforge.mend.remedies import Remedy, Step
from frameforge.mend.repeats import Repeats, to_repeats
from frameforge.mend.step import Taken, left_over, step_of
from frameforge.mend.view import View

__all__ = ["MendedOnce", "mended_once"]

OF_THE_WHOLE = ("loose", "card-crumb", "waste-crumb")
"""What only the whole piece tells: which part is the largest, which one is near."""
CLEAR = 0.02
"""Between one repeat and the next lies nothing nearer than this share of a repeat."""
BESIDE = 0.5
"""So much of the neighbours is mended with it, in repeats, that it is mended as it stands in the row."""
SAME_OUTLINE_MM = 1e-5
"""Outlines are the same one laid elsewhere whose centroids and areas (mm2) agree to this."""


class _UnlikeError(Exception):
    """The repeats turned out not to be alike."""


@dataclass(frozen=True, slots=True)
class MendedOnce:
    """The piece after all its repeats were mended, what changed, and how often the one was gone over."""

    view: View
    changes: tuple[Change, ...]
    rounds: int


def mended_once(
    view: View, codes: Collection[str], steps: Sequence[Step], most_rounds: int, *, joins_parts: bool
) -> MendedOnce | None:
    """Return a piece of equal repeats with the findings of ``codes`` mended, as far as that goes.

    None for any other piece, and where the whole does not come out as the one repeat did: that is checked.
    """
    repeats = _suited(view, codes)
    if repeats is None:
        return None
    try:
        one = _One.from_view(view, repeats)
        rounds = 0
        while rounds < most_rounds and one.has_left(codes):
            rounds, before = rounds + 1, one.view
            for step in steps:
                one.take(step(one.view, codes, joins_parts), codes)
            if one.view is before:
                break
    except _UnlikeError:
        return None
    after = View.from_regions(one.regions, view.preset)
    if _counts(after) - one.told(_counts(view), codes):
        return None
    return MendedOnce(after, tuple(one.changes), rounds)


def _suited(view: View, codes: Collection[str]) -> Repeats | None:
    """Return the repeats of a piece in one part whose narrow places all lie within one, None where there are none."""
    if len(view.regions) != 1 or any(f.code in OF_THE_WHOLE and f.code in codes for f in view.findings):
        return None
    repeats = to_repeats(view.regions)
    if repeats is None:
        return None
    for place in (*view.survey.card_places, *view.survey.slot_places):
        turned = replace(repeats, way=(place.middle - repeats.centre) or 1)
        centres = np.array([disc.centre for disc in place.track]) - repeats.centre
        if np.abs(np.angle(centres / turned.way)).max(initial=0.0) > repeats.turn_rad / 2:
            return None
    return repeats


def _counts(view: View) -> Counter[str]:
    return Counter(finding.code for finding in view.findings)


@dataclass(slots=True)
class _One:
    """One repeat being mended between its neighbours, and the whole piece with the same done to all.

    The repeat lies from ``begin`` to ``begin`` + 1, in repeats.
    """

    repeats: Repeats
    begin: float
    view: View
    regions: tuple[Region, ...]
    changes: list[Change]

    @classmethod
    def from_view(cls, view: View, repeats: Repeats) -> _One:
        """Return the first repeat of a piece as it is; it begins where there is most room between findings."""
        places = sorted({repeats.place(finding.place) % 1.0 for finding in view.findings if finding.place is not None})
        room, begin = max((b - a, (a + b) / 2) for a, b in pairwise([*places, places[0] + 1.0]))
        if room < 2 * CLEAR:
            raise _UnlikeError
        shown = View.from_regions(repeats.shown(view.regions), view.preset)
        return cls(repeats, begin % 1.0 - 1.0, shown, view.regions, [])

    def has_left(self, codes: Collection[str]) -> bool:
        """Return whether there is anything left to mend in the repeat."""
        return any(f.code in codes and f.place is not None and self._has(f.place) for f in self.view.findings)

    def take(self, remedies: Sequence[Remedy], codes: Collection[str]) -> None:
        """Do what a step asks for to the repeat, and to all others."""
        near = [remedy for remedy in remedies if self._has(remedy.at, BESIDE)]
        if not near:
            return
        for place in (self.repeats.place(remedy.at) - self.begin for remedy in near):
            if abs(place - round(place)) < CLEAR:
                raise _UnlikeError
        taken = step_of(self.view, near, codes, self._has)
        mine = [patch for r, patch in zip(near, taken.patches, strict=True) if self._has(r.at) and patch != Patch()]
        before = area_mm2(self.regions)
        self._put_to_all(mine, taken)
        turns = map(self.repeats.turned, range(self.repeats.count))
        told = [(change, turn) for turn in turns for change in taken.changes if self._has(change.at)]
        # Shares of patches are measured on chords: what all repeats took is what the whole grew by.
        net = sum(change.added_mm2 - change.removed_mm2 for change, _ in told)
        more = (area_mm2(self.regions) - before - net) / max(len(told), 1)
        self.changes += [replace(grown(change, more), at=turn.apply(change.at)) for change, turn in told]
        self.view = taken.view

    def told(self, before: Counter[str], codes: Collection[str]) -> Counter[str]:
        """Return how many findings of each code the whole may have: as many as the repeat tells, or as before."""
        mine = Counter(f.code for f in self.view.findings if f.place is not None and self._has(f.place))
        return Counter({c: mine[c] * self.repeats.count if c in codes else n for c, n in (before | mine).items()})

    def _has(self, at: complex, beside: float = 0.0) -> bool:
        """Return whether a place lies in the repeat, or so far beside it."""
        return -beside <= self.repeats.place(at) - self.begin < 1.0 + beside

    def _put_to_all(self, patches: Sequence[Patch], taken: Taken) -> None:
        """Put patches to the whole piece, at every repeat."""
        finder = _Finder.from_regions(self.regions)
        turns = [self.repeats.turned(k) for k in range(self.repeats.count)]
        everywhere = [finder.laid(patch, turn) for turn in turns for patch in patches]
        before, self.regions = self.regions, worked(self.regions, everywhere)
        left = left_over(before, self.regions, taken.tiny_mm2)
        if left.fills:
            self.regions = worked(self.regions, [left])


@dataclass(frozen=True, slots=True)
class _Finder:
    """The holes of a piece, found again by their centroids and areas."""

    holes: tuple[Outline, ...]
    tree: shapely.STRtree
    centroids: tuple[complex, ...]

    @classmethod
    def from_regions(cls, regions: Sequence[Region]) -> _Finder:
        holes = tuple(hole for region in regions for hole in region.holes)
        centroids = tuple(centroid(hole) for hole in holes)
        return cls(holes, shapely.STRtree([shapely.Point(z.real, z.imag) for z in centroids]), centroids)

    def laid(self, patch: Patch, turn: Affine) -> Patch:
        """Return a patch turned; the holes that it means are those of the piece."""
        if patch.drops:
            raise _UnlikeError
        return Patch(
            adds=tuple(region.transformed(turn) for region in patch.adds),
            cuts=tuple(region.transformed(turn) for region in patch.cuts),
            fills=tuple(self._found(hole, turn) for hole in patch.fills),
            linings=tuple(region.transformed(turn) for region in patch.linings),
            lined=tuple(self._found(hole, turn) for hole in patch.lined),
        )

    def _found(self, hole: Outline, turn: Affine) -> Outline:
        """Return the hole of the piece that is a turned one."""
        if not self.holes:
            raise _UnlikeError
        at = turn.apply(centroid(hole))
        k = int(self.tree.nearest(shapely.Point(at.real, at.imag)))
        apart = abs(self.centroids[k] - at), abs(area_mm2(self.holes[k]) - area_mm2(hole))
        if max(apart) > SAME_OUTLINE_MM:
            raise _UnlikeError
        return self.holes[k]
