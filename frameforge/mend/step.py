"""One step of mending: all places of a kind at once, each by the first of its ways that leaves nothing behind."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.finding import Finding
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.mend.apply import applied
from frameforge.mend.codes import MENDABLE
from frameforge.mend.patch import Change, Patch
from frameforge.mend.remedies import Remedy
from frameforge.mend.view import View
from frameforge.tolerances import SAME_PLACE_MM, WIDTH_MM

__all__ = ["Taken", "left_over", "step_of", "take_step"]

ALIKE_DECIMALS = 3
"""Findings whose measures agree to so many decimals of a mm, mm2 or degree are alike."""
LEFT_OVER = 2.0
"""A hole left behind by closing a slot is filled when its area is under this many squares of the slot limit ..."""
LEFT_CRUMB = 0.25
"""... and one left behind by anything else under this many."""

Counts = Callable[[complex], bool]
"""Tells whether a finding at a place (mm, y up) counts."""


@dataclass(frozen=True, slots=True)
class Taken:
    """The piece after one choice of ways, what changed, the patch of each remedy, and how many findings are put down
    to it; holes under ``tiny_mm2`` that were left behind are filled."""

    view: View
    changes: tuple[Change, ...]
    patches: tuple[Patch, ...]
    blame: tuple[int, ...]
    tiny_mm2: float


def take_step(view: View, remedies: Sequence[Remedy], codes: Collection[str]) -> tuple[View, tuple[Change, ...]]:
    """Return the piece after the remedies, and what changed, as ``step_of`` tells."""
    taken = step_of(view, remedies, codes)
    return taken.view, taken.changes


def step_of(view: View, remedies: Sequence[Remedy], codes: Collection[str], counts: Counts = lambda _: True) -> Taken:
    """Return what the remedies come to.

    Every place begins with its first way. Where that leaves the finding, or brings a new one, the next way is tried
    instead, for all that are alike, and in the end the one that left least. ``codes`` are all that shall be mended:
    notes count only among them, and findings only at places that ``counts`` takes.
    """
    groups = _alike(remedies)
    choice = [group.following(-1) for group in groups]
    tries: dict[tuple[int, ...], Taken] = {}
    while True:
        tried = tries[tuple(choice)] = _tried(view, _patches(groups, choice), remedies, codes, counts)
        blame = [sum(tried.blame[k] for k in group.numbers) for group in groups]
        for group, way, count in zip(groups, choice, blame, strict=True):
            group.scores.setdefault(way, count)
        following = [group.following(way) if n else way for group, way, n in zip(groups, choice, blame, strict=True)]
        if following == choice:
            break
        choice = following
    best = [group.best for group in groups]
    if tuple(best) not in tries:
        tries[tuple(best)] = _tried(view, _patches(groups, best), remedies, codes, counts)
    return tries[tuple(best)]


class _Group:
    """Remedies that are alike: their numbers, their ways, each worked out once, and how many findings each left."""

    def __init__(self, numbers: Sequence[int], remedies: Sequence[Remedy]) -> None:
        self.numbers = numbers
        self.scores: dict[int, int] = {}
        self._remedies = remedies
        self._patches: dict[tuple[int, int], Patch] = {}
        self._count = max(len(remedy.ways) for remedy in remedies)

    def patches(self, way: int) -> list[Patch]:
        """Return the patch of every remedy: that of the first way from ``way`` on that goes, else an empty one."""
        return [
            next((patch for k in range(way, len(remedy.ways)) if (patch := self._patch(n, k)) != Patch()), Patch())
            for n, remedy in enumerate(self._remedies)
        ]

    def following(self, way: int) -> int:
        """Return the next way that goes for any, or the same one where there is none; the first for -1."""
        for other in range(way + 1, self._count):
            if any(self._patch(n, other) != Patch() for n in range(len(self._remedies))):
                return other
        return max(way, 0)

    @property
    def best(self) -> int:
        """The way that left least, the earlier one on a tie; one that does nothing only where there is no other."""
        return min(self.scores, key=lambda way: (all(p == Patch() for p in self.patches(way)), self.scores[way], way))

    def _patch(self, number: int, way: int) -> Patch:
        ways = self._remedies[number].ways
        if (number, way) not in self._patches:
            self._patches[number, way] = (ways[way]() if way < len(ways) else None) or Patch()
        return self._patches[number, way]


def _alike(remedies: Sequence[Remedy]) -> list[_Group]:
    """Return the remedies in groups of those with one code and one measure."""
    together: dict[tuple[str, float, int], list[int]] = {}
    for k, remedy in enumerate(remedies):
        together.setdefault((remedy.code, round(remedy.measured, ALIKE_DECIMALS), len(remedy.ways)), []).append(k)
    return [_Group(numbers, [remedies[k] for k in numbers]) for numbers in together.values()]


def _patches(groups: Sequence[_Group], choice: Sequence[int]) -> list[Patch]:
    """Return the patches of a choice, in the order of the remedies."""
    found = {
        k: patch
        for group, way in zip(groups, choice, strict=True)
        for k, patch in zip(group.numbers, group.patches(way), strict=True)
    }
    return [found[k] for k in sorted(found)]


def _tried(
    view: View, patches: list[Patch], remedies: Sequence[Remedy], codes: Collection[str], counts: Counts
) -> Taken:
    """Return what patches come to."""
    result = applied(view.regions, patches)
    limit = LEFT_OVER if any(remedy.code in ("narrow-slot", "near-miss") for remedy in remedies) else LEFT_CRUMB
    tiny_mm2 = limit * view.preset.least_slot_mm**2
    left = left_over(view.regions, result.regions, tiny_mm2)
    added = list(result.added_mm2)
    regions = result.regions
    if left.fills:
        filled = applied(regions, [left])
        regions = filled.regions
        added[_nearest(remedies, left)] += filled.added_mm2[0]
    after = View.from_regions(regions, view.preset)
    changes = tuple(
        Change(remedy.code, remedy.at, more, less, len(patch.adds) if remedy.code == "loose" else 0)
        for remedy, patch, more, less in zip(remedies, patches, added, result.removed_mm2, strict=True)
        if patch != Patch()
    )
    bad = [
        finding
        for finding in _bad(view, after, {remedy.code for remedy in remedies}, codes)
        if finding.place is None or counts(finding.place)
    ]
    return Taken(after, changes, tuple(patches), _blame(remedies, patches, bad, view), tiny_mm2)


def left_over(old: Sequence[Region], regions: Sequence[Region], under_mm2: float) -> Patch:
    """Return the filling of tiny holes that were not there in the old regions."""
    before = {hole for region in old for hole in region.holes}
    new = [hole for region in regions for hole in region.holes if hole not in before]
    return Patch(fills=tuple(hole for hole in new if abs(area_mm2(hole)) < under_mm2))


def _nearest(remedies: Sequence[Remedy], left: Patch) -> int:
    """Return the number of the remedy nearest to what was left over."""
    spot = left.fills[0].segments[0].start
    return min(range(len(remedies)), key=lambda k: abs(remedies[k].at - spot))


def _bad(before: View, after: View, mended: Collection[str], codes: Collection[str]) -> list[Finding]:
    """Return the findings that are new or worse, and those that were to be mended and are still there."""
    found = [f for f in after.findings if f.code in MENDABLE and (f.severity != "note" or f.code in codes)]
    return [f for f in found if f.code in mended or not any(_is_same(f, old) for old in before.findings)]


def _is_same(finding: Finding, old: Finding) -> bool:
    """Return whether a finding was there before, and no better."""
    if finding.code != old.code or finding.unit != old.unit or finding.place is None or old.place is None:
        return False
    if abs(finding.place - old.place) > SAME_PLACE_MM:
        return False
    return finding.measured is None or old.measured is None or finding.measured >= old.measured - WIDTH_MM


def _blame(remedies: Sequence[Remedy], patches: Sequence[Patch], bad: Sequence[Finding], view: View) -> tuple[int, ...]:
    """Return for each remedy how many of the findings lie at its patch, or at its place."""
    if not bad:
        return (0,) * len(remedies)
    preset = view.preset
    near = max(preset.least_web_mm, preset.least_neck_mm, preset.least_finger_mm, preset.least_slot_mm)
    spots = [_point(finding.place) for finding in bad if finding.place is not None]
    blame = []
    for remedy, patch in zip(remedies, patches, strict=True):
        shapes: list[BaseGeometry] = [_point(remedy.at)]
        shapes += [to_polygon(region) for region in (*patch.adds, *patch.cuts, *patch.linings)]
        shapes += [to_polygon(Region(hole.reversed())) for hole in patch.fills]
        blame.append(sum(any(shape.distance(spot) <= near for shape in shapes) for spot in spots))
    return tuple(blame)


def _point(z: complex) -> shapely.Point:
    return shapely.Point(z.real, z.imag)
