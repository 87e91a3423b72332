"""Tangent discs: at points of the edge, the largest disc that touches there and stays on one side.

The centres are points of the medial axis, reached from the boundary (H. Blum, 1967, "A transformation for
extracting new descriptors of shape"), as in the shrinking of a ball (J. Ma, S. W. Bae, S. Choi, 2012, "3D medial axis
point approximation using nearest neighbors and the normal field", The Visual Computer 28, 7-19), here against
chords instead of points, and against all of them at once. A disc much smaller than the limit whose two contacts face
each other is a thin place.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import numpy.typing as npt
import shapely

from frameforge.check.chords import Chords, ComplexArray, FloatArray, IntArray
from frameforge.tolerances import MIN_CHORD_MM

__all__ = ["BoolArray", "DiscSamples", "Side", "screen_mm", "tangent_discs"]

Side = Literal["card", "slot"]

BoolArray = npt.NDArray[np.bool_]

FAN_RAD = math.radians(12)
"""Normals at a reflex vertex are at most this far apart."""
TURN_CELL_RAD = math.radians(6)
"""Samples nearer than half a step are kept only when the normal turned by about this."""
OPPOSITE_RAD = math.radians(30)
"""Walls that open by less than this face each other; corners, blunt tips and curved edges open wider."""
AT_ONCE = 50_000
"""Samples whose walls are looked for together: so the pairs take some tens of megabytes at most."""
ALIKE_MM = 1e-7
"""Discs of one point whose radii differ by less are one."""


@dataclass(frozen=True, eq=False)
class DiscSamples:
    """The discs smaller than the screen and all sampled points, in the order of the loops; lengths in mm.

    ``at`` is the point of the edge on chord ``chord``, ``along`` its place in the loop, ``normal`` the unit normal to
    the measured side, ``radius`` the disc's, ``contact`` where it also touches, on chord ``partner`` (-1: thick).
    """

    at: ComplexArray
    chord: IntArray
    along: FloatArray
    normal: ComplexArray
    radius: FloatArray
    contact: ComplexArray
    partner: IntArray
    step: float
    screen: float

    @cached_property
    def is_loose(self) -> BoolArray:
        """Whether each disc is smaller than the screen."""
        return (self.partner >= 0) & (self.radius < self.screen / 2)

    @cached_property
    def wedge_rad(self) -> FloatArray:
        """Angle between the two tangents of each disc: 0 for parallel walls, the corner's angle in a corner."""
        reach = np.abs(self.at - self.contact) / np.maximum(2 * self.radius, 1e-300)
        return math.pi - 2 * np.arcsin(np.clip(reach, 0, 1))

    @cached_property
    def is_opposite(self) -> BoolArray:
        """Whether the walls at the two contacts face each other."""
        return self.is_loose & (self.wedge_rad <= OPPOSITE_RAD)

    @cached_property
    def centre(self) -> ComplexArray:
        """Centre of each disc."""
        return self.at + self.radius * self.normal


def screen_mm(limit_mm: float) -> float:
    """Return the width below which places are looked at: a little above the limit, so that runs have ends."""
    return 1.1 * limit_mm + 0.05


def tangent_discs(chords: Chords, limit_mm: float, side: Side) -> DiscSamples:
    """Return the tangent discs on the card's side or on the side of slots, for widths up to ``limit_mm``.

    Accuracy: radii are exact against the chords, which are within their chord distance of the true curves.
    """
    screen = screen_mm(limit_mm)
    step = max(0.3 * screen, 0.03)
    at, chord, along, normal = _samples(chords, step, 1 if side == "card" else -1)
    radius = np.full(len(at), screen / 2)
    partner = np.full(len(at), -1, dtype=np.int64)
    contact = np.zeros(len(at), dtype=np.complex128)
    sample, wall = _touched(chords, at + normal * screen / 2, screen / 2 - 1e-6)
    if len(sample):
        tangent, touch = _tangent(chords, wall, at[sample], normal[sample], screen / 2)
        least = _least_of_each(sample, tangent, np.abs(touch - at[sample]))
        mine = sample[least]
        radius[mine], contact[mine], partner[mine] = tangent[least], touch[least], wall[least]
    return DiscSamples(at, chord, along, normal, radius, contact, partner, step, screen)


def _samples(chords: Chords, step: float, sign: int) -> tuple[ComplexArray, IntArray, FloatArray, ComplexArray]:
    """Return points, chords, places along the loop and normals: middles of equal parts, fans at reflex vertices."""
    direction, length = chords.direction, chords.length
    turn = np.angle(direction / direction[chords.before])
    fan = np.where(sign * turn < -1e-9, np.ceil(np.abs(turn) / FAN_RAD).astype(np.int64) + 1, 0)
    parts = np.ceil(length / step).astype(np.int64)
    total = fan + parts
    chord = np.repeat(np.arange(len(total)), total)
    nth = np.arange(len(chord)) - np.repeat(np.cumsum(total) - total, total)
    is_fan = nth < fan[chord]
    share = np.where(is_fan, 0.0, (nth - fan[chord] + 0.5) / parts[chord])
    back = np.where(is_fan, turn[chord] * (1 - nth / np.maximum(fan[chord] - 1, 1)), 0.0)
    at = chords.start[chord] + share * (chords.end - chords.start)[chord]
    along = chords.along[chord] + share * length[chord]
    normal = sign * 1j * direction[chord] * np.exp(-1j * back)
    keep = _thinned(chords, chord, along, np.cumsum(turn)[chord] - back, step)
    return at[keep], chord[keep], along[keep], normal[keep]


