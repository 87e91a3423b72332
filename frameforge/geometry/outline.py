"""Closed outlines of true curves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line

__all__ = ["Outline", "Segment"]

Segment = Line | Arc | Cubic


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed chain of segments; each ends in the very bits in which the next one starts.

    Nothing is said about direction or about crossings with itself: a region decides what is outside and what is hole.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        """Refuse an empty chain and a chain with a gap."""
        if not self.segments:
            raise ValueError("an outline needs at least one segment")
        last = self.segments[-1]
        for segment in self.segments:
            if segment.start != last.end:
                raise ValueError(f"outline has a gap: {last.end} to {segment.start}")
            last = segment

    @classmethod
    def from_points(cls, points: Iterable[complex]) -> Outline:
        """Return the closed polygon through ``points`` (mm); equal neighbours are taken once.

        Raises ValueError for fewer than three different points.
        """
        kept: list[complex] = []
        for point in points:
            if not kept or point != kept[-1]:
                kept.append(point)
        if len(kept) > 1 and kept[0] == kept[-1]:
            kept.pop()
        if len(kept) < 3:
            raise ValueError("a polygon needs at least three different points")
        return cls(tuple(Line(a, b) for a, b in zip(kept, kept[1:] + kept[:1], strict=True)))

    @classmethod
    def from_chain(cls, segments: Iterable[Segment], *, joint_mm: float) -> Outline:
        """Return the outline of segments whose neighbours meet within ``joint_mm``.

        Shared joints are made equal to the bit (the earlier segment's end is kept), segments without length are
        dropped, and a wider gap is closed by a line. Raises ValueError where no segment has a length.
        """
        chain: list[Segment] = []
        for segment in segments:
            if isinstance(segment, Line) and abs(segment.end - segment.start) <= joint_mm:
                continue
            chain.append(_joined(chain, segment, joint_mm))
        if not chain:
            raise ValueError("an outline needs at least one segment with length")
        if chain[0].start != chain[-1].end:
            if abs(chain[0].start - chain[-1].end) <= joint_mm:
                chain[-1] = chain[-1].with_ends(chain[-1].start, chain[0].start)
            else:
                chain.append(Line(chain[-1].end, chain[0].start))
        return cls(tuple(chain))

    def transformed(self, affine: Affine) -> Outline:
        """Return the image under an affine map; joints stay shared, since equal points have equal images."""
        return Outline(tuple(segment.transformed(affine) for segment in self.segments))

    def reversed(self) -> Outline:
        """Return the outline run the other way, from the same starting joint."""
        return Outline(tuple(segment.reversed() for segment in reversed(self.segments)))


def _joined(chain: list[Segment], segment: Segment, joint_mm: float) -> Segment:
    """Return ``segment`` started at the chain's end, after adding a line to ``chain`` where the gap is wide."""
    if not chain or segment.start == chain[-1].end:
        return segment
    if abs(segment.start - chain[-1].end) <= joint_mm:
        return segment.with_ends(chain[-1].end, segment.end)
    chain.append(Line(chain[-1].end, segment.start))
    return segment
