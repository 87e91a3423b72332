"""One step of mending: all places of a kind at once, each by the first of its ways that leaves nothing behind."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.finding import Finding
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region
from frameforge.mend.apply import applied
from frameforge.mend.codes import CODES
from frameforge.mend.patch import Change, Patch
from frameforge.mend.remedies import Remedy
from frameforge.mend.view import View
from frameforge.tolerances import SAME_PLACE_MM, WIDTH_MM

__all__ = ["take_step"]

LEFT_OVER = 2.0
"""A hole left behind by closing a slot is filled when its area is under this many squares of the slot limit ..."""
LEFT_CRUMB = 0.25
"""... and one left behind by anything else under this many."""


@dataclass(frozen=True, slots=True)
class _Try:
    """The piece after one choice of ways, what changed, and for each remedy how many findings are put down to it."""

    view: View
    changes: tuple[Change, ...]
    blame: tuple[int, ...]


def take_step(view: View, remedies: Sequence[Remedy], codes: Collection[str]) -> tuple[View, tuple[Change, ...]]:
    """Return the piece after the remedies, and what changed.

    Every place begins with its first way. Where that leaves the finding, or brings a new one, the next way is tried
    instead, and in the end the one that left least. ``codes`` are all that shall be mended: notes count only among
    them.
    """
    ways = [_Ways(remedy) for remedy in remedies]
    choice = [way.following(-1) for way in ways]
    tries: dict[tuple[int, ...], _Try] = {}
    while True:
        tried = tries[tuple(choice)] = _tried(
            view, [way.patch(k) for way, k in zip(ways, choice, strict=True)], remedies, codes
        )
        for way, k, blame in zip(ways, choice, tried.blame, strict=True):
            way.scores.setdefault(k, blame)
        following = [way.following(k) if blame else k for way, k, blame in zip(ways, choice, tried.blame, strict=True)]
        if following == choice:
            break
        choice = following
    best = tuple(way.best for way in ways)
    if best not in tries:
        tries[best] = _tried(view, [way.patch(k) for way, k in zip(ways, best, strict=True)], remedies, codes)
    return tries[best].view, tries[best].changes


class _Ways:
    """The ways of one remedy: each worked out once, and how many findings each left."""

    def __init__(self, remedy: Remedy) -> None:
        self._ways = remedy.ways
        self._patches: dict[int, Patch | None] = {}
        self.scores: dict[int, int] = {}

    def patch(self, number: int) -> Patch:
        """Return the patch of a way; one without anything in it where the way does not go."""
        if number not in self._patches:
            self._patches[number] = self._ways[number]()
        return self._patches[number] or Patch()

    def following(self, number: int) -> int:
        """Return the next way that goes, or the same one where there is none; the first for -1."""
        for other in range(number + 1, len(self._ways)):
            if self.patch(other) != Patch():
                return other
        return max(number, 0)

    @property
    def best(self) -> int:
        """The way that left least, the earlier one on a tie; one that does not go only where none goes."""
        return min(self.scores, key=lambda number: (self.patch(number) == Patch(), self.scores[number], number))


def _tried(view: View, patches: list[Patch], remedies: Sequence[Remedy], codes: Collection[str]) -> _Try:
    """Return what patches come to."""
    result = applied(view.regions, patches)
    limit = LEFT_OVER if any(remedy.code in ("narrow-slot", "near-miss") for remedy in remedies) else LEFT_CRUMB
    left = _left_over(view, result.regions, limit * view.preset.least_slot_mm**2)
    added = list(result.added_mm2)
    regions = result.regions
    if left.fills:
        filled = applied(regions, [left])
        regions = filled.regions
        added[_nearest(remedies, left)] += filled.added_mm2[0]
    after = View.from_regions(regions, view.preset)
    changes = tuple(
        Change(remedy.code, remedy.at, more, less)
        for remedy, patch, more, less in zip(remedies, patches, added, result.removed_mm2, strict=True)
        if patch != Patch()
    )
    bad = _bad(view, after, {remedy.code for remedy in remedies}, codes)
    return _Try(after, changes, _blame(remedies, patches, bad, view))


def _left_over(view: View, regions: Sequence[Region], under_mm2: float) -> Patch:
    """Return the filling of tiny holes that were not there before."""
    before = {hole for region in view.regions for hole in region.holes}
    new = [hole for region in regions for hole in region.holes if hole not in before]
    return Patch(fills=tuple(hole for hole in new if abs(area_mm2(hole)) < under_mm2))


def _nearest(remedies: Sequence[Remedy], left: Patch) -> int:
    """Return the number of the remedy nearest to what was left over."""
    spot = left.fills[0].segments[0].start
    return min(range(len(remedies)), key=lambda k: abs(remedies[k].at - spot))


def _bad(before: View, after: View, mended: Collection[str], codes: Collection[str]) -> list[Finding]:
    """Return the findings that are new or worse, and those that were to be mended and are still there."""
    found = [f for f in after.findings if f.code in CODES and (f.severity != "note" or f.code in codes)]
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
