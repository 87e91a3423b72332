"""A round hole asked for, to hang the piece by or to tie it: on the plumb line of the piece's weight."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import shapely

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.edge_distance import is_within, point_distance_mm
from frameforge.frame.spec import HoleSpec, PieceSpec
from frameforge.frame.tent import StraightLine
from frameforge.frame.wording import clock_words, down, round_words
from frameforge.geometry.arc import Arc
from frameforge.geometry.canonical import in_order
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.tolerances import CHORD_MM
from frameforge.units import format_floor

__all__ = ["Weight", "hole_regions", "set_in"]

_STEP_MM = 0.1
_SLACK_MM = 1e-9
_STEPS = 40
_EVEN_MM = 1e-6
"""A middle of the weight this near to the spoke of a hole lies on it: rounding of a symmetrical piece."""


@dataclass(frozen=True, slots=True)
class Weight:
    """How much card there is, mm2, and where its centre of gravity lies."""

    area_mm2: float
    middle: complex

    def without(self, holes: Sequence[tuple[complex, float]]) -> Weight:
        """Return it after round holes (middle, radius) were cut in the card."""
        areas = [math.pi * radius * radius for _, radius in holes]
        left = self.area_mm2 - sum(areas)
        moment = self.area_mm2 * self.middle - sum(area * at for area, (at, _) in zip(areas, holes, strict=True))
        return Weight(left, moment / left) if left > 0 else self


@dataclass(frozen=True, slots=True)
class _Card:
    """The card that holes are cut in: its edges, what rows take away of it, the lines it is folded or cut off at."""

    base: Edge
    opening: Edge | None
    taken: shapely.STRtree | None
    lines: tuple[StraightLine, ...] = ()

    def web_mm(self, middle: complex, radius: float) -> float:
        """Return the least card round a hole, mm; below 0 where it comes out."""
        if not is_within(middle, self.base):
            return -radius
        webs = [point_distance_mm(middle, self.base)]
        if self.opening is not None:
            inside = point_distance_mm(middle, self.opening)
            webs.append(-inside if is_within(middle, self.opening) else inside)
        if self.taken is not None:
            point = shapely.Point(middle.real, middle.imag)
            nearest = self.taken.geometries[self.taken.nearest(point)]
            webs.append(float(shapely.distance(point, nearest)))
        return min(webs + [-line.beyond_mm(middle) for line in self.lines]) - radius


def hole_regions(
    spec: PieceSpec,
    base: Edge,
    opening: Edge | None,
    preset: Preset,
    taken: Sequence[shapely.Polygon] = (),
    *,
    weight: Weight | None = None,
    lines: tuple[StraightLine, ...] = (),
) -> tuple[Region, ...]:
    """Return the holes of a piece: each in the middle of the rim, or on a solid piece as far out as keeps its margin.

    Hung by a hole, a piece turns until the centre of its weight is straight below it. Each hole therefore lies on the
    line through that centre in its own direction, which then points up; ``weight`` is that of the card before the holes
    are cut, and their own loss is taken into account. Without it, or where there is no room on that line, a hole lies
    on its spoke.

    The margin on a solid piece is the card's least neck or the hole's radius, whichever is more. Where rows take the
    edge away there (``taken``: polygons of that) it moves inwards; it keeps behind ``lines``. Raises InputError for a
    diameter that is not above 0, GeometryError, with the largest hole that goes, where too little card would stay
    beside it, where it would reach past the middle, and where two holes come too near to each other.
    """
    card = _Card(base, opening, shapely.STRtree(taken) if taken else None, lines)
    for hole in spec.holes:
        if not (hole.diameter_mm > 0 and math.isfinite(hole.diameter_mm)):
            raise InputError(f"a hole of {hole.diameter_mm:g} mm. Write a size above 0.", where=spec.name)
    found = _found(spec, card, preset, 0j)
    if weight is not None:
        found = _plumb(spec, card, preset, weight, found)
    return tuple(Region(circle(middle, radius)) for middle, radius in found)


def set_in(regions: Sequence[Region], holes: Sequence[Region]) -> tuple[Region, ...] | None:
    """Return the card with round holes cut in it; None where one is not all round in the card of a single part."""
    if len(regions) != 1:
        return None
    card = to_polygon(regions[0])
    edge = shapely.boundary(card)
    for hole in holes:
        arc = hole.outer.segments[0]
        assert isinstance(arc, Arc)
        middle = shapely.Point(arc.center.real, arc.center.imag)
        if not card.contains(middle) or edge.distance(middle) <= abs(arc.u) + 2 * CHORD_MM:
            return None
    cut = (hole.outer.reversed() for hole in holes)
    return (replace(regions[0], holes=in_order((*regions[0].holes, *cut))),)


def _plumb(
    spec: PieceSpec, card: _Card, preset: Preset, weight: Weight, found: list[tuple[complex, float]]
) -> list[tuple[complex, float]]:
    """Return the holes moved onto the lines through the centre of the weight, which they themselves move a little."""
    middle = 0j
    for _ in range(_STEPS):
        centre = weight.without(found).middle
        if abs(centre - middle) <= _SLACK_MM:
            break
        middle = centre
        found = _found(spec, card, preset, middle)
    return found


def _found(spec: PieceSpec, card: _Card, preset: Preset, through: complex) -> list[tuple[complex, float]]:
    """Return middle and radius of every hole, each on the line through a point in its own direction."""
    found: list[tuple[complex, float]] = []
    for hole in spec.holes:
        middle = _middle(card, hole, preset, through) or _middle(card, hole, preset, 0j)
        if middle is None:
            raise _no_room(spec, card, hole, preset)
        for other, radius in found:
            web = abs(middle - other) - radius - hole.diameter_mm / 2
            if web < preset.least_web_mm - _SLACK_MM:
                say = f"two holes leave {format_floor(max(web, 0.0))} of card between them, this card needs "
                say += f"{preset.least_web_mm:g} mm. Leave one of them out, or write another place for it."
                raise GeometryError(say, where=spec.name, code="no-room", web_mm=web, limit_mm=preset.least_web_mm)
        found.append((middle, hole.diameter_mm / 2))
    return found


def _middle(card: _Card, hole: HoleSpec, preset: Preset, through: complex) -> complex | None:
    """Return where the middle of a hole goes on the line through a point; None where it does not go."""
    direction, radius = math.radians(hole.at_deg), hole.diameter_mm / 2
    towards = complex(math.sin(direction), math.cos(direction))
    aside = (through * towards.conjugate()).imag * 1j * towards
    if abs(aside) <= _EVEN_MM:
        aside = 0j
    margin = max(preset.least_neck_mm, radius)
    for enough in (margin, preset.least_web_mm):
        for out in _places(card, (aside, towards), radius, margin):
            if card.web_mm(aside + out * towards, radius) >= enough - _SLACK_MM:
                return aside + out * towards
        if card.opening is None and card.taken is None and not card.lines:
            # On a solid piece a hole with less than its margin would lie past the middle.
            break
    return None


def _places(card: _Card, line: tuple[complex, complex], radius: float, margin: float) -> Iterator[float]:
    """Yield lengths along a line (its place beside the middle, its direction) at which a hole may lie.

    The best comes first, then further and further in.
    """
    outside = _reach_mm(card.base, *line)
    inside = _reach_mm(card.opening, *line) if card.opening else 0.0
    if card.opening is None or outside - inside >= 2 * (margin + radius):
        out = outside - margin - radius
    else:
        out = (outside + inside) / 2
    least = inside + radius if card.opening else 0.0
    yield out
    while (out := out - _STEP_MM) >= least:
        yield out


def _reach_mm(edge: Edge, aside: complex, towards: complex) -> float:
    """Return how far along a line an edge is left, mm; 0 where the line passes it by.

    Off the middle the margin is to be kept straight to the edge and not along the line: the walk inwards sees to it.
    """
    if not aside:
        return abs(edge.point(edge.tau_towards(math.atan2(towards.real, towards.imag))))
    if not is_within(aside, edge):
        return 0.0
    low, high = 0.0, max(edge.size.width_mm, edge.size.height_mm)
    while high - low > _SLACK_MM:
        middle = (low + high) / 2
        low, high = (middle, high) if is_within(aside + middle * towards, edge) else (low, middle)
    return low


def _no_room(spec: PieceSpec, card: _Card, hole: HoleSpec, preset: Preset) -> GeometryError:
    """Return the refusal of a hole, with the largest that goes there."""
    place = {0.0: "at the top", 90.0: "at the right", 180.0: "at the bottom", 270.0: "at the left"}.get(
        hole.at_deg % 360, clock_words(hole.at_deg)
    )
    wide, least = f"a hole of {hole.diameter_mm:g} mm", preset.least_web_mm
    if card.opening is None and hole.diameter_mm / 2 > _deepest_mm(card, hole) / 2:
        say = f"{wide} {place} would reach past the middle of {round_words(card.base.size)}."
    else:
        say = f"{wide} {place} leaves less than {least:g} mm of card beside it, as much as this card needs."
    room = _largest(lambda d: _middle(card, replace(hole, diameter_mm=d), preset, 0j) is not None, hole.diameter_mm)
    hint = f"Make the hole {room:.4g} mm or less." if room >= _STEP_MM else "Make the rim wider."
    if card.opening is None and room:
        hint = hint.rstrip(".") + "; for the middle write --opening."
    return GeometryError(f"{say} {hint}", where=spec.name, code="no-room", hole_mm=hole.diameter_mm, limit_mm=least)


def _deepest_mm(card: _Card, hole: HoleSpec) -> float:
    """Return how far it is from the edge to the middle of the piece towards a hole, mm."""
    return abs(card.base.point(card.base.tau_towards(math.radians(hole.at_deg))))


def _largest(holds: Callable[[float], bool], below: float) -> float:
    """Return the greatest multiple of .1 mm not above ``below`` that holds; 0 where none does."""
    low, high = 0, math.floor(down(below, _STEP_MM) / _STEP_MM + 0.5) + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle * _STEP_MM) else (low, middle)
    return round(low * _STEP_MM, 1)
