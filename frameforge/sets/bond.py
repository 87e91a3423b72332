"""Cards that lie one inside another and share the lines between them: every line is one curve, cut once."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region

__all__ = ["Bond", "SharedLine", "holds"]

_NOTHING_MM2 = 1e-6
"""What two cards with one line between them share on chords of that line: rounding only."""


@dataclass(frozen=True, slots=True)
class SharedLine:
    """A line cut once: the outside of the card ``inner`` and the opening of the card ``outer``, all by number."""

    line: int
    inner: int
    outer: int


@dataclass(frozen=True, slots=True)
class Bond:
    """Cards out of one sheet that move as one, the innermost first. mm, y up.

    ``lines`` holds every line once, in cutting order: of each card its holes, then its outside, the innermost card
    first. They run round in turns, the outermost counter-clockwise and what lies just within it clockwise, so that both
    fill rules see the same. ``shared`` tells which of them serve two cards.
    """

    parts: tuple[Region, ...]
    lines: tuple[Outline, ...]
    shared: tuple[SharedLine, ...]

    @classmethod
    def nested(cls, outsides: Sequence[Outline], holes: Sequence[Sequence[Outline]]) -> Bond:
        """Return the cards between outlines that lie one inside the next, the smallest first, counter-clockwise.

        ``holes`` are each card's own, clockwise. Raises ValueError for no outline, or holes for another number of them.
        """
        if not outsides or len(outsides) != len(holes):
            raise ValueError(f"{len(outsides)} outlines with holes for {len(holes)}")
        parts, lines, shared = [], [], []
        for k, (outside, own) in enumerate(zip(outsides, holes, strict=True)):
            opening = (outsides[k - 1].reversed(),) if k else ()
            parts.append(Region(outside, (*opening, *own)))
            depth = len(outsides) - 1 - k
            lines += [hole if depth % 2 == 0 else hole.reversed() for hole in own]
            if depth:
                shared.append(SharedLine(len(lines), k, k + 1))
            lines.append(outside if depth % 2 == 0 else outside.reversed())
        return cls(tuple(parts), tuple(lines), tuple(shared))

    @property
    def whole(self) -> Region:
        """The card of all parts together, as it was before they were parted: the outermost outline and true waste."""
        own = (hole for k, part in enumerate(self.parts) for hole in part.holes[1 if k else 0 :])
        return Region(self.parts[-1].outer, tuple(own))

    @property
    def length_mm(self) -> float:
        """Length of all lines, each counted once."""
        return length_mm(self.lines)

    @property
    def saved_mm(self) -> float:
        """How much shorter the lines are than those of the parts cut one by one."""
        return length_mm(self.parts) - self.length_mm

    def transformed(self, affine: Affine) -> Bond:
        """Return the cards moved, turned or mirrored as one: what was shared stays shared to the bit."""
        outsides = [part.outer.transformed(affine) for part in self.parts]
        own = [part.holes[1 if k else 0 :] for k, part in enumerate(self.parts)]
        holes = [[hole.transformed(affine) for hole in mine] for mine in own]
        if affine.determinant < 0:
            outsides = [outline.reversed() for outline in outsides]
            holes = [[hole.reversed() for hole in mine] for mine in holes]
        return Bond.nested(outsides, holes)

    def faults(self) -> tuple[str, ...]:
        """Return what does not hold of the bond, a sentence each for programmers; empty when it is good.

        Every shared line is one curve of both cards, no two cards share area, no line stands there twice, the cards'
        areas come to that of the whole, and the lines' length to that of all cards less that of the shared ones.
        """
        return (*self._line_faults(), *self._area_faults())

    def _line_faults(self) -> Iterator[str]:
        unique = {_key(line) for line in self.lines}
        if len(unique) != len(self.lines):
            yield f"{len(self.lines)} lines, {len(unique)} of them unlike"
        for one in self.shared:
            key = _key(self.lines[one.line])
            if key != _key(self.parts[one.inner].outer):
                yield f"line {one.line} is not the outside of part {one.inner}"
            if key not in map(_key, self.parts[one.outer].holes):
                yield f"line {one.line} is no opening of part {one.outer}"
        twice = length_mm([self.lines[one.line] for one in self.shared])
        if abs(self.saved_mm - twice) > 1e-6:
            yield f"{self.saved_mm:.6f} mm saved, the shared lines are {twice:.6f} mm"

    def _area_faults(self) -> Iterator[str]:
        polygons = [to_polygon(part) for part in self.parts]
        for k, (inner, outer) in enumerate(itertools.pairwise(polygons)):
            common = boolean.intersection(inner, outer).area
            if common > _NOTHING_MM2:
                yield f"parts {k} and {k + 1} share {common:.6f} mm2"
        apart, whole = area_mm2(self.parts), area_mm2(self.whole)
        if abs(apart - whole) > _NOTHING_MM2 * max(1.0, whole):
            yield f"the parts have {apart:.6f} mm2, the whole {whole:.6f} mm2"


def holds(outline: Outline, point: complex) -> bool:
    """Whether a point lies inside an outline, whichever way that runs; on chords of it."""
    return bool(shapely.contains_xy(to_polygon(Region(outline)), point.real, point.imag))


def _key(outline: Outline) -> frozenset[object]:
    """Return what is equal for one line whichever way it is run and wherever it begins."""
    return frozenset(_segment_key(segment) for segment in outline.segments)


def _segment_key(segment: Segment) -> object:
    ends = frozenset((segment.start, segment.end))
    if isinstance(segment, Arc):
        return ends, segment.center, segment.u, segment.v, abs(segment.sweep_rad)
    if isinstance(segment, Cubic):
        return ends, frozenset(((segment.start, segment.c1), (segment.end, segment.c2)))
    return ends
