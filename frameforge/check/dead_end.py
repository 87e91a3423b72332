"""Slits that open outwards from a narrow floor between two corners, as between the feet of two motifs that lean apart.

The discs in such a slit grow all the way out, and the least of them stands on the floor, a little wider than that: its
width is that between the corners, the nearest that its two walls come.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from frameforge.check.chords import Chords, ComplexArray, FloatArray, IntArray
from frameforge.check.thin_place import ThinPlace, TrackDisc

__all__ = ["with_dead_ends"]

CORNER_RAD = math.radians(45)
"""An edge that turns by less, at one joint, is no corner of a floor."""
OPENS_RAD = math.radians(60)
"""Walls that open by more leave no slit: from there on a notch is as wide as it is deep."""
EVEN_RAD = math.radians(0.05)
"""Walls that open by less are of even width, and their discs measure them as they are."""
NARROWEST_MM = 0.05
"""Between corners nearer than this the floor is the point of a notch, whose measure is its angle."""
SHARP_OF_LIMIT, SHARP_RAD = 0.12, math.radians(30)
"""Over a floor under this share of the limit, walls that open by more make a notch with a point, not a slit; so do
those of a sharp notch, which is told by its angle."""
FLOOR_WAY = 1.5
"""A floor is no longer than so many times the distance of its corners."""
STRAIGHT = 0.9
"""Walls that bend more, chord to arc, over the depth they are looked at run out of the slit."""


@dataclass(frozen=True, slots=True)
class _DeadEnd:
    """A floor between the corners ``a`` and ``b`` (mm), in order along loop number ``loop``, and how its walls open.

    ``mouth_mm`` is how far up the walls reach ``limit_mm`` from each other. ``walls`` holds points of both walls, alike
    far from their corners, with the chords they lie on: (point, point, chord, chord), the floor's own corners first.
    """

    a: complex
    b: complex
    loop: int
    opens_rad: float
    mouth_mm: float
    walls: tuple[tuple[complex, complex, int, int], ...]

    @property
    def mm(self) -> float:
        """Width of the floor, mm."""
        return abs(self.b - self.a)


def with_dead_ends(
    found: list[ThinPlace], chords: Chords, limit_mm: float, step_mm: float, tip_rad: float
) -> list[ThinPlace]:
    """Return the places with each slit that opens from a floor under ``limit_mm`` measured there, between its corners.

    Its walls are followed by ``step_mm`` (mm), at least half the limit and until they are that far apart.
    Over a very narrow floor walls that open by less than ``tip_rad`` are a notch.
    """
    for dead_end in _dead_ends(chords, limit_mm, step_mm):
        if dead_end.opens_rad < tip_rad and dead_end.mm < SHARP_OF_LIMIT * limit_mm:
            continue
        whole = _from_dead_end(dead_end)
        found = [place for place in found if not _is_in_dead_end(place, whole, step_mm)]
        found.append(whole)
    return found


def _from_dead_end(dead_end: _DeadEnd) -> ThinPlace:
    """Return the place of a slit over a floor, with its discs from the floor to the mouth and back."""
    discs = tuple(TrackDisc((a + b) / 2, abs(b - a) / 2, a, b, i, j) for a, b, i, j in dead_end.walls)
    angle = math.degrees(dead_end.opens_rad)
    return ThinPlace("finger", dead_end.mm, dead_end.a, dead_end.b, dead_end.mouth_mm, (dead_end.loop,), angle, discs)


def _is_in_dead_end(place: ThinPlace, whole: ThinPlace, step_mm: float) -> bool:
    """Return whether a place that ends blind is the slit over a floor: its least discs stand there."""
    if place.kind not in ("finger", "tip") or place.loops != whole.loops:
        return False
    near = min(abs(disc.centre - whole.middle) for disc in place.track)
    return near <= whole.width_mm + step_mm


def _dead_ends(chords: Chords, limit_mm: float, step_mm: float) -> tuple[_DeadEnd, ...]:
    """Return the slits of space between card that open from a floor narrower than the limit, along the loops."""
    turn = np.angle(chords.direction / chords.direction[chords.before])
    corners = np.flatnonzero(turn < -CORNER_RAD)
    found = (_dead_end(chords, one, two, limit_mm, step_mm) for one, two in _floors(chords, corners, limit_mm))
    return tuple(dead_end for dead_end in found if dead_end is not None)


def _floors(chords: Chords, corners: IntArray, limit_mm: float) -> Iterator[tuple[int, int]]:
    """Yield pairs of corners, by the chords that start there, that follow on a loop, nearer than the limit."""
    if len(corners) < 2:
        return
    loop = chords.loop[corners]
    first = np.searchsorted(loop, loop, side="left")
    is_last = np.append(loop[1:] != loop[:-1], True)
    following = np.where(is_last, corners[first], np.append(corners[1:], corners[:1]))
    apart = np.abs(chords.start[following] - chords.start[corners])
    way = (chords.along[following] - chords.along[corners]) % chords.loop_length[loop]
    good = (apart < limit_mm) & (apart >= NARROWEST_MM) & (way <= FLOOR_WAY * apart) & (following != corners)
    yield from zip(corners[good].tolist(), following[good].tolist(), strict=True)


def _dead_end(chords: Chords, one: int, two: int, limit_mm: float, step_mm: float) -> _DeadEnd | None:
    """Return the slit over a floor, None where its walls do not stand or open too wide or not at all."""
    a, b, loop = complex(chords.start[one]), complex(chords.start[two]), int(chords.loop[one])
    depth = max(abs(b - a) / 2, limit_mm / 4)
    way = np.concatenate([[0.0, depth], np.arange(step_mm, 1.5 * limit_mm + depth, step_mm)])
    way = np.unique(way)
    if 2 * float(way[-1]) + FLOOR_WAY * limit_mm >= float(chords.loop_length[loop]):
        return None
    left, left_chord = _walked(chords, loop, float(chords.along[one]) - way)
    right, right_chord = _walked(chords, loop, float(chords.along[two]) + way)
    k = int(np.searchsorted(way, depth))
    up, over = complex(left[k] - a), complex(right[k] - b)
    if min(abs(up), abs(over)) < STRAIGHT * depth:
        return None
    opens = cmath.phase(up.conjugate() * over)
    is_sharp = abs(b - a) < SHARP_OF_LIMIT * limit_mm
    if not EVEN_RAD < opens <= (SHARP_RAD if is_sharp else OPENS_RAD):
        return None
    apart = np.abs(right - left)
    reached = np.flatnonzero(apart >= limit_mm)
    last = int(reached[0]) if len(reached) else len(way) - 1
    walls = tuple(zip(left.tolist(), right.tolist(), left_chord.tolist(), right_chord.tolist(), strict=True))[
        : last + 1
    ]
    return _DeadEnd(a, b, loop, opens, float(way[last]), walls)


def _walked(chords: Chords, loop: int, along: FloatArray) -> tuple[ComplexArray, IntArray]:
    """Return the points at places along a loop, and their chords; places may lie before its start or past its end."""
    first, last = int(chords.first[loop]), int(chords.first[loop + 1])
    along = along % chords.loop_length[loop]
    chord = first + np.searchsorted(chords.along[first:last], along, side="right") - 1
    share = along - chords.along[chord]
    return chords.start[chord] + share * chords.direction[chord], chord
