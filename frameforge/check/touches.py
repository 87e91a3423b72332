"""Places where edges touch in a point: not a joint, and it tears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.check.chords import Chords, to_chords
from frameforge.check.spot import Spot, closest_pair
from frameforge.check.width import spot_on
from frameforge.geometry.line import Line
from frameforge.geometry.region import Region
from frameforge.geometry.segment_table import SegmentTable
from frameforge.tolerances import CHORD_MM, ONE_POINT_MM, SAME_PLACE_MM, SAME_T

__all__ = ["Touch", "find_touches"]

_TIP_SEGMENTS = 6
"""Segments round a tip, with what is left of others at its end, at most."""

_TIP_POINTS = 256
"""Points on each, so that their chords stay far within what a file holds as one point."""


@dataclass(frozen=True, slots=True)
class Touch:
    """A point where two edges meet without crossing, and the loops they belong to (equal: an edge meets itself)."""

    at: complex
    loops: tuple[int, int]


def find_touches(regions: Sequence[Region], *, chords: Chords | None = None) -> tuple[Touch, ...]:
    """Return the points where outlines touch each other or themselves, within 1e-4 mm on the true curves.

    Chords nearer than a curve can be from its chord are candidates; the closest pair of the curves decides.
    ``chords`` are those of the regions, where they were made before.
    """
    if not regions:
        return ()
    chords = to_chords(regions) if chords is None else chords
    found: list[Touch] = []
    for i, j in _candidates(chords):
        first = spot_on(chords, i, _nearest_end(chords, i, j))
        second = spot_on(chords, j, _nearest_end(chords, j, i))
        first, second = closest_pair(first, second)
        at = (first.point + second.point) / 2
        if abs(first.point - second.point) > ONE_POINT_MM or _is_one_place(first, second):
            continue
        if _is_own_joint(chords, i, j, first.point, second.point) or _is_tip(first, second):
            continue
        if all(abs(at - other.at) > SAME_PLACE_MM for other in found):
            low, high = sorted((int(chords.loop[i]), int(chords.loop[j])))
            found.append(Touch(at, (low, high)))
    return tuple(found)


def _candidates(chords: Chords) -> list[tuple[int, int]]:
    """Return pairs of chords near enough that the curves over them may touch, neighbours left out.

    Straight lines are their own chords, so that two of them are looked at only where the chords themselves touch.
    """
    reach = 2.5 * CHORD_MM
    start, end = (np.stack([z.real, z.imag], axis=-1) for z in (chords.start, chords.end))
    boxes = shapely.linestrings(np.stack([np.minimum(start, end) - reach, np.maximum(start, end) + reach], axis=1))
    i, j = chords.tree.query(boxes)
    apart = (i < j) & (chords.after[i] != j) & (chords.before[i] != j)
    i, j = i[apart], j[apart]
    # What is left are the few chords whose boxes come near: only for these are distances worked out.
    one, other = chords.tree.geometries[i], chords.tree.geometries[j]
    straight = _is_straight(chords)
    near = shapely.dwithin(one, other, reach)
    near &= ~(straight[i] & straight[j]) | shapely.dwithin(one, other, ONE_POINT_MM)
    return list(zip(i[near].tolist(), j[near].tolist(), strict=True))


def _is_straight(chords: Chords) -> npt.NDArray[np.bool_]:
    """Return which chords are straight lines of the drawing themselves."""
    first = np.concatenate([[0], np.cumsum([len(outline.segments) for outline in chords.outlines])])
    straight = np.array([isinstance(s, Line) for outline in chords.outlines for s in outline.segments], dtype=np.bool_)
    return np.asarray(straight[first[chords.loop] + chords.segment], dtype=np.bool_)


def _nearest_end(chords: Chords, chord: int, other: int) -> complex:
    """Return the point of a chord that is nearest to another chord."""
    start, end = complex(chords.start[chord]), complex(chords.end[chord])
    q0, q1 = complex(chords.start[other]), complex(chords.end[other])
    options = [start, end, _foot(q0, start, end), _foot(q1, start, end)]
    return min(options, key=lambda p: abs(p - _foot(p, q0, q1)))


def _foot(point: complex, start: complex, end: complex) -> complex:
    d = end - start
    t = (d.conjugate() * (point - start)).real / abs(d) ** 2
    return start + min(max(t, 0.0), 1.0) * d


def _is_one_place(first: Spot, second: Spot) -> bool:
    """Return whether two spots slid into one and the same place of one outline, over bits shorter than a chord."""
    count = len(first.outline.segments)
    walked = abs(first.index + first.t - second.index - second.t)
    return first.outline is second.outline and min(walked, count - walked) < SAME_T


def _is_own_joint(chords: Chords, i: int, j: int, p: complex, q: complex) -> bool:
    """Return whether the closest pair is only the edge itself, walked along between two chords of one loop."""
    if chords.loop[i] != chords.loop[j]:
        return False
    s, t = _along(chords, i, p), _along(chords, j, q)
    walked = abs(s - t)
    return min(walked, float(chords.loop_length[chords.loop[i]]) - walked) <= 4 * CHORD_MM


def _is_tip(first: Spot, second: Spot) -> bool:
    """Return whether the outline runs from one spot to the other up a tip as thin and down again.

    Where two curves end in one direction, as the horns of a crescent, they come nearer than any file can hold apart
    before they meet: that is a tip, and no touch of edges from elsewhere.
    """
    if first.outline is not second.outline:
        return False
    segments, count = first.outline.segments, len(first.outline.segments)
    for a, b in ((first, second), (second, first)):
        steps = (b.index - a.index) % count
        if steps > _TIP_SEGMENTS or (steps == 0 and a.t > b.t):
            continue
        table = SegmentTable.from_segments([segments[(a.index + k) % count] for k in range(steps + 1)])
        begin, end = np.zeros(steps + 1), np.ones(steps + 1)
        begin[0], end[-1] = a.t, b.t
        row = np.repeat(np.arange(steps + 1), _TIP_POINTS)
        z = table.point(row, np.linspace(begin, end, _TIP_POINTS).T.ravel())
        tip = int(np.argmax(abs(z - a.point)))
        if not 0 < tip < len(z) - 1:
            continue
        down = shapely.linestrings(np.stack([z[tip:].real, z[tip:].imag], axis=1))
        if (shapely.distance(shapely.points(z[: tip + 1].real, z[: tip + 1].imag), down) <= 2 * ONE_POINT_MM).all():
            return True
    return False


def _along(chords: Chords, chord: int, point: complex) -> float:
    """Return how far along its loop a point lies; the closest pair may have slid to behind the start of its chord."""
    start, end = complex(chords.start[chord]), complex(chords.end[chord])
    step = ((end - start).conjugate() * (point - start)).real / abs(end - start)
    return float(chords.along[chord]) + step
