"""A closed outline by the length walked along it: points, directions, and parts between two places."""

from __future__ import annotations

import bisect
from dataclasses import dataclass

import numpy as np

from frameforge.geometry.dashes import parameter_at
from frameforge.geometry.direction import direction_at
from frameforge.geometry.measure import lengths_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.tolerances import JOINT_MM

__all__ = ["Along"]


@dataclass(frozen=True, slots=True)
class Along:
    """An outline with the lengths (mm) at which its segments end, counted from its first joint."""

    outline: Outline
    ends_mm: tuple[float, ...]

    @classmethod
    def from_outline(cls, outline: Outline) -> Along:
        """Return the outline measured; 1e-10 relative for cubics and elliptical arcs, else rounding only."""
        return cls(outline, tuple(np.cumsum(lengths_mm(outline.segments)).tolist()))

    @property
    def length_mm(self) -> float:
        """The length of the whole outline."""
        return self.ends_mm[-1]

    def at(self, along_mm: float) -> tuple[int, float]:
        """Return the number of the segment and the parameter there; a place beyond the end counts round again."""
        place = along_mm % self.length_mm
        index = min(bisect.bisect_right(self.ends_mm, place), len(self.ends_mm) - 1)
        before = self.ends_mm[index - 1] if index else 0.0
        return index, parameter_at(self.outline.segments[index], place - before, self.ends_mm[index] - before)

    def point(self, along_mm: float) -> complex:
        """Return the point there (mm)."""
        index, t = self.at(along_mm)
        return self.outline.segments[index].point(t)

    def direction(self, along_mm: float) -> complex:
        """Return the unit direction there; at a corner, that of the segment that begins."""
        index, t = self.at(along_mm)
        return direction_at(self.outline.segments[index], t)

    def part(self, from_mm: float, to_mm: float) -> tuple[Segment, ...]:
        """Return the segments from one place to a later one, which may lie beyond a whole turn.

        Neighbours share their joint to the bit; a whole turn ends in the bits it starts in. Segments shorter than
        ``JOINT_MM`` are left out. Raises ValueError when nothing lies between.
        """
        if to_mm - from_mm <= JOINT_MM:
            raise ValueError(f"no part of an outline lies between {from_mm} and {to_mm} mm")
        turns, rest = divmod(to_mm - from_mm, self.length_mm)
        if self.length_mm - rest <= JOINT_MM:
            turns, rest = turns + 1, 0.0
        chain = self._turn(from_mm) * int(turns)
        return chain + self._stretch(from_mm, from_mm + rest) if rest > JOINT_MM else chain

    def _turn(self, from_mm: float) -> tuple[Segment, ...]:
        """Return the whole outline begun at a place."""
        segments = self.outline.segments
        index, t = self._snapped(from_mm)
        if t == 0:
            return segments[index:] + segments[:index]
        cut = segments[index]
        return (cut.piece(t, 1.0), *segments[index + 1 :], *segments[:index], cut.piece(0.0, t))

    def _stretch(self, from_mm: float, to_mm: float) -> tuple[Segment, ...]:
        """Return less than a whole turn."""
        segments, (first, t0), (last, t1) = self.outline.segments, self._snapped(from_mm), self._snapped(to_mm)
        if first == last and t1 > t0:
            return (segments[first].piece(t0, t1),)
        count = len(segments)
        between = [segments[k % count] for k in range(first + 1, last + (count if last <= first else 0))]
        head = segments[first] if t0 == 0 else segments[first].piece(t0, 1.0)
        return (head, *between, segments[last].piece(0.0, t1)) if t1 > 0 else (head, *between)

    def _snapped(self, along_mm: float) -> tuple[int, float]:
        """Return segment and parameter, a joint where one lies within ``JOINT_MM``; t is never 1."""
        index, t = self.at(along_mm)
        before, end = self.ends_mm[index - 1] if index else 0.0, self.ends_mm[index]
        place = along_mm % self.length_mm
        if place - before <= JOINT_MM:
            return index, 0.0
        return ((index + 1) % len(self.ends_mm), 0.0) if end - place <= JOINT_MM else (index, t)
