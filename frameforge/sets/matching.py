"""Marks in the part of lower cards that the topmost one hides: holes that match one way only, notches to be counted."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.units import format_floor

__all__ = ["MatchHole", "matching_holes", "notch_row", "ways_to_match"]

PLAY_MM = 0.5
"""Holes that lie no further from each other than this still seem to match: a pin of wood gives as much."""
_TURN_DEG = 5.0
_STEP_MM = 0.25
_STEPS = 7200
_HANDY_MM = 3.0
"""A hole that a pencil's point or a stick finds, and whose bit is no crumb; smaller ones where the card is narrow."""
_UNLIKE = 1.5
"""The one hole is this many times as wide as the other."""
_ASIDE = 0.5
"""Two directions with less of a sine between them lie near one line through the middle: a flip over it matches."""


@dataclass(frozen=True, slots=True)
class MatchHole:
    """A round hole: its middle and how wide it is, mm."""

    middle: complex
    diameter_mm: float

    def outline(self) -> Outline:
        """Return its outline, clockwise, as holes are."""
        return circle(self.middle, self.diameter_mm / 2).reversed()


def matching_holes(cards: Sequence[Region], preset: Preset, *, where: str) -> tuple[MatchHole, ...]:
    """Return two unlike holes, the same for all ``cards``, in the part that every one of them has.

    They keep the least web to every edge, and of all turns and flips about the middle only one brings them onto
    themselves. Raises GeometryError where there is no room for two.
    """
    hidden = _common(cards)
    small = wide = 0.0
    for small in (max(_HANDY_MM, preset.least_hole_mm), preset.least_hole_mm):
        wide = round(small * _UNLIKE, 1)
        found = _unlike(hidden, small, wide, preset.least_web_mm)
        if found:
            return found
    need = wide + 2 * preset.least_web_mm
    say = (
        f"the card that is hidden is too narrow for holes of {small:g} and {wide:g} mm that match one way only; it "
        f"must be {format_floor(need)} wide. Make the rim wider, or leave --match out."
    )
    raise GeometryError(say, where=where, code="no-room", limit_mm=need)


def _unlike(hidden: BaseGeometry, small: float, wide: float, web: float) -> tuple[MatchHole, ...]:
    """Return two holes of given widths that match one way only; none where there is no room."""
    first = [*_places(hidden, small / 2 + web)]
    second = [*_places(hidden, wide / 2 + web)]
    for one, other in _pairs(first, second):
        holes = (MatchHole(one, small), MatchHole(other, wide))
        if abs(one - other) >= (small + wide) / 2 + web and ways_to_match(holes) == 1:
            return holes
    return ()


def ways_to_match(holes: Sequence[MatchHole]) -> int:
    """Return in how many ways holes match themselves when a card is turned about its middle or flipped over: 1 is none
    but as it was.

    Looked at are 7200 turns with and without a flip; ways next to each other within the play of a pin count once.
    """
    middles = np.array([hole.middle for hole in holes])
    widths = np.array([hole.diameter_mm for hole in holes])
    turns = np.exp(1j * np.arange(_STEPS) * math.tau / _STEPS)
    unlike = np.abs(widths[:, None] - widths) >= PLAY_MM
    ways = 0
    for seen in (middles, -middles.conj()):
        off = np.abs(turns[:, None, None] * seen[:, None] - middles)
        off[:, unlike] = np.inf
        does = off.min(axis=2).max(axis=1) <= PLAY_MM
        ways += 1 if does.all() else int(np.count_nonzero(does & ~np.roll(does, 1)))
    return ways


def notch_row(cards: Sequence[Region], most: int, preset: Preset, *, where: str) -> tuple[Outline, ...]:
    """Return ``most`` square notches side by side, clockwise, in the part that every card has; a card takes the first
    of them, as many as tell its number.

    Raises GeometryError where there is no room for the row.
    """
    # A tenth wider than a crumb, so that its bit is picked out with ease.
    side = round(max(preset.least_hole_mm, 2 * preset.least_slot_mm, 1.1 * math.sqrt(preset.crumb_mm2)), 1)
    step = side + max(preset.least_web_mm, side / 2)
    margin = preset.least_web_mm
    half = complex((most - 1) * step + side, side) / 2
    hidden = _common(cards)
    shapely.prepare(hidden)
    for at, turn in _rows_at(hidden, half.imag + margin):
        room = [at + turn * complex(x * (half.real + margin), y * (half.imag + margin)) for x, y in _CORNERS]
        if hidden.contains(shapely.Polygon([(z.real, z.imag) for z in room])):
            return tuple(_notch(at + turn * ((k + 0.5) * step - (most * step) / 2), turn, side) for k in range(most))
    say = (
        f"the card that is hidden has no room for {most} notches, a row of {format_floor(2 * half.real)} and {side:g} "
        "mm high. Make the rim wider, or leave --match out."
    )
    raise GeometryError(say, where=where, code="no-room", limit_mm=2 * half.real)


_CORNERS = ((-1, -1), (1, -1), (1, 1), (-1, 1))


def _notch(at: complex, turn: complex, side: float) -> Outline:
    """Return a square, clockwise."""
    return Outline.from_points(at + turn * side / 2 * complex(x, y) for x, y in _CORNERS).reversed()


def _common(cards: Sequence[Region]) -> BaseGeometry:
    """Return the part that all cards have, on chords."""
    common: BaseGeometry = to_polygon(cards[0])
    for card in cards[1:]:
        common = boolean.intersection(common, to_polygon(card))
    return common


def _spokes(hidden: BaseGeometry, clear_mm: float) -> Iterator[tuple[complex, complex]]:
    """Yield the direction of a spoke and the place furthest out on it that keeps clear of all edges, where it has one.

    Directions go clockwise from the top.
    """
    left, bottom, right, top = hidden.bounds
    far = math.hypot(max(-left, right), max(-bottom, top))
    out = np.arange(far, clear_mm, -_STEP_MM)
    edge = hidden.boundary
    shapely.prepare(hidden)
    for k in range(round(360 / _TURN_DEG)):
        towards = cmath.rect(1, math.radians(90 - k * _TURN_DEG))
        points = np.asarray(shapely.points(out * towards.real, out * towards.imag))
        good = np.asarray(shapely.contains(hidden, points)) & (np.asarray(shapely.distance(edge, points)) >= clear_mm)
        if good.any():
            yield towards, complex(towards * out[np.argmax(good)])


def _places(hidden: BaseGeometry, clear_mm: float) -> Iterator[complex]:
    return (place for _, place in _spokes(hidden, clear_mm))


def _pairs(first: Sequence[complex], second: Sequence[complex]) -> Iterator[tuple[complex, complex]]:
    """Yield pairs of places well aside of one line through the middle, those furthest apart in direction first."""
    found = []
    for one in first:
        for other in second:
            sine = abs((one.conjugate() * other).imag) / max(abs(one) * abs(other), 1e-9)
            if sine >= _ASIDE:
                found.append((-min(abs(one), abs(other)), one, other))
    found.sort(key=lambda pair: (round(pair[0], 3), pair[1].imag < 0, -pair[1].real))
    return ((one, other) for _, one, other in found)


def _rows_at(hidden: BaseGeometry, clear_mm: float) -> Iterator[tuple[complex, complex]]:
    """Yield places for a row across a spoke, with the turn of its long side, those at the bottom first."""
    spokes = sorted(_spokes(hidden, clear_mm), key=lambda spoke: round(spoke[0].imag, 9))
    for towards, place in spokes:
        turn = towards / 1j
        for back in np.arange(0, abs(place), _STEP_MM * 4):
            yield place - back * towards, turn
