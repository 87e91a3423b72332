"""Ties that hold the loose parts of a motif: strips of card from each to what is held already, or down to its foot.

Small parts hang on one, larger ones on two as far from each other as may be. They belong to the motif, so that all
repeats are alike.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.geometry import boolean
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.motif.parts import parts_of
from frameforge.tolerances import JOINT_MM, ROOT_MM

__all__ = ["TiedParts", "tied_parts"]

_ONE_WIDTHS: Final = 3.0
"""A part no wider than this many ties hangs well on one (common practice, no source)."""
_PLACES: Final = 72
"""Places along the edge of a part from which ties are looked for."""
_LONGER: Final = 3.0
"""One of two ties may be so many times as long as the shortest way, or longer by so many widths."""
_FAR_APART: Final = 0.6
"""Two ties further apart than this part of half the edge between them are far enough."""
_CLEAR: Final = 2.5
"""So many widths lie from the middle of one tie to that of another, at both ends: no narrow slot between them."""
_LENGTH_COSTS: Final = 0.3
_LOPSIDED_COSTS: Final = 0.15
_ASKEW_COSTS: Final = 0.02
_BESIDE_COSTS: Final = 0.4
"""What a way's length, two ties that pull to one side, a slanting tie and one that stands out beside the card count
against being far apart."""
_SQUARE: Final = 0.01
"""The direction of an edge is taken between this part of it either way."""
_NEARLY: Final = 1.05
_NEARLY_MM: Final = 0.03
"""A way square to the edge is about as short when it is no longer than so many times the shortest, and this."""
_OFF_EDGE: Final = 0.02
"""A way has left the edge that it begins at after this part of it."""
_SUNK: Final = (0.3, 0.4, 0.5, 0.7, 1.0, 0.2, 0.1)
"""Parts of its width that a tie is carried on into card, until its end lies within that."""

_SUNK_AT_MOST: Final = 0.6
"""So far where it nowhere does: a stroke may be narrower than its tie."""
_MOST_ROUNDS: Final = 3
_TURNS: Final = tuple(cmath.rect(1, (0.5 + k / 24) * cmath.pi) for k in range(48))
"""Which way a strip goes through a point where two parts touch: up, or the next best."""

Complexes = npt.NDArray[np.complex128]
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class TiedParts:
    """A motif whose loose parts are tied, and the number of ties."""

    motif: Motif
    ties: int


@lru_cache
def tied_parts(motif: Motif, numbers: frozenset[int], width_mm: float) -> TiedParts:
    """Return a motif with those of its parts (from 0) tied to the others, by strips of card ``width_mm`` wide.

    What is nearest is tied first and holds others then. A motif that is no corner motif may be tied down to its foot
    line, which lies in the card wherever it stands.
    """
    parts = [part.shape for part in parts_of(motif)]
    held = [shape for k, shape in enumerate(parts) if k not in numbers and not shape.is_empty]
    if motif.foot_mm > 0 and not motif.cut_away:
        held.append(_ground(motif.foot_mm / 2, width_mm))
    loose = [parts[k] for k in sorted(numbers) if not parts[k].is_empty]
    strips: list[Region] = []
    while loose and held:
        cluster = shapely.GeometryCollection(held)
        k = int(np.argmin(np.round(shapely.distance(np.array(loose, dtype=object), cluster), 6)))
        part = loose.pop(k)
        strips += [_strip(start, end, width_mm, part, cluster) for start, end in _ways(part, cluster, width_mm)]
        held.append(part)
    strips += _through_touches(motif, strips, shapely.GeometryCollection(held), width_mm)
    return TiedParts(_with_strips(motif, strips), len(strips))


def _through_touches(motif: Motif, strips: Sequence[Region], card: BaseGeometry, width_mm: float) -> list[Region]:
    """Return strips through the points in which parts still touch beside those that are tied: a point holds nothing."""
    found: list[Region] = []
    if not strips:
        return found
    for _ in range(_MOST_ROUNDS):
        touches = evaluate(union(*motif.join, *strips, *found)).report.touches
        if not touches:
            break
        found += [_strip(at, at, width_mm, card, card) for at in touches]
    return found


def _ground(half_mm: float, width_mm: float) -> BaseGeometry:
    """Return the card below a foot, as far in from its ends as a tie is wide."""
    half = max(half_mm - width_mm / 2, JOINT_MM)
    return shapely.box(-half, -ROOT_MM, half, 0.0)


def _with_strips(motif: Motif, strips: Sequence[Region]) -> Motif:
    """Return a motif with strips joined on, and left standing where they cross its windows."""
    if not strips:
        return motif
    shapes = boolean.union([to_polygon(strip) for strip in strips])
    window: list[Region] = []
    for region in motif.window:
        crossed = to_polygon(region).intersects(shapes)
        window += evaluate(difference(region, *strips)).regions if crossed else (region,)
    return replace(motif, join=evaluate(union(*motif.join, *strips)).regions, window=tuple(window))


def _ways(part: BaseGeometry, cluster: BaseGeometry, width_mm: float) -> list[tuple[complex, complex]]:
    """Return one or two ways from a part to what is held: from its edge to theirs."""
    ring = max(shapely.get_parts(part), key=lambda one: float(one.area)).exterior
    nearest = ring.line_locate_point(shapely.Point(shapely.shortest_line(ring, cluster).coords[0]))
    # From straight below the middle on, so that what is alike left and right is looked at alike.
    below = ring.line_locate_point(_below(ring, part.centroid))
    along = np.array([nearest, *((below + np.arange(_PLACES) * (ring.length / _PLACES)) % ring.length)])
    start = shapely.line_interpolate_point(ring, along)
    lines = shapely.get_coordinates(shapely.shortest_line(start, cluster)).reshape(-1, 2, 2)
    a, b = (lines[:, k, 0] + 1j * lines[:, k, 1] for k in (0, 1))
    free = _is_free(a, b, part)
    a, b, along, length = a[free], b[free], along[free], np.abs(b - a)[free]
    beside = _is_beside(a, b, width_mm, part, cluster)
    middle = complex(part.centroid.x, part.centroid.y)
    left, low, right, high = part.bounds
    if max(right - left, high - low) <= _ONE_WIDTHS * width_mm:
        return [_straight(ring, cluster, *_one(a, b, length, middle, beside))]
    most = length[0] * _LONGER + width_mm
    pair = _two(a, b, along, float(ring.length), middle, most, _CLEAR * width_mm, beside)
    ways = [(complex(a[k]), complex(b[k])) for k in pair] if pair else [_one(a, b, length, middle, beside)]
    return [_straight(ring, cluster, *way) for way in ways]


def _is_beside(a: Complexes, b: Complexes, width_mm: float, part: BaseGeometry, cluster: BaseGeometry) -> Floats:
    """Return 1 for every way on which a tie would stand out beside the card at an end, 2 at both ends, else 0."""
    found = np.zeros(len(a))
    towards = (b - a) / np.maximum(np.abs(b - a), JOINT_MM)
    side = 1j * towards * width_mm / 2
    for end, inward, card in ((a, -towards, part), (b, towards, cluster)):
        is_in = np.zeros(len(a), dtype=np.bool_)
        for share in _SUNK:
            lines = _lines(end + inward * share * width_mm - side, end + inward * share * width_mm + side)
            is_in |= np.any([shapely.covers(one, lines) for one in shapely.get_parts(card)], axis=0)
        found += ~is_in
    return found


def _straight(ring: BaseGeometry, cluster: BaseGeometry, start: complex, end: complex) -> tuple[complex, complex]:
    """Return a way turned square to the edge that it begins at, where that is about as short: chords tell roughly."""
    at = ring.line_locate_point(shapely.Point(start.real, start.imag))
    near = [(at + by * ring.length) % ring.length for by in (-_SQUARE, _SQUARE)]
    before, after = (complex(point.x, point.y) for point in map(ring.interpolate, near))
    normal = (after - before) * 1j
    length = abs(end - start)
    if abs(normal) <= JOINT_MM or length <= JOINT_MM:
        return start, end
    normal *= math.copysign(1.0, (normal.conjugate() * (end - start)).real) / abs(normal)
    reach = start + normal * (length * _NEARLY + _NEARLY_MM)
    met = boolean.intersection(shapely.LineString(_xy((start, reach))), cluster)
    if met.is_empty:
        return start, end
    hit = complex(*shapely.shortest_line(met, shapely.Point(start.real, start.imag)).coords[0])
    return (start, hit) if abs(hit - start) > JOINT_MM else (start, end)


def _below(ring: BaseGeometry, middle: shapely.Point) -> shapely.Point:
    """Return the lowest point of an edge that lies straight below or above a point."""
    _, low, _, high = ring.bounds
    upright = shapely.LineString([(middle.x, low - 1.0), (middle.x, high + 1.0)])
    met = shapely.get_coordinates(boolean.intersection(ring, upright))
    return shapely.Point(min(met.tolist(), key=lambda point: float(point[1]))) if len(met) else middle


def _is_free(a: Complexes, b: Complexes, part: BaseGeometry) -> npt.NDArray[np.bool_]:
    """Return which ways leave the part that they begin at; the first, which is the shortest, does."""
    start = a + (b - a) * _OFF_EDGE
    shapely.prepare(part)
    free = ~shapely.intersects(part, _lines(start, b))
    free[0] = True
    return np.asarray(free)


def _lines(start: Complexes, end: Complexes) -> npt.NDArray[np.object_]:
    ends = np.stack([start, end], axis=1)
    return np.asarray(shapely.linestrings(np.stack([ends.real, ends.imag], axis=-1)))


def _one(a: Complexes, b: Complexes, length: Floats, middle: complex, beside: Floats) -> tuple[complex, complex]:
    """Return the shortest way; of ways about as short the one that holds a part by its middle, and is upright."""
    size = max(float(np.abs(a - middle).max()), JOINT_MM)
    aside = np.abs(_aside(a, b, middle)) / size
    cost = (
        (length - length.min()) / size + _LOPSIDED_COSTS * aside + _ASKEW_COSTS * _askew(a, b) + _BESIDE_COSTS * beside
    )
    k = int(np.argmin(np.round(cost, 6)))
    return complex(a[k]), complex(b[k])


def _aside(a: Complexes, b: Complexes, middle: complex) -> Floats:
    """Return how far beside the middle of a part the line of each way passes."""
    way = b - a
    long = np.maximum(np.abs(way), JOINT_MM)
    return np.asarray((np.conj(way / long) * (a - middle)).imag)


def _askew(a: Complexes, b: Complexes) -> Floats:
    """Return how far each way is from running upright: 0 for upright, 1 for level, a little more for one that rises."""
    way = b - a
    long = np.maximum(np.abs(way), JOINT_MM)
    return np.asarray(np.abs(way.real) / long + 0.1 * (way.imag > 0))


def _two(
    a: Complexes,
    b: Complexes,
    along: Floats,
    whole: float,
    middle: complex,
    most: float,
    clear_mm: float,
    beside: Floats,
) -> tuple[int, int] | None:
    """Return the numbers of the two ways that hold a part best; None where only one place is near enough.

    ``along`` is where they begin along an edge as long as ``whole``, ``most`` how long they may be, ``clear_mm`` how
    far apart their ends must be on either side.
    """
    length = np.abs(b - a)
    near = np.flatnonzero(length <= most)
    i, j = (near[k] for k in np.triu_indices(len(near), 1))
    wide = (np.abs(a[i] - a[j]) >= clear_mm) & (np.abs(b[i] - b[j]) >= clear_mm)
    i, j = i[wide], j[wide]
    if not len(i):
        return None
    apart = np.abs(along[i] - along[j])
    apart = np.minimum(np.minimum(apart, whole - apart) / (whole / 2), _FAR_APART) / _FAR_APART
    size = max(float(np.abs(a - middle).max()), JOINT_MM)
    lopsided = np.abs(a[i] + a[j] - 2 * middle) / (2 * size)
    longer = (length[i] + length[j] - 2 * length.min()) / (2 * max(most, JOINT_MM))
    askew = (_askew(a, b)[i] + _askew(a, b)[j]) / 2
    score = apart - _LENGTH_COSTS * longer - _LOPSIDED_COSTS * lopsided - _ASKEW_COSTS * askew
    score -= _BESIDE_COSTS * (beside[i] + beside[j])
    score[apart < 0.5] = -np.inf
    best = int(np.argmax(np.round(score, 6)))
    return (int(i[best]), int(j[best])) if np.isfinite(score[best]) else None


def _strip(start: complex, end: complex, width_mm: float, part: BaseGeometry, cluster: BaseGeometry) -> Region:
    """Return a strip between two edges, carried on into the card behind both."""
    if abs(end - start) > JOINT_MM:
        towards = (end - start) / abs(end - start)
    else:
        towards = min(_TURNS, key=lambda way: _sunk(start, -way, width_mm, part) + _sunk(end, way, width_mm, cluster))
    a = start - towards * _sunk(start, -towards, width_mm, part)
    b = end + towards * _sunk(end, towards, width_mm, cluster)
    side = 1j * towards * width_mm / 2
    return Region(Outline.from_points([a - side, b - side, b + side, a + side]))


def _sunk(at: complex, towards: complex, width_mm: float, card: BaseGeometry) -> float:
    """Return how far a strip is carried on from an edge until its end lies in card all across."""
    side = 1j * towards * width_mm / 2
    for share in _SUNK:
        end = at + towards * share * width_mm
        line = shapely.LineString(_xy((end - side, end + side)))
        if any(one.covers(line) for one in shapely.get_parts(card)):
            return share * width_mm
    return _SUNK_AT_MOST * width_mm


def _xy(points: Iterable[complex]) -> list[tuple[float, float]]:
    return [(point.real, point.imag) for point in points]
