"""The lines of a cut file as chords in arrays: what doubled lines and crossings are looked for on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from frameforge.check.chords import ComplexArray, FloatArray, IntArray
from frameforge.geometry.flatten import chord_count, sample
from frameforge.geometry.outline import Segment
from frameforge.tolerances import LINE_CHORD_MM, MIN_CHORD_MM

__all__ = ["CutLines", "Line", "to_cut_lines"]

Line = Sequence[Segment]
"""A line as a machine follows it, open or closed."""


@dataclass(frozen=True, slots=True, eq=False)
class CutLines:
    """All chords of all lines, line after line (mm).

    Chord k runs from ``start[k]`` to ``end[k]`` on line ``line[k]``, ``along[k]`` mm from the line's start;
    ``length[j]`` is the length of line j and ``is_closed[j]`` whether it ends where it starts.
    """

    start: ComplexArray
    end: ComplexArray
    line: IntArray
    along: FloatArray
    length: FloatArray
    is_closed: tuple[bool, ...]
    tree: shapely.STRtree

    @property
    def direction(self) -> ComplexArray:
        """Unit direction of each chord."""
        step = self.end - self.start
        return step / np.abs(step)

    def beside(self, chord: int, step: int) -> int | None:
        """Return the chord before (-1) or after (1) another on its line; None beyond the end of an open one."""
        line = int(self.line[chord])
        first, last = np.searchsorted(self.line, [line, line + 1])
        if first <= chord + step < last:
            return chord + step
        if not self.is_closed[line]:
            return None
        return int(last) - 1 if step < 0 else int(first)

    def point(self, line: int, along_mm: float) -> complex:
        """Return the point ``along_mm`` from the start of a line on its chords; closed lines go round."""
        first, last = np.searchsorted(self.line, [line, line + 1])
        at = along_mm % float(self.length[line]) if self.is_closed[line] else along_mm
        chord = int(first + np.searchsorted(self.along[first:last], at, side="right") - 1)
        chord = max(chord, int(first))
        step = complex(self.end[chord] - self.start[chord])
        return complex(self.start[chord]) + (at - float(self.along[chord])) * step / abs(step)

    def around(self, line: IntArray, step_mm: FloatArray) -> FloatArray:
        """Return how far each step along its line leads, mm: on closed ones the shorter way round."""
        whole, closed = self.length[line], np.array(self.is_closed)[line]
        away = np.abs(step_mm)
        return np.asarray(np.where(closed, np.minimum(away, whole - away), away), dtype=np.float64)


def to_cut_lines(lines: Sequence[Line], chord_mm: float = LINE_CHORD_MM) -> CutLines:
    """Return the chords of at least one line, within ``chord_mm`` of the true curves."""
    flat = [_vertices(line, chord_mm) for line in lines]
    start = np.concatenate([points[:-1] for points in flat])
    end = np.concatenate([points[1:] for points in flat])
    steps = [np.abs(np.diff(points)) for points in flat]
    ends = np.stack([start, end], axis=1)
    return CutLines(
        start=start,
        end=end,
        line=np.repeat(np.arange(len(flat)), [len(step) for step in steps]),
        along=np.concatenate([np.cumsum(step) - step for step in steps]),
        length=np.array([step.sum() for step in steps]),
        is_closed=tuple(line[0].start == line[-1].end for line in lines),
        tree=shapely.STRtree(np.asarray(shapely.linestrings(np.stack([ends.real, ends.imag], axis=-1)))),
    )


def _vertices(line: Line, chord_mm: float) -> ComplexArray:
    """Return the vertices of one line, none nearer to the next than ``MIN_CHORD_MM``; two at least."""
    points = [np.array([line[0].start])]
    for segment in line:
        t = np.linspace(0.0, 1.0, chord_count(segment, chord_mm) + 1)[1:]
        points.append(np.append(sample(segment, t[:-1]), segment.end))
    whole = np.concatenate(points)
    keep = np.append(True, np.abs(np.diff(whole)) > MIN_CHORD_MM)
    kept = whole[keep]
    return kept if len(kept) > 1 else np.array([whole[0], whole[0] + MIN_CHORD_MM * 2])
