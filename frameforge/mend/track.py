"""The way the middle of a narrow place runs: its discs put in order, as few stretches as cover the place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from frameforge.check.chords import Chords
from frameforge.check.discs import screen_mm
from frameforge.check.thickness import ThinPlace, TrackDisc
from frameforge.mend.arc_line import off_line
from frameforge.tolerances import MEND_FIT_MM

__all__ = ["MIN_LINE_MM", "Stretch", "Track", "ahead_mm", "along_mm", "linked_mm", "to_stretches", "to_track"]

LINKED_STEPS = 1.7
"""Discs whose contacts lie further apart than this many sampling steps do not follow one another."""
TIP_RADII = 6.0
"""The edge round the tip of a finger is no longer than this many of the radii asked for."""
MIN_LINE_MM = 1e-3
"""Half the length of the line that stands for a single disc."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Discs that follow one another along a wall, all smaller than was asked but for the ends.

    Where ``starts_large`` or ``ends_large``, the first or last disc is at least as large as was asked.
    """

    discs: tuple[TrackDisc, ...]
    is_closed: bool = False
    starts_large: bool = False
    ends_large: bool = False


@dataclass(frozen=True, slots=True)
class Track:
    """A line through disc centres (mm). ``start_is_free`` and ``end_is_free`` tell ends where the discs stop short
    of the wanted radius: there the place may run out into the open, or into card the samples did not reach."""

    points: tuple[complex, ...]
    is_closed: bool = False
    start_is_free: bool = False
    end_is_free: bool = False
    start_tip: tuple[complex, ...] = ()
    end_tip: tuple[complex, ...] = ()
    """The edge round the tip beyond a free end, where the two walls meet within a short way."""


def linked_mm(limit_mm: float) -> float:
    """Return how far apart along a loop discs that follow one another may touch it, searched with ``limit_mm``."""
    return LINKED_STEPS * max(0.3 * screen_mm(limit_mm), 0.03)


def along_mm(chords: Chords, chord: int, point: complex) -> float:
    """Return how far along its loop a point of a chord lies, mm, measured on chords."""
    return float(chords.along[chord]) + abs(point - complex(chords.start[chord]))


def ahead_mm(chords: Chords, from_mm: float, to_mm: float, loop: int) -> float:
    """Return the shorter way along a loop from one place to another, above 0 where that leads forwards."""
    whole = float(chords.loop_length[loop])
    return (to_mm - from_mm + whole / 2) % whole - whole / 2


def to_stretches(chords: Chords, place: ThinPlace, radius_mm: float, limit_mm: float) -> list[Stretch]:
    """Return where the discs of a place are smaller than ``radius_mm``, longest first.

    The same stretch is met from either wall; what lies along an earlier one is left out of a later one. A stretch
    does not go round the tip of a finger. ``limit_mm`` is what the place was searched with.
    """
    linked = linked_mm(limit_mm)
    found = [s for run in _runs(chords, place, linked) for s in _small(chords, run, radius_mm, linked)]
    found += _narrowest(place, radius_mm)
    kept: list[Stretch] = []
    for stretch in sorted(found, key=lambda s: -sum(abs(q.centre - p.centre) for p, q in pairwise(s.discs))):
        kept += _not_covered(stretch, kept, max(2 * MEND_FIT_MM, 0.03 * radius_mm))
    return kept


def _narrowest(place: ThinPlace, radius_mm: float) -> list[Stretch]:
    """Return the disc over the least width itself, which lies between samples where corners meet."""
    if place.kind in ("finger", "tip") or place.width_mm >= 2 * radius_mm or place.a == place.b:
        return []
    nearest = min(place.track, key=lambda disc: abs(disc.centre - place.middle))
    disc = TrackDisc(place.middle, place.width_mm / 2, place.a, place.b, nearest.chord_a, nearest.chord_b)
    return [Stretch((disc,))]


def to_track(chords: Chords, stretch: Stretch, radius_mm: float) -> Track:
    """Return the line through the centres of a stretch, begun and ended where the radius is just reached."""
    discs = stretch.discs
    points = [disc.centre for disc in discs]
    if stretch.starts_large and len(discs) > 1:
        points[0] = _where_reached(discs[1], discs[0], radius_mm)
    if stretch.ends_large and len(discs) > 1:
        points[-1] = _where_reached(discs[-2], discs[-1], radius_mm)
    points = [p for k, p in enumerate(points) if k == 0 or abs(p - points[k - 1]) > 1e-6]
    if len(points) == 1:
        # Discs all of one centre: a disc, and no line.
        way = 1j * (discs[0].b - discs[0].a) / max(abs(discs[0].b - discs[0].a), 1e-300)
        points = [points[0] - way * MIN_LINE_MM, points[0] + way * MIN_LINE_MM]
    if stretch.is_closed:
        return Track(tuple(points), is_closed=True)
    starts, ends = not stretch.starts_large, not stretch.ends_large
    return Track(
        tuple(points),
        False,
        starts,
        ends,
        _tip(chords, discs[0], radius_mm) if starts else (),
        _tip(chords, discs[-1], radius_mm) if ends else (),
    )


def _tip(chords: Chords, disc: TrackDisc, radius_mm: float) -> tuple[complex, ...]:
    """Return the edge from one contact of a disc to the other where that is a short way, else nothing."""
    loop = int(chords.loop[disc.chord_a])
    if loop != int(chords.loop[disc.chord_b]):
        return ()
    ahead = ahead_mm(chords, along_mm(chords, disc.chord_a, disc.a), along_mm(chords, disc.chord_b, disc.b), loop)
    if abs(ahead) > TIP_RADII * radius_mm:
        return ()
    first, last = (disc.chord_a, disc.chord_b) if ahead > 0 else (disc.chord_b, disc.chord_a)
    between = []
    k = first
    while k != last:
        between.append(complex(chords.end[k]))
        k = int(chords.after[k])
    return disc.a, *(between if ahead > 0 else reversed(between)), disc.b


def _where_reached(small: TrackDisc, large: TrackDisc, radius_mm: float) -> complex:
    """Return where between two discs the radius is reached."""
    more = large.radius_mm - small.radius_mm
    share = min(max((radius_mm - small.radius_mm) / more, 0.0), 1.0) if more > 0 else 1.0
    return small.centre + share * (large.centre - small.centre)


def _runs(chords: Chords, place: ThinPlace, linked: float) -> list[list[TrackDisc]]:
    """Return the discs of a place that follow one another along a wall, parted where they go round a tip."""
    by_loop: dict[int, list[list[TrackDisc]]] = {}
    for disc in place.track:
        mine = by_loop.setdefault(int(chords.loop[disc.chord_a]), [])
        if mine and _follows(chords, mine[-1][-1], disc, linked):
            mine[-1].append(disc)
        else:
            mine.append([disc])
    for loop, mine in by_loop.items():
        # The last and the first of a loop are one where they follow over the loop's first point.
        if len(mine) > 1 and _follows(chords, mine[-1][-1], mine[0][0], linked):
            by_loop[loop] = [mine[-1] + mine[0], *mine[1:-1]]
    return [part for mine in by_loop.values() for run in mine for part in _parted_at_tips(chords, run)]


def _follows(chords: Chords, one: TrackDisc, two: TrackDisc, linked: float) -> bool:
    a, b = along_mm(chords, one.chord_a, one.a), along_mm(chords, two.chord_a, two.a)
    return abs(ahead_mm(chords, a, b, int(chords.loop[one.chord_a]))) <= linked


def _parted_at_tips(chords: Chords, run: list[TrackDisc]) -> list[list[TrackDisc]]:
    """Return the run cut where the wall across, so far met further on along the same loop, is the one behind."""
    parts, before = [[run[0]]], _across(chords, run[0])
    for disc in run[1:]:
        across = _across(chords, disc)
        if before * across < 0:
            parts.append([])
        parts[-1].append(disc)
        before = across or before
    return parts


def _across(chords: Chords, disc: TrackDisc) -> int:
    """Return 1 where the other contact lies ahead on the same loop and near, -1 where it lies behind, else 0."""
    loop = int(chords.loop[disc.chord_a])
    if loop != int(chords.loop[disc.chord_b]):
        return 0
    ahead = ahead_mm(chords, along_mm(chords, disc.chord_a, disc.a), along_mm(chords, disc.chord_b, disc.b), loop)
    if abs(ahead) > float(chords.loop_length[loop]) / 4:
        return 0
    return 1 if ahead > 0 else -1


def _small(chords: Chords, run: list[TrackDisc], radius_mm: float, linked: float) -> list[Stretch]:
    """Return the stretches of a run whose discs are smaller than the radius, with one larger disc at either end."""
    small = [disc.radius_mm < radius_mm for disc in run]
    if all(small) and _goes_round(chords, run, linked):
        if any(chords.loop[disc.chord_b] != chords.loop[disc.chord_a] for disc in run):
            return [Stretch((*run, run[0]), is_closed=True)]
        return _there_and_back(run)
    found = []
    for first, last in _runs_of_true(small):
        low, high = max(first - 1, 0), min(last + 1, len(run))
        found.append(Stretch(tuple(run[low:high]), False, low < first, high > last))
    return found


def _goes_round(chords: Chords, run: list[TrackDisc], linked: float) -> bool:
    """Return whether a run follows the whole of its loop."""
    loop = int(chords.loop[run[0].chord_a])
    places = [along_mm(chords, disc.chord_a, disc.a) for disc in run]
    steps = [ahead_mm(chords, a, b, loop) for a, b in pairwise([*places, places[0]])]
    return sum(abs(step) for step in steps) >= float(chords.loop_length[loop]) - 1e-6 and max(map(abs, steps)) <= linked


def _there_and_back(run: list[TrackDisc]) -> list[Stretch]:
    """Return the two ways along the middle of a part, or a slit, that is narrow all over, between its far ends."""
    z = np.array([disc.centre for disc in run], dtype=np.complex128)
    one = int(np.argmax(np.abs(z - z[0])))
    two = int(np.argmax(np.abs(z - z[one])))
    first, last = sorted((one, two))
    ways = run[first : last + 1], [*run[last:], *run[: first + 1]]
    return [Stretch(tuple(way)) for way in ways if way]


def _not_covered(stretch: Stretch, kept: Sequence[Stretch], within_mm: float) -> list[Stretch]:
    """Return what of a stretch lies further than ``within_mm`` from all kept ones, tied on at its ends."""
    if not kept:
        return [stretch]
    z = np.array([disc.centre for disc in stretch.discs], dtype=np.complex128)
    away = np.full(len(z), np.inf)
    for other in kept:
        line = np.array([disc.centre for disc in other.discs], dtype=np.complex128)
        away = np.minimum(away, off_line(z, line) if len(line) > 1 else np.abs(z - line[0]))
    new = (away > within_mm).tolist()
    if all(new):
        return [stretch]
    found = []
    for first, last in _runs_of_true(new):
        low, high = max(first - 1, 0), min(last + 1, len(new))
        starts, ends = low < first or stretch.starts_large, high > last or stretch.ends_large
        found.append(Stretch(stretch.discs[low:high], False, starts, ends))
    return found


def _runs_of_true(flags: Sequence[bool]) -> list[tuple[int, int]]:
    """Return (first, one past the last) of each run of true flags."""
    runs, k = [], 0
    for flag, group in groupby(flags):
        count = len(list(group))
        if flag:
            runs.append((k, k + count))
        k += count
    return runs
