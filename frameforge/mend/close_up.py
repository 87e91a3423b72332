"""Loose lines of a cut file put in order: doubled ones taken out, ends that all but meet joined."""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import chord_count, sample
from frameforge.geometry.line import Line
from frameforge.geometry.measure import length_mm
from frameforge.geometry.outline import Segment
from frameforge.tolerances import CLOSE_UP_MM, DOUBLE_LINE_MM, LINE_CHORD_MM

__all__ = ["PutInOrder", "Strand", "closed_up", "without_doubled"]

Strand = tuple[Segment, ...]
"""A line as a machine follows it, open or closed."""

LOOKED_AT_MM = 0.2
"""A line is held against another at points this close together."""
BACK_RAD = 1e-3
"""A line that turns right back does so to this."""
LONG_ENOUGH = 3.0
"""A line is closed with itself where it is this many times as long as the gap between its ends."""


@dataclass(frozen=True, slots=True)
class PutInOrder:
    """The lines afterwards, and the places (mm, y up) where something was done."""

    lines: tuple[Strand, ...]
    places: tuple[complex, ...]


def without_doubled(lines: Sequence[Strand]) -> PutInOrder:
    """Return the lines without those that lie in another all along, within ``DOUBLE_LINE_MM``.

    Of two that are alike the first one stays, a closed line before an open one. A closed line goes only where the
    other one is closed too. A line that runs out and back in itself counts as two.
    """
    lines = [part for line in lines for part in _parted(line)]
    chords = [_chords(line) for line in lines]
    tree = shapely.STRtree(chords)
    order = sorted(range(len(lines)), key=lambda k: (not _is_closed(lines[k]), -round(length_mm(lines[k]), 6), k))
    gone: set[int] = set()
    for k in reversed(order):
        points = _points(lines[k])
        for other in tree.query(chords[k], predicate="dwithin", distance=DOUBLE_LINE_MM).tolist():
            if other == k or other in gone or (_is_closed(lines[k]) and not _is_closed(lines[other])):
                continue
            if bool(np.all(shapely.dwithin(chords[other], points, DOUBLE_LINE_MM + LINE_CHORD_MM))):
                gone.add(k)
                break
    places = tuple(line[len(line) // 2].point(0.5) for k, line in enumerate(lines) if k in gone)
    return PutInOrder(tuple(line for k, line in enumerate(lines) if k not in gone), places)


def closed_up(lines: Sequence[Strand]) -> PutInOrder:
    """Return the lines with open ends no further apart than ``CLOSE_UP_MM`` joined by a straight line.

    The nearest two ends go together first; each end is joined once. A line is joined with itself only where it is much
    longer than the gap.
    """
    strands, places = [list(line) for line in lines], []
    for one, two in _pairs(lines):
        first, last = next(s for s in strands if _has_end(s, one)), next(s for s in strands if _has_end(s, two))
        if first is last:
            first.append(Line(first[-1].end, first[0].start))
        else:
            if first[-1].end != one:
                first[:] = [segment.reversed() for segment in reversed(first)]
            if last[0].start != two:
                last[:] = [segment.reversed() for segment in reversed(last)]
            first += [Line(one, two), *last]
            strands.remove(last)
        places.append((one + two) / 2)
    return PutInOrder(tuple(tuple(strand) for strand in strands), tuple(places))


def _parted(line: Strand) -> list[Strand]:
    """Return a line cut where it turns right back."""
    count = len(line)
    joints = range(count if _is_closed(line) else count - 1)
    turns = [k + 1 for k in joints if abs(cmath.phase(-_turn(line[k], line[(k + 1) % count]))) < BACK_RAD]
    if not turns:
        return [line]
    cuts = sorted({0, count, *turns})
    parts = [line[a:b] for a, b in pairwise(cuts)]
    if _is_closed(line) and count not in turns and len(parts) > 1:
        parts = [parts[-1] + parts[0], *parts[1:-1]]
    return parts


def _turn(one: Segment, two: Segment) -> complex:
    return start_direction(two) / end_direction(one)


def _is_closed(line: Sequence[Segment]) -> bool:
    return line[0].start == line[-1].end


def _has_end(line: Sequence[Segment], end: complex) -> bool:
    return not _is_closed(line) and end in (line[0].start, line[-1].end)


def _pairs(lines: Sequence[Strand]) -> list[tuple[complex, complex]]:
    """Return the pairs of open ends to join, the nearest first; ends where others lie as well are left alone."""
    ends = [
        (point, number)
        for number, line in enumerate(lines)
        if not _is_closed(line)
        for point in (line[0].start, line[-1].end)
    ]
    if not ends:
        return []
    z = np.array([point for point, _ in ends])
    spots = np.asarray(shapely.points(z.real, z.imag))
    rows = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=CLOSE_UP_MM)
    near = [(abs(z[a] - z[b]), a, b) for a, b in rows.T.tolist() if a < b and z[a] != z[b]]
    pairs, taken = [], set[int]()
    for gap, a, b in sorted(near):
        (one, first), (two, last) = ends[a], ends[b]
        is_itself_short = first == last and length_mm(lines[first]) < LONG_ENOUGH * gap
        if not ({a, b} & taken or is_itself_short):
            taken |= {a, b}
            pairs.append((one, two))
    return pairs


def _chords(line: Strand) -> shapely.LineString:
    points = np.concatenate([sample(s, np.linspace(0, 1, chord_count(s, LINE_CHORD_MM) + 1)) for s in line])
    return shapely.LineString(np.stack([points.real, points.imag], axis=-1))


def _points(line: Strand) -> npt.NDArray[np.object_]:
    counts = [max(2, int(np.ceil(length_mm(segment) / LOOKED_AT_MM)) + 1) for segment in line]
    z = np.concatenate([sample(s, np.linspace(0, 1, count)) for s, count in zip(line, counts, strict=True)])
    return np.asarray(shapely.points(z.real, z.imag))
