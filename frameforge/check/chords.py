"""The outlines of a piece as chords in arrays, card on the left: what every width is first measured on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.geometry.flatten import Flat, flatten_outlines
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM, MIN_CHORD_MM

__all__ = ["Chords", "ComplexArray", "FloatArray", "IntArray", "to_chords"]

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
ComplexArray = npt.NDArray[np.complex128]


@dataclass(frozen=True, eq=False)
class Chords:
    """All chords of all loops, loop after loop, each loop in its own direction; lengths in mm.

    ``start[k]`` to ``end[k]`` is chord k of loop ``loop[k]``; ``after[k]`` and ``before[k]`` are its neighbours;
    ``along[k]`` is the length walked in the loop up to its start and ``loop_length[j]`` the whole of loop j.
    Chord k belongs to ``outlines[loop[k]].segments[segment[k]]`` between parameters ``t0[k]`` and ``t1[k]``.
    ``part[j]`` numbers the region that loop j bounds and ``is_outer[j]`` tells its outer outline from its holes.
    The chords of loop j are those from ``first[j]`` to before ``first[j + 1]``.
    """

    start: ComplexArray
    end: ComplexArray
    loop: IntArray
    after: IntArray
    before: IntArray
    along: FloatArray
    loop_length: FloatArray
    first: IntArray
    segment: IntArray
    t0: FloatArray
    t1: FloatArray
    outlines: tuple[Outline, ...]
    part: IntArray
    is_outer: npt.NDArray[np.bool_]
    tree: shapely.STRtree

    @cached_property
    def length(self) -> FloatArray:
        """Length of each chord, mm."""
        return np.abs(self.end - self.start)

    @cached_property
    def middle(self) -> ComplexArray:
        """Middle of each chord."""
        return (self.start + self.end) / 2

    @cached_property
    def longest(self) -> float:
        """Length of the longest chord, mm."""
        return float(self.length.max())

    @cached_property
    def direction(self) -> ComplexArray:
        """Unit direction of each chord."""
        return (self.end - self.start) / self.length


def to_chords(regions: Sequence[Region], chord_mm: float = CHORD_MM) -> Chords:
    """Return the chords of ``regions``, within ``chord_mm`` of the true curves; at least one region."""
    outlines = tuple(outline for region in regions for outline in region.outlines)
    loops = [_loop(flat) for flat in flatten_outlines(outlines, chord_mm)]
    counts = [len(loop[0]) for loop in loops]
    offsets = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    start, end, segment, t0, t1 = (np.concatenate([loop[i] for loop in loops]) for i in range(5))
    turn = [np.arange(count) for count in counts]
    lengths = [np.abs(loop[1] - loop[0]) for loop in loops]
    return Chords(
        start=start,
        end=end,
        loop=np.repeat(np.arange(len(loops)), counts),
        after=np.concatenate([o + np.roll(k, -1) for o, k in zip(offsets, turn, strict=False)]),
        before=np.concatenate([o + np.roll(k, 1) for o, k in zip(offsets, turn, strict=False)]),
        along=np.concatenate([np.cumsum(length) - length for length in lengths]),
        loop_length=np.array([length.sum() for length in lengths]),
        first=offsets,
        segment=segment.astype(np.int64),
        t0=t0,
        t1=t1,
        outlines=outlines,
        part=np.array([i for i, region in enumerate(regions) for _ in region.outlines]),
        is_outer=np.array([i == 0 for region in regions for i in range(len(region.outlines))]),
        tree=shapely.STRtree(np.asarray(shapely.linestrings(np.stack([_pairs(start), _pairs(end)], axis=1)))),
    )


def _pairs(z: ComplexArray) -> FloatArray:
    """Return complex points as rows of x and y."""
    return np.stack([z.real, z.imag], axis=-1)


def _loop(flat: Flat) -> tuple[ComplexArray, ComplexArray, IntArray, FloatArray, FloatArray]:
    """Return starts, ends, segment numbers and parameters of the chords of one outline, none shorter than 1e-9 mm."""
    end = np.roll(flat.points, -1)
    # The vertex that closes a segment is stored as the first of the next one: its parameter there is 0, here 1.
    t1 = np.roll(flat.t, -1)
    t1 = np.where(np.roll(flat.segment, -1) == flat.segment, t1, 1.0)
    t1 = np.where(t1 <= flat.t, 1.0, t1)
    keep = np.abs(end - flat.points) > MIN_CHORD_MM
    return flat.points[keep], end[keep], flat.segment[keep], flat.t[keep], t1[keep]
