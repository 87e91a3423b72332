"""A tent card: where a piece is folded and where its foot is cut straight, and the whole blank of both halves."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.profile import Complexes
from frameforge.frame.spec import FoldSpec, PieceSpec, Size
from frameforge.frame.wording import down, round_words, up
from frameforge.geometry.affine import Affine
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.tolerances import ON_LINE_MM
from frameforge.units import format_floor, format_mm

__all__ = ["StraightLine", "Tent", "chord_mm", "tent_of", "unfolded"]

_FAR = 4.0
"""How far a block beyond a line reaches, in sizes of the piece: further than any motif."""

_EXACT = 1e-15


@dataclass(frozen=True, slots=True)
class StraightLine:
    """A line right across the card: all points P with P.N = ``reach_mm``. N (``normal``) points away from the card."""

    normal: complex
    reach_mm: float

    @property
    def along(self) -> complex:
        """The unit direction of the line, N a quarter turn clockwise."""
        return self.normal * -1j

    @property
    def mirror(self) -> Affine:
        """The reflection in the line."""
        return Affine(0, -(self.normal**2), 2 * self.reach_mm * self.normal)

    def beyond_mm(self, point: complex) -> float:
        """Return how far a point lies beyond the line, mm; below 0 on the side of the card."""
        return (point * self.normal.conjugate()).real - self.reach_mm

    def furthest_mm(self, points: Complexes) -> float:
        """Return how far beyond the line the furthest of some points (one row) lies, mm."""
        return float((points * self.normal.conjugate()).real.max()) - self.reach_mm

    def block(self, size: Size) -> Region:
        """Return all that lies beyond the line, for a piece of the given size: wide and deep enough for any motif."""
        far = _FAR * (size.width_mm + size.height_mm)
        foot, up, side = self.reach_mm * self.normal, far * self.normal, far * self.along
        return Region(Outline.from_points((foot + side, foot + side + up, foot - side + up, foot - side)))

    def lies_along(self, segment: Segment) -> bool:
        """Whether a segment is a bit of the line."""
        return isinstance(segment, Line) and all(
            abs(self.beyond_mm(end)) <= ON_LINE_MM for end in (segment.start, segment.end)
        )


@dataclass(frozen=True, slots=True)
class Tent:
    """The fold of a piece (``hinge``), and where a straight foot is cut off at the opposite side, if it is."""

    hinge: StraightLine
    foot: StraightLine | None = None

    @property
    def lines(self) -> tuple[StraightLine, ...]:
        """The lines that nothing of a half may cross."""
        return (self.hinge,) if self.foot is None else (self.hinge, self.foot)

    def blocks(self, size: Size) -> tuple[Region, ...]:
        """Return what is cut off a half, for a piece of the given size."""
        return tuple(line.block(size) for line in self.lines)

    def half(self, points: Complexes) -> Complexes:
        """Return points of the blank, each where it lies when that is folded: those beyond the fold on their images."""
        beyond = (points * self.hinge.normal.conjugate()).real > self.hinge.reach_mm
        return np.where(beyond, np.asarray(self.hinge.mirror.apply(points)), points)

    def mirrored(self, points: Complexes) -> Complexes:
        """Return those of some points that lie on the half, and the same again beyond the fold."""
        kept = points
        for line in self.lines:
            kept = kept[(kept * line.normal.conjugate()).real <= line.reach_mm + ON_LINE_MM]
        return np.concatenate([kept, np.asarray(self.hinge.mirror.apply(kept))]) if len(kept) else kept


def tent_of(spec: PieceSpec, size: Size, preset: Preset) -> Tent | None:
    """Return where a piece of the given size is folded and flattened; None for a piece that is not folded.

    Both depths go straight in from the outermost place of the base on their side. Raises GeometryError, with the depth
    that would do, where a half would be lower than the card's least neck, or its fold or foot narrower.
    """
    fold = spec.fold
    if fold is None:
        return None
    outwards = _towards(fold.at_deg)
    reach = _reach_mm(size, outwards)
    height = 2 * reach - fold.depth_mm - fold.flat_mm
    if height < preset.least_neck_mm:
        raise _too_deep(spec, fold, size, height, preset)
    hinge = StraightLine(outwards, reach - fold.depth_mm)
    foot = StraightLine(-outwards, reach - fold.flat_mm) if fold.flat_mm else None
    for line, what, depth in ((hinge, "fold", fold.depth_mm), (foot, "foot", fold.flat_mm)):
        if line is not None and chord_mm(size, line) < preset.least_neck_mm:
            least = up(reach - _reach_of_chord_mm(size, line, preset.least_neck_mm), 0.1)
            say = (
                f"a {what} {depth:g} mm in from the edge of {round_words(size)} is "
                f"{format_floor(chord_mm(size, line))} wide, this card needs {preset.least_neck_mm:g} mm. "
                f"Take it {least:.4g} mm in or more."
            )
            raise GeometryError(say, where=spec.name, code="fold", depth_mm=depth)
    return Tent(hinge, foot)


def chord_mm(size: Size, line: StraightLine) -> float:
    """Return how long a line is inside a circle or oval, mm; 0 where it passes it by.

    With half-axes a, b and H the reach of the oval along N, the chord at P.N = c is 2 a b sqrt(H^2 - c^2) / H^2
    (the affine image of a chord of the unit circle). On a circle at depth s below the edge: 2 sqrt(2 R s - s^2).
    """
    reach = _reach_mm(size, line.normal)
    inside = reach * reach - line.reach_mm * line.reach_mm
    return size.width_mm * size.height_mm / 2 * math.sqrt(max(inside, 0.0)) / (reach * reach)


def _reach_of_chord_mm(size: Size, line: StraightLine, chord: float) -> float:
    """Return how far out a line of the same direction lies whose chord is so long, mm; 0 where none is."""
    reach = _reach_mm(size, line.normal)
    half = chord * reach * reach / (size.width_mm * size.height_mm / 2)
    return math.sqrt(max(reach * reach - half * half, 0.0))


def unfolded(regions: Sequence[Region], hinge: StraightLine) -> tuple[Region, ...]:
    """Return regions that end at a fold, each joined along it with its mirror image.

    Exact: what bounds a half away from the fold runs from the fold to the fold, and closes with its own image. A region
    that does not reach the fold stays, and has its image beside it.
    """
    return tuple(sorted((found for region in regions for found in _unfolded(region, hinge)), key=_order))


def _order(region: Region) -> tuple[float, float]:
    start = region.outer.segments[0].start
    return round(start.real, 8), round(start.imag, 8)


def _unfolded(region: Region, hinge: StraightLine) -> list[Region]:
    chains = [chain for outline in region.outlines for chain in _chains(outline, hinge)]
    image = hinge.mirror
    if not chains:
        return [region, Region(_image(region.outer, image), tuple(_image(hole, image) for hole in region.holes))]
    closed = [Outline((*chain, *_back(chain, image))) for chain in chains]
    outer = max(closed, key=area_mm2)
    free = [hole for hole in region.holes if not any(hinge.lies_along(segment) for segment in hole.segments)]
    inner = [outline for outline in closed if outline is not outer]
    return [Region(outer, (*inner, *free, *(_image(hole, image) for hole in free)))]


def _chains(outline: Outline, hinge: StraightLine) -> Iterator[tuple[Segment, ...]]:
    """Yield the parts of an outline between its bits of fold; none for an outline without any."""
    segments = outline.segments
    on_line = [hinge.lies_along(segment) for segment in segments]
    if not any(on_line):
        return
    first = on_line.index(True)
    chain: list[Segment] = []
    for k in (*range(first, len(segments)), *range(first + 1)):
        if not on_line[k]:
            chain.append(segments[k])
        elif chain:
            yield tuple(chain)
            chain = []


def _back(chain: tuple[Segment, ...], image: Affine) -> list[Segment]:
    """Return the image of a chain, run from the chain's end back to its start, joined to the bit at both."""
    back = [segment.transformed(image).reversed() for segment in reversed(chain)]
    back[0] = back[0].with_ends(chain[-1].end, back[0].end)
    back[-1] = back[-1].with_ends(back[-1].start, chain[0].start)
    return back


