"""How deep two neighbours stand in each other, measured along the line from seat to seat."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from frameforge.frame.crowd import Crowd
from frameforge.frame.profile import Complexes, Floats, Indices
from frameforge.geometry.ragged import counted
from frameforge.tolerances import CHORD_MM

__all__ = ["Slide", "slide_depth"]

_SAMPLES = 33
_ZOOMS = 7
_KEEP = 3
_SAME_LEVEL_MM = 1e-12
_MOST_CROSSINGS = 1 << 19
"""Crossings of chords and levels looked at in one pass, so that memory stays bounded."""

_AT_END = 1e-4
_CORNER_RAD = 1e-3
_LEVEL = 0.02
"""Curves flatter than this against the line give no lean: they meet end on."""


@dataclass(frozen=True, slots=True)
class Slide:
    """Depth in mm (below 0: apart on every level), the points of A and B that set it, and how they slide on.

    ``lean`` tells how much deeper they stand, mm by mm, when B sinks against A across the line of their places.
    """

    depth_mm: float
    on_a: complex
    on_b: complex
    lean: float = 0.0


def slide_depth(a: Crowd, b: Crowd) -> Slide:
    """Return how far B must slide away from A, along the line from A's place to B's, until no level is shared.

    The depth is the greatest value, over the levels that both reach, of A's right-hand profile less B's left-hand
    one. Hooks that reach round each other without touching count as standing in each other. A and B are one copy each.
    Taken on the true curves, to about 1e-11 mm. No shared level: -infinity.
    """
    line = complex(b.moves[0] - a.moves[0])
    back = line.conjugate() / abs(line) if line else 1.0
    views = _View(a, back), _View(b, back)
    depth, chord_a, part_a, chord_b, part_b = _by_levels(*views)
    best = float(depth.max(initial=-math.inf))
    if best == -math.inf:
        return Slide(best, complex(a.moves[0]), complex(b.moves[0]))
    found = []
    for k in _summits(depth, chord_a, best - 2.5 * CHORD_MM):
        spot = (int(chord_a[k]), float(part_a[k])), (int(chord_b[k]), float(part_b[k]))
        found.append(_zoomed(views, spot))
    top, spot = max(found, key=lambda pair: pair[0].depth_mm)
    return Slide(top.depth_mm, top.on_a / back, top.on_b / back, _lean(views, spot))


class _View:
    """An outline turned so that the line from seat to seat is the real axis: along is real, level imaginary."""

    def __init__(self, crowd: Crowd, turn: complex) -> None:
        self.crowd, self.profile, self.turn = crowd, crowd.profile, turn
        self.starts: Complexes = turn * crowd.starts[0]
        self.ends: Complexes = turn * crowd.ends[0]

    def on_curve(self, chord: Indices, part: Floats) -> Complexes:
        segment, t = self.profile.along(chord, part)
        return np.asarray(self.turn * self.crowd.curve(np.zeros_like(segment), segment, t)[0])

    def direction(self, chord: int, part: float) -> complex | None:
        """Return the direction of the curve at a place; None at a corner."""
        own = self._velocity(chord, part)
        if min(part, 1 - part) > _AT_END:
            return own
        beside = (
            self._velocity(int(self.profile.preceding[chord]), 1.0)
            if part < 0.5
            else (self._velocity(int(self.profile.following[chord]), 0.0))
        )
        turn = own.conjugate() * beside
        return own if abs(math.atan2(turn.imag, turn.real)) < _CORNER_RAD else None

    def _velocity(self, chord: int, part: float) -> complex:
        segment, t = self.profile.along(np.array([chord]), np.array([part]))
        return complex((self.turn * self.crowd.curve(np.zeros_like(segment), segment, t)[1])[0])

    def window(self, chord: int, part: float, reach: float) -> tuple[Indices, Floats]:
        """Return chords and parts of samples from ``reach`` chords before a place to ``reach`` after it.

        The chord's own ends are among them where they lie in reach: a corner is met exactly or not at all.
        """
        joints = np.clip([0.0, 1.0], part - reach, part + reach)
        steps = np.sort(np.concatenate([part + reach * np.linspace(-1, 1, _SAMPLES), joints]))
        chords = np.full(len(steps), chord)
        for _ in range(2):
            before, after = steps < 0, steps > 1
            chords = np.where(before, self.profile.preceding[chords], chords)
            chords = np.where(after, self.profile.following[chords], chords)
            steps = np.where(before, steps + 1, np.where(after, steps - 1, steps))
        return chords, np.clip(steps, 0, 1)


def _by_levels(a: _View, b: _View) -> tuple[Floats, Indices, Floats, Indices, Floats]:
    """Return depth, and chord and part on A and on B, at the level of every vertex of either."""
    left, chord_b, part_b = _crossing(b.starts, b.ends, a.starts.imag, side=-1)
    right, chord_a, part_a = _crossing(a.starts, a.ends, b.starts.imag, side=1)
    own_a, own_b = np.arange(len(a.starts)), np.arange(len(b.starts))
    depth = np.concatenate([a.starts.real - left, right - b.starts.real])
    return (
        depth,
        np.concatenate([own_a, chord_a]),
        np.concatenate([np.zeros(len(own_a)), part_a]),
        np.concatenate([chord_b, own_b]),
        np.concatenate([part_b, np.zeros(len(own_b))]),
    )


def _crossing(starts: Complexes, ends: Complexes, levels: Floats, *, side: int) -> tuple[Floats, Indices, Floats]:
    """Return, level by level, the utmost place (side 1: right, -1: left) where chords cross it, its chord and part.

    A level that no chord crosses has its place at infinity on the other side. A chord is looked at on the levels that
    it reaches and on no others: of long outlines that is a small part of all.
    """
    order = np.argsort(levels, kind="stable")
    lowest, highest = np.minimum(starts.imag, ends.imag), np.maximum(starts.imag, ends.imag)
    first = np.searchsorted(levels[order], lowest - _SAME_LEVEL_MM, side="left")
    counts = np.searchsorted(levels[order], highest + _SAME_LEVEL_MM, side="right") - first
    utmost = np.full(len(levels), -math.inf)
    chord, part = np.zeros(len(levels), dtype=np.intp), np.zeros(len(levels))
    for block in _blocks(counts):
        row, step = counted(counts[block])
        row += block.start
        level = order[first[row] + step]
        here, x = _place_at(starts[row], ends[row], levels[level], side)
        before = utmost.copy()
        np.maximum.at(utmost, level, x)
        # Of equal ones the first chord counts: what is written last stays.
        best = np.flatnonzero((x == utmost[level]) & (x > before[level]))[::-1]
        chord[level[best]], part[level[best]] = row[best], here[best]
    return side * utmost, chord, part


def _blocks(counts: Indices) -> list[slice]:
    """Return stretches of chords, in order, that together cross so many levels that memory stays bounded."""
    ends = np.flatnonzero(np.diff(np.cumsum(counts) // _MOST_CROSSINGS)) + 1
    edges = [0, *ends.tolist(), len(counts)]
    return [slice(low, high) for low, high in pairwise(edges)]


def _place_at(starts: Complexes, ends: Complexes, level: Floats, side: int) -> tuple[Floats, Floats]:
    """Return the part of each chord at which it crosses its level, and how far to the ``side`` that is."""
    flat = starts.imag == ends.imag
    part = np.clip((level - starts.imag) / np.where(flat, 1.0, ends.imag - starts.imag), 0, 1)
    # On a level chord the utmost end counts.
    part = np.where(flat, ((ends.real - starts.real) * side > 0).astype(float), part)
    return part, np.asarray(side * (starts.real + part * (ends.real - starts.real)))


def _summits(depth: Floats, chord: Indices, least: float) -> list[int]:
    """Return entries that are at least ``least`` deep, the deepest first; of those on chords side by side only one."""
    kept: list[int] = []
    for k in np.argsort(-depth).tolist():
        if depth[k] < least or len(kept) == _KEEP:
            break
        if all(abs(int(chord[k]) - int(chord[other])) > 2 for other in kept):
            kept.append(k)
    return kept


Spot = tuple[tuple[int, float], tuple[int, float]]
"""Chord and part of it, on A and on B."""


def _at(views: tuple[_View, _View], spot: Spot, depth: float) -> Slide:
    points = [
        view.on_curve(np.array([chord]), np.array([part]))[0] for view, (chord, part) in zip(views, spot, strict=True)
    ]
    return Slide(depth, complex(points[0]), complex(points[1]))


def _zoomed(views: tuple[_View, _View], spot: Spot) -> tuple[Slide, Spot]:
    """Return the depth on the true curves near a spot, and where it is, by sampling ever shorter stretches of both."""
    a, b = views
    (chord_a, part_a), (chord_b, part_b) = spot
    reach = 1.0
    best = _at(views, spot, -math.inf)
    for _ in range(_ZOOMS):
        stretches = a.window(chord_a, part_a, reach), b.window(chord_b, part_b, reach)
        on_a, on_b = a.on_curve(*stretches[0]), b.on_curve(*stretches[1])
        best, (k, step_a, step_b) = _deepest(on_a, on_b, best)
        chord_a, part_a = _between(stretches[0], k[0], step_a)
        chord_b, part_b = _between(stretches[1], k[1], step_b)
        reach /= (_SAMPLES - 1) / 6
    return best, ((chord_a, part_a), (chord_b, part_b))


def _lean(views: tuple[_View, _View], spot: Spot) -> float:
    """Return the lean of a slide: at the deepest place both curves run alike, unless one has a corner there.

    With u along the line, n across it and t the common direction of the curves, (u + lean n) stands upright on t.
    """
    for view, (chord, part) in zip(views, spot, strict=True):
        along = view.direction(chord, part)
        if along is not None and abs(along.imag) > _LEVEL * abs(along):
            return -along.real / along.imag
    return 0.0


def _deepest(on_a: Complexes, on_b: Complexes, before: Slide) -> tuple[Slide, tuple[tuple[int, int], float, float]]:
    """Return the deepest place between two sampled stretches, and where it stands on each: sample and part."""
    left, seg_b, part_b = _crossing(on_b[:-1], on_b[1:], on_a.imag, side=-1)
    right, seg_a, part_a = _crossing(on_a[:-1], on_a[1:], on_b.imag, side=1)
    depth_a, depth_b = on_a.real - left, right - on_b.real
    i, j = int(depth_a.argmax()), int(depth_b.argmax())
    if max(depth_a[i], depth_b[j]) == -math.inf:
        return before, ((len(on_a) // 2, len(on_b) // 2), 0.0, 0.0)
    if depth_a[i] >= depth_b[j]:
        k, part = int(seg_b[i]), float(part_b[i])
        other = on_b[k] + part * (on_b[k + 1] - on_b[k])
        return Slide(float(depth_a[i]), complex(on_a[i]), complex(other)), ((i, k), 0.0, part)
    k, part = int(seg_a[j]), float(part_a[j])
    other = on_a[k] + part * (on_a[k + 1] - on_a[k])
    return Slide(float(depth_b[j]), complex(other), complex(on_b[j])), ((k, j), part, 0.0)


def _between(stretch: tuple[Indices, Floats], k: int, step: float) -> tuple[int, float]:
    chords, parts = stretch
    if step == 0 or k + 1 >= len(chords) or chords[k + 1] != chords[k]:
        return int(chords[k]), float(parts[k])
    return int(chords[k]), float(parts[k] + step * (parts[k + 1] - parts[k]))
