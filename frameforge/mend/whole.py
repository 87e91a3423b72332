"""A piece mended: gone over at most three times, until what was asked to be mended is no longer found."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import replace

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.geometry.region import Region
from frameforge.mend.codes import MENDABLE
from frameforge.mend.once import mended_once
from frameforge.mend.patch import Change, Mended, grown
from frameforge.mend.remedies import STEPS
from frameforge.mend.step import take_step
from frameforge.mend.tidy import Tidied, is_sound, tidied
from frameforge.mend.view import View
from frameforge.tolerances import SAME_PLACE_MM, TIDY_FIT_MM

__all__ = ["mend_piece"]

TIDY_FITS_MM = (TIDY_FIT_MM, TIDY_FIT_MM / 4, 0.0)
"""A web beside an oval has used up half its margin already; with none left only slivers are done without."""
MOST_TIDIED = 5
"""Ways to do without slivers that are tried where one brings a finding."""
MOST_ROUNDS = 3
"""Two are the rule: what one mend leaves too narrow beside it, the next round takes."""


def mend_piece(
    regions: Sequence[Region],
    preset: Preset,
    codes: Collection[str],
    *,
    joins_parts: bool = True,
    is_trial: bool = False,
) -> Mended:
    """Return a piece (mm, y up) with the findings of ``codes`` mended under the limits of ``preset``.

    Outlines that no mend reaches stay as they are. ``joins_parts``: parts that touch or all but touch become one; False
    parts them, for a drawing of several pieces. ``is_trial``: it is only asked whether it can be mended, so new edges
    are not made clean, which brings no finding. What could not be mended is told in ``left``.
    """
    wanted = tuple(code for code in MENDABLE if code in codes)
    if not regions or not wanted:
        return Mended(tuple(regions), (), (), 0)
    view = View.from_regions(regions, preset)
    changes: tuple[Change, ...] = ()
    rounds = 0
    once = mended_once(view, wanted, STEPS, MOST_ROUNDS, joins_parts=joins_parts) if _left(view, wanted) else None
    if once is not None:
        view, changes, rounds = once.view, once.changes, once.rounds
    while once is None and rounds < MOST_ROUNDS and _left(view, wanted):
        rounds += 1
        before = view.regions
        for step in STEPS:
            remedies = step(view, wanted, joins_parts)
            if remedies:
                view, more = take_step(view, remedies, wanted)
                changes += more
        if view.regions == before:
            break
    if not is_trial:
        view, changes = _made_clean(tuple(regions), view, changes)
    return Mended(view.regions, _each_place_once(changes), _left(view, wanted), rounds)


def _each_place_once(changes: Sequence[Change]) -> tuple[Change, ...]:
    """Return the changes with those that were gone over again at the same place counted as one."""
    cells: dict[tuple[str, int, int], int] = {}
    found: list[Change] = []
    for one in changes:
        column, row = (math.floor(v / SAME_PLACE_MM) for v in (one.at.real, one.at.imag))
        near = (cells.get((one.code, column + i, row + j), -1) for i in (-1, 0, 1) for j in (-1, 0, 1))
        k = next((k for k in near if k >= 0 and abs(found[k].at - one.at) <= SAME_PLACE_MM), -1)
        if k < 0:
            cells.setdefault((one.code, column, row), len(found))
            found.append(one)
            continue
        first = found[k]
        added, removed = first.added_mm2 + one.added_mm2, first.removed_mm2 + one.removed_mm2
        found[k] = replace(first, added_mm2=added, removed_mm2=removed, ties=first.ties + one.ties)
    return tuple(found)


def _made_clean(before: tuple[Region, ...], view: View, changes: tuple[Change, ...]) -> tuple[View, tuple[Change, ...]]:
    """Return the mended piece with few and clean new edges, and the changes counted with them.

    Where that would bring a finding, it is done more closely, or else the piece stays as the remedies left it.
    """
    if view.regions == before:
        return view, changes
    for fit_mm in TIDY_FITS_MM:
        passed_over: tuple[complex, ...] = ()
        last: tuple[Region, ...] = ()
        for _ in range(MOST_TIDIED):
            clean = tidied(before, view.regions, fit_mm, passed_over)
            if not is_sound(clean.regions):
                break
            after = View.from_regions(clean.regions, view.preset)
            if not _counts(after) - _counts(view):
                return after, _recounted(changes, clean)
            if clean.regions == last:
                break
            last, passed_over = clean.regions, passed_over + _new_places(view, after)
    return view, changes


def _new_places(view: View, after: View) -> tuple[complex, ...]:
    """Return where there are findings that were not there before."""
    old = [(finding.code, finding.place) for finding in view.findings if finding.place is not None]
    return tuple(
        finding.place
        for finding in after.findings
        if finding.place is not None
        and not any(finding.code == code and abs(finding.place - place) <= SAME_PLACE_MM for code, place in old)
    )


def _counts(view: View) -> Counter[str]:
    return Counter(finding.code for finding in view.findings)


def _recounted(changes: tuple[Change, ...], clean: Tidied) -> tuple[Change, ...]:
    """Return the changes, each with what the card near it grew or shrank while new edges were made clean."""
    counted = list(changes)
    for at, mm2 in clean.grown:
        k = min(range(len(counted)), key=lambda k: abs(counted[k].at - at))
        counted[k] = grown(counted[k], mm2)
    return tuple(counted)


def _left(view: View, codes: Collection[str]) -> tuple[Finding, ...]:
    return tuple(finding for finding in view.findings if finding.code in codes)