def _thinned(chords: Chords, chord: IntArray, along: FloatArray, turned: FloatArray, step: float) -> BoolArray:
    """Return which samples stay: those where the loop, the cell of length or the cell of turning changes."""
    cells = np.stack([chords.loop[chord], np.floor(along / (step / 2)), np.floor(turned / TURN_CELL_RAD)])
    keep = np.ones(len(chord), dtype=np.bool_)
    keep[1:] = np.any(cells[:, 1:] != cells[:, :-1], axis=0)
    return keep


def _touched(chords: Chords, centre: ComplexArray, radius: float) -> tuple[IntArray, IntArray]:
    """Return all pairs of a centre and a chord nearer to it than ``radius``, the centres in their order."""
    starts = range(0, len(centre), AT_ONCE)
    found = [_near_pairs(chords, centre[k : k + AT_ONCE], radius) for k in starts]
    none = np.empty(0, dtype=np.int64)
    samples = [sample + k for k, (sample, _) in zip(starts, found, strict=True)]
    return np.concatenate([none, *samples]), np.concatenate([none, *(wall for _, wall in found)])


def _near_pairs(chords: Chords, centre: ComplexArray, radius: float) -> tuple[IntArray, IntArray]:
    """Return the pairs of a few centres: of chords whose box reaches that of the disc, those that reach the disc.

    The distance from a chord is taken for all at once, which costs a third of asking the tree for it.
    """
    corner = complex(radius, radius)
    diagonals = np.stack([centre - corner, centre + corner], axis=1)
    boxes = shapely.linestrings(diagonals.view(np.float64).reshape(-1, 2, 2))
    sample, wall = chords.tree.query(boxes)
    order = np.argsort(sample, kind="stable")
    sample, wall = sample[order], wall[order]
    way = centre[sample] - chords.start[wall]
    direction = chords.direction[wall]
    along = np.clip(_dot(direction, way), 0, chords.length[wall])
    near = np.abs(way - along * direction) <= radius
    return sample[near], wall[near]


def _least_of_each(group: IntArray, radius: FloatArray, reach: FloatArray) -> IntArray:
    """Return where in each run of equal ``group`` the least radius stands; runs without a finite one are left out.

    Of discs alike, all round in a circle, the one with its contacts furthest apart: there the walls face each other.
    """
    first = np.flatnonzero(np.diff(group, prepend=-1))
    count = np.diff(first, append=len(group))
    alike = radius <= np.repeat(np.minimum.reduceat(radius, first), count) + ALIKE_MM
    far = np.where(alike, reach, -1.0)
    furthest = far == np.repeat(np.maximum.reduceat(far, first), count)
    found = np.minimum.reduceat(np.where(furthest, np.arange(len(group)), len(group)), first)
    return found[np.isfinite(radius[found])]


def _tangent(
    chords: Chords, k: IntArray, a: ComplexArray, n: ComplexArray, greatest: float
) -> tuple[FloatArray, ComplexArray]:
    """Return radius and contact of the disc through a with normal n that is tangent to chord k; infinite where there
    is none under ``greatest``.

    The discs through a with one normal lie in each other, and in the greatest of them lies every chord that can stop
    it: the least radius over those chords is that of the largest disc without any of them inside.

    Tangent to the chord's line: |m.(a + r n - q)| = r with the unit normal m turned towards a gives
    r = m.(a - q)/(1 - m.n); if its foot is off the chord, through the chord's end f: |a + r n - f| = r gives
    r = -|a - f|^2 / (2 (a - f).n).
    """
    q, d, length = chords.start[k], chords.direction[k], chords.length[k]
    m = 1j * d
    m = np.where(_dot(m, a - q) < 0, -m, m)
    open_side = 1 - _dot(m, n)
    by_line = _dot(m, a - q) / np.where(open_side > 1e-15, open_side, np.inf)
    foot = _dot(a + by_line * n - q, d)
    end = np.where(foot < length / 2, q, chords.end[k])
    slope = -2 * _dot(a - end, n)
    by_end = np.abs(a - end) ** 2 / np.where(slope > 1e-15, slope, np.nan)
    on_chord = (foot >= 0) & (foot <= length) & (by_line > 0)
    result = np.where(on_chord, by_line, by_end)
    touch = np.where(on_chord, q + foot * d, end)
    # A chord through a itself gives no disc, or one of no size: it is not the wall across.
    usable = np.isfinite(result) & (result < greatest) & (result > MIN_CHORD_MM)
    return np.where(usable, result, np.inf), touch


def _dot(p: ComplexArray, q: ComplexArray) -> FloatArray:
    """Return the inner products of two arrays of vectors."""
    product: FloatArray = (np.conj(p) * q).real
    return product
