"""Equal pieces in straight and in staggered rows, along the width of a sheet and along its height.

Pitches come from the outlines themselves: a second piece is moved against the first until the two are just apart, so
bumps may reach between one another. Rows further apart in themselves let the next row sink deeper; all spacings that
fill the row evenly are tried.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from frameforge.geometry.affine import Affine
from frameforge.geometry.region import Region
from frameforge.sheet.contact import DOWN, LEFT, Body, body_of, moved_on
from frameforge.sheet.design import Sheet

__all__ = ["Pattern", "row_patterns"]

SLACK_MM = 1e-6
"""A row that is as long as the sheet but for rounding fits."""
MOST_ROWS = 12
"""Spacings tried along a row: the closest ones."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Places of equal pieces: the middles of their boxes from the lower left of the sheet, from left to right."""

    method: str
    middles: tuple[complex, ...]


@dataclass(frozen=True, slots=True)
class _Lattice:
    """Rows of pieces: spacing in the row, shift of every other row, heights of rows 1 and 2 over row 0."""

    pitch: float
    shift: float
    first: float
    second: float


def row_patterns(regions: tuple[Region, ...], sheet: Sheet) -> list[Pattern]:
    """Return full sheets of one piece in rows and in staggered rows, each along the width and along the height."""
    patterns = []
    for is_turned in (False, True):
        rows = _Rows(regions, sheet, is_turned)
        for lattice in rows.lattices():
            method = "staggered rows" if lattice.shift else "rows"
            patterns.append(Pattern(method, rows.middles(lattice)))
    return patterns


class _Rows:
    """Rows along one side of the sheet. ``is_turned``: along the height, so that all is worked out on swapped sides."""

    def __init__(self, regions: tuple[Region, ...], sheet: Sheet, is_turned: bool) -> None:
        body = body_of([region.outer for region in regions], [])
        middle = body.box.center
        self._body = body_of([region.outer.transformed(Affine.from_move(-middle)) for region in regions], [])
        self._is_turned = is_turned
        self._sheet = sheet
        self._size = _swapped((body.box.width_mm, body.box.height_mm), is_turned)
        self._room = _swapped(sheet.usable_mm, is_turned)

    def lattices(self) -> list[_Lattice]:
        """Return straight rows, and staggered rows at every spacing that may fill the row better."""
        long, high = self._size
        spare = self._room[0] - long
        if spare < -SLACK_MM or self._room[1] - high < -SLACK_MM:
            return []
        closest = self._contact([0j], complex(long + self._sheet.apart_mm, 0), along=True).real
        straight = self._contact([0j], complex(0, high + self._sheet.apart_mm), along=False).imag
        found = [_Lattice(closest, 0.0, straight, 2 * straight)]
        return found + [self._staggered(pitch) for pitch in self._pitches(closest, max(spare, 0.0))]

    def _pitches(self, closest: float, spare: float) -> list[float]:
        """Return the spacings at which both rows, or the longer one alone, end at the edge of the sheet."""
        pitches = {closest}
        for halves in range(1, 2 * math.floor(spare / closest + SLACK_MM) + 2):
            pitch = 2 * spare / halves
            if pitch >= closest:
                pitches.add(pitch)
        return sorted(pitches)[:MOST_ROWS]

    def _staggered(self, pitch: float) -> _Lattice:
        """Return rows shifted by half a spacing, each let down on those below it."""
        drop = self._size[1] + self._sheet.apart_mm
        below = [complex(k * pitch, 0) for k in (-1, 0, 1, 2)]
        first = self._contact(below, complex(pitch / 2, drop), along=False).imag
        between = [complex((k + 0.5) * pitch, first) for k in (-2, -1, 0, 1)]
        second = self._contact([*below, *between], complex(0, first + drop), along=False).imag
        return _Lattice(pitch, pitch / 2, first, second)

    def _contact(self, fixed: list[complex], start: complex, *, along: bool) -> complex:
        """Return where a piece comes to stand that is moved from ``start`` back along the row, or down on it."""
        way = LEFT if along != self._is_turned else DOWN
        body = self._at(start)
        room = start.real if along else start.imag
        moved_on(body, way, [self._at(place) for place in fixed], room, self._sheet.apart_mm)
        return _swap(body.at, self._is_turned)

    def _at(self, place: complex) -> Body:
        return replace(self._body, at=_swap(place, self._is_turned))

    def middles(self, lattice: _Lattice) -> tuple[complex, ...]:
        """Return all places of a lattice on the sheet, from left to right."""
        (long, high), margin = self._size, self._sheet.margin_mm
        spare = self._room[0] - long + SLACK_MM, self._room[1] - high + SLACK_MM
        places = []
        row, height = 0, 0.0
        while height <= spare[1]:
            shift = lattice.shift if row % 2 else 0.0
            count = math.floor((spare[0] - shift) / lattice.pitch) + 1 if spare[0] >= shift else 0
            places += [complex(shift + k * lattice.pitch, height) for k in range(count)]
            row += 1
            height = row // 2 * lattice.second + (lattice.first if row % 2 else 0.0)
        corner = complex(margin + long / 2, margin + high / 2)
        middles = [_swap(place + corner, self._is_turned) for place in places]
        return tuple(sorted(middles, key=lambda z: (z.real, z.imag)))


def _swap(z: complex, is_turned: bool) -> complex:
    return complex(z.imag, z.real) if is_turned else z


def _swapped(sizes: tuple[float, float], is_turned: bool) -> tuple[float, float]:
    return (sizes[1], sizes[0]) if is_turned else sizes
