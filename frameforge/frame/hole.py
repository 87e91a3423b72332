"""A round hole asked for, to hang the piece by or to tie it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.edge_distance import is_within, point_distance_mm
from frameforge.frame.spec import HoleSpec, PieceSpec
from frameforge.frame.wording import clock_words, down, gap_words, round_words
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle

__all__ = ["hole_regions"]

_STEP_MM = 0.1
_SLACK_MM = 1e-9


@dataclass(frozen=True, slots=True)
class _Card:
    """The card that holes are cut in: its edges, and what rows take away of it."""

    base: Edge
    opening: Edge | None
    taken: shapely.STRtree | None

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
        return min(webs) - radius


def hole_regions(
    spec: PieceSpec, base: Edge, opening: Edge | None, preset: Preset, taken: Sequence[shapely.Polygon] = ()
) -> tuple[Region, ...]:
    """Return the holes of a piece: each in the middle of the rim, or on a solid piece as far out as keeps its margin.

    The margin on a solid piece is the card's least neck or the hole's radius, whichever is more. Where rows take the
    edge away there (``taken``: polygons of that) it moves inwards. Raises InputError for a diameter that is not above
    0, GeometryError, with the largest hole that goes, where too little card would stay beside it, where it would reach
    past the middle, and where two holes come too near to each other.
    """
    card = _Card(base, opening, shapely.STRtree(taken) if taken else None)
    found: list[tuple[complex, float]] = []
    for hole in spec.holes:
        if not (hole.diameter_mm > 0 and math.isfinite(hole.diameter_mm)):
            raise InputError(f"a hole of {hole.diameter_mm:g} mm. Write a size above 0.", where=spec.name)
        middle = _middle(card, hole.diameter_mm, hole.at_deg, preset)
        if middle is None:
            raise _no_room(spec, card, hole, preset)
        for other, radius in found:
            web = abs(middle - other) - radius - hole.diameter_mm / 2
            if web < preset.least_web_mm - _SLACK_MM:
                say = f"two holes leave {gap_words(max(web, 0.0))} of card between them, this card needs "
                say += f"{preset.least_web_mm:g} mm. Leave one of them out, or write another place for it."
                raise GeometryError(say, where=spec.name, code="no-room", web_mm=web, limit_mm=preset.least_web_mm)
        found.append((middle, hole.diameter_mm / 2))
    return tuple(Region(circle(middle, radius)) for middle, radius in found)


def _middle(card: _Card, diameter_mm: float, at_deg: float, preset: Preset) -> complex | None:
    """Return where the middle of a hole goes; None where it does not go."""
    direction, radius = math.radians(at_deg), diameter_mm / 2
    towards = complex(math.sin(direction), math.cos(direction))
    margin = max(preset.least_neck_mm, radius)
    for enough in (margin, preset.least_web_mm):
        for out in _places(card, direction, radius, margin):
            if card.web_mm(out * towards, radius) >= enough - _SLACK_MM:
                return out * towards
        if card.opening is None and card.taken is None:
            # On a solid piece a hole with less than its margin would lie past the middle.
            break
    return None


def _places(card: _Card, direction_rad: float, radius: float, margin: float) -> Iterator[float]:
    """Yield distances from the middle of the piece at which a hole may lie: the best, then further and further in."""
    outside = abs(card.base.point(card.base.tau_towards(direction_rad)))
    inside = abs(card.opening.point(card.opening.tau_towards(direction_rad))) if card.opening else 0.0
    if card.opening is None or outside - inside >= 2 * (margin + radius):
        out = outside - margin - radius
    else:
        out = (outside + inside) / 2
    least = inside + radius if card.opening else 0.0
    yield out
    while (out := out - _STEP_MM) >= least:
        yield out


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
    room = _largest(lambda d: _middle(card, d, hole.at_deg, preset) is not None, hole.diameter_mm)
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