def _image(outline: Outline, image: Affine) -> Outline:
    return outline.transformed(image).reversed()


def _towards(at_deg: float) -> complex:
    """Return the unit direction clockwise from the top, quarter turns to the bit."""
    angle = math.radians(at_deg)
    found = complex(math.sin(angle), math.cos(angle))
    return complex(*(float(round(v)) if abs(v - round(v)) < _EXACT else v for v in (found.real, found.imag)))


def _reach_mm(size: Size, towards: complex) -> float:
    """Return how far a base reaches in a direction: its support, sqrt(a^2 x^2 + b^2 y^2)."""
    return math.hypot(size.width_mm / 2 * towards.real, size.height_mm / 2 * towards.imag)


def _too_deep(spec: PieceSpec, fold: FoldSpec, size: Size, height: float, preset: Preset) -> GeometryError:
    """Return the refusal of a fold and a foot that leave nothing between them, with the depth that would do."""
    room = 2 * _reach_mm(size, _towards(fold.at_deg)) - fold.flat_mm - preset.least_neck_mm
    most = down(room, 0.1)
    left = f"leave {format_mm(height)} of card between them" if height > 0 else "leave no card between them"
    if not fold.flat_mm:
        left = f"leaves {format_mm(height)} of card below it" if height > 0 else "leaves no card below it"
    foot = f" and a foot cut off {fold.flat_mm:g} mm deep" if fold.flat_mm else ""
    say = f"a fold {fold.depth_mm:g} mm below the edge of {round_words(size)}{foot} {left}."
    hint = f"Take a depth of {most:.4g} mm or less." if most > 0 else "Take a smaller flat."
    return GeometryError(f"{say} {hint}", where=spec.name, code="fold", depth_mm=fold.depth_mm)
