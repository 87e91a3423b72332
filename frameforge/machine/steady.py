"""Where a line is steady: away from corners and from thin card, which a starting or stopping blade would tear."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from frameforge.card.preset import Preset
from frameforge.check.chords import to_chords
from frameforge.check.discs import tangent_discs
from frameforge.geometry.along import Along
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region

Floats = npt.NDArray[np.float64]

__all__ = ["SteadyLine", "steady_lines"]

CORNER_RAD = math.radians(10)
"""A joint that turns by more than this is a corner."""
STATION_MM = 0.5
"""Places to start at are looked for this close together."""
MOST_STATIONS = 2000
LEAST_STATIONS = 48
THIN = 1.5
"""Card narrower than this many times the least neck counts as thin here."""


@dataclass(frozen=True, slots=True, eq=False)
class SteadyLine:
    """An outline by its length, and the places along it (mm, sorted) to keep away from.

    ``flat`` are vertices of its chords, the first repeated at the end, and ``flat_mm`` where they lie along it.
    """

    along: Along
    flat: npt.NDArray[np.complex128]
    flat_mm: Floats
    marks_mm: Floats
    is_beside_thin_card: bool

    def clear_mm(self, places_mm: Floats) -> Floats:
        """Return how far along the line (mm) the next corner or thin place is from each place, either way."""
        whole = self.along.length_mm
        if not len(self.marks_mm):
            return np.full_like(places_mm, whole / 2)
        around = np.concatenate((self.marks_mm[-1:] - whole, self.marks_mm, self.marks_mm[:1] + whole))
        inside = np.mod(places_mm, whole)
        after = np.searchsorted(around, inside)
        ahead = around[np.minimum(after, len(around) - 1)] - inside
        return np.asarray(np.minimum(ahead, inside - around[after - 1]), dtype=np.float64)

    def stations_mm(self) -> Floats:
        """Return places (mm, in order) at even steps all along the line, half a step from its first joint."""
        whole = self.along.length_mm
        count = min(max(math.ceil(whole / STATION_MM), LEAST_STATIONS), MOST_STATIONS)
        return np.asarray((np.arange(count) + 0.5) * (whole / count), dtype=np.float64)

    def points_near(self, places_mm: Floats) -> npt.NDArray[np.complex128]:
        """Return the point at each place along the line, to within its chords: enough to choose between them."""
        real, imag = (np.interp(places_mm, self.flat_mm, part) for part in (self.flat.real, self.flat.imag))
        return np.asarray(real + 1j * imag, dtype=np.complex128)


def steady_lines(region: Region, preset: Preset) -> tuple[SteadyLine, ...]:
    """Return every outline of a region, the outer one first, with its corners and its thin places marked."""
    chords = to_chords((region,))
    discs = tangent_discs(chords, THIN * preset.least_neck_mm, "card")
    thin = discs.is_opposite
    loop = chords.loop[discs.chord[thin]]
    lines = []
    for number, outline in enumerate(region.outlines):
        along = Along.from_outline(outline)
        # Chords are a little shorter than the curve; a share of the whole is the same place on both.
        stretch = along.length_mm / chords.loop_length[number]
        thin_mm = stretch * discs.along[thin][loop == number]
        marks = np.sort(np.concatenate((_corners_mm(outline, along), thin_mm)))
        rows = np.flatnonzero(chords.loop == number)
        flat = np.append(chords.start[rows], chords.start[rows[0]])
        flat_mm = np.append(stretch * chords.along[rows], along.length_mm)
        lines.append(SteadyLine(along, flat, flat_mm, marks, bool(len(thin_mm))))
    return tuple(lines)


def _corners_mm(outline: Outline, along: Along) -> Floats:
    """Return the lengths at which the outline turns sharply."""
    found = []
    for index, segment in enumerate(outline.segments):
        end = segment.velocity(1.0)
        begin = outline.segments[(index + 1) % len(outline.segments)].velocity(0.0)
        is_smooth = end and begin and abs(math.remainder(_angle(begin) - _angle(end), math.tau)) <= CORNER_RAD
        if not is_smooth:
            found.append(along.ends_mm[index] % along.length_mm)
    return np.array(found, dtype=np.float64)


def _angle(direction: complex) -> float:
    return math.atan2(direction.imag, direction.real)
