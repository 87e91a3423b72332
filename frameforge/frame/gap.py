"""The real gap between neighbouring outlines: a distance when they are apart, below 0 when they are not."""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from frameforge.frame.closest import Contacts, closest_on_curves
from frameforge.frame.crowd import Crowd, Standing
from frameforge.frame.profile import Complexes, Floats, Indices, Profile
from frameforge.frame.slide import slide_depth
from frameforge.frame.trying import spend
from frameforge.frame.weight import drawn_weight
from frameforge.tolerances import CHORD_MM

__all__ = ["Gap", "Standing", "distance_between", "gap_between", "neighbour_gaps"]

_BLOCK = 128
"""Pairs measured in one pass, so that memory stays bounded."""

_REMEMBERED = 16
"""Lots of pairs whose gaps are remembered: those of a few rows, and of the counts beside theirs."""

_SLIDE, _BENT = 4, 3
"""How many times longer a depth takes than a distance, and bent outlines take than those as drawn."""

_SAME_VIEW_DECIMALS = 12
"""Pairs that look alike to this many decimals (mm) have the same gap."""

_SAME_BEND_DECIMALS = 9
"""Bent ones must also lie at one place of the edge, or at opposite ones, to this many decimals (mm)."""

_COARSE = 4
"""Every so many chords are looked at to learn how near the nearest can be."""


@dataclass(frozen=True, slots=True)
class Gap:
    """The signed gap in mm, its contact points on A and on B, and how it changes when the two move.

    It grows by ``direction`` (as a vector) times what the contact on B moves against that on A, and by ``turning`` mm
    per radian that the line of the seats turns counter-clockwise. Apart, that is a unit vector and nothing.
    """

    gap_mm: float
    on_a: complex
    on_b: complex
    direction: complex
    turning: float = 0.0


def gap_between(a: Standing, b: Standing) -> Gap:
    """Return the gap from ``a`` to its neighbour ``b``; see ``neighbour_gaps``."""
    return neighbour_gaps([(a, b)])[0]


def distance_between(a: Standing, b: Standing) -> Gap:
    """Return the true distance of two outlines that do not cross, mm, also where they reach round each other."""
    on_a, on_b = _distances(Crowd.from_standings([a]), Crowd.from_standings([b]))
    p, q = complex(on_a[0]), complex(on_b[0])
    return Gap(abs(q - p), p, q, _unit(q - p))


def neighbour_gaps(pairs: Sequence[tuple[Standing, Standing]]) -> list[Gap]:
    """Return the signed gap of every pair, in order.

    Apart, it is the distance of the true curves to about 1e-13 mm. Where the outlines meet, cross or reach round
    each other it is minus the depth by which they must slide apart along the line of their seats. Touching is 0.
    """
    found: list[Gap | None] = [None] * len(pairs)
    kinds: dict[tuple[int, int], list[int]] = {}
    for k, (a, b) in enumerate(pairs):
        kinds.setdefault((id(a.profile), id(b.profile)), []).append(k)
    for members in kinds.values():
        for k, gap in zip(members, _gaps_of_a_kind([pairs[k] for k in members]), strict=True):
            found[k] = gap
    return [gap for gap in found if gap is not None]


def _gaps_of_a_kind(pairs: list[tuple[Standing, Standing]]) -> list[Gap]:
    """Return the gaps of pairs that share both profiles; pairs that differ by a turn of the whole are measured once."""
    first: list[tuple[Standing, Standing]] = []
    views: list[int] = []
    seen: dict[tuple[complex, complex, float], int] = {}
    for a, b in pairs:
        view = (_rounded(b.turn / a.turn), _rounded((b.move - a.move) / a.turn), _bend_place_mm(a))
        if view not in seen:
            seen[view] = len(first)
            first.append((a, b))
        views.append(seen[view])
    known = [gap for at in range(0, len(first), _BLOCK) for gap in _remembered_gaps(first[at : at + _BLOCK])]
    return [_carried(known[view], first[view][0], a) for view, (a, _) in zip(views, pairs, strict=True)]


def _rounded(z: complex) -> complex:
    return complex(round(z.real, _SAME_VIEW_DECIMALS), round(z.imag, _SAME_VIEW_DECIMALS))


def _bend_place_mm(a: Standing) -> float:
    """Return what tells apart how outlines are bent at different places: along an oval, up to half a turn."""
    if a.bend is None or a.bend.walk.edge.is_circle:
        return 0.0
    half = a.bend.walk.length_mm / 2
    return round(math.remainder(float(a.bend.at_mm[0]) - half / 2, half), _SAME_BEND_DECIMALS)


def _carried(gap: Gap, known: Standing, wanted: Standing) -> Gap:
    """Return the gap measured at ``known`` as it stands at ``wanted``."""
    if known is wanted:
        return gap
    turn = wanted.turn / known.turn

    def moved(z: complex) -> complex:
        return wanted.move + turn * (z - known.move)

    return Gap(gap.gap_mm, moved(gap.on_a), moved(gap.on_b), turn * gap.direction, gap.turning)


_LAST: Final[OrderedDict[tuple[object, ...], tuple[list[Gap], float]]] = OrderedDict()
"""What was measured last, with what it took: a row is laid out, looked at and drawn with the very same pairs."""


def _remembered_gaps(pairs: list[tuple[Standing, Standing]]) -> list[Gap]:
    """Return the gaps of pairs that share both profiles; the very same pairs as a moment ago are not measured anew.

    They count as measured all the same, so that what may be spent on a try does not hang on what came before it.
    """
    if pairs[0][0].bend is not None:
        return _measured_gaps(pairs)[0]
    places = ((one.turn, one.move) for pair in pairs for one in pair)
    key = (pairs[0][0].profile, pairs[0][1].profile, *places)
    known = _LAST.get(key)
    if known is None:
        known = _LAST[key] = _measured_gaps(pairs)
        if len(_LAST) > _REMEMBERED:
            _LAST.popitem(last=False)
    else:
        _LAST.move_to_end(key)
        spend(known[1])
    return known[0]


def _measured_gaps(pairs: list[tuple[Standing, Standing]]) -> tuple[list[Gap], float]:
    """Return the gaps of pairs that share both profiles, each measured, and what that takes, in measured pairs."""
    each = (1 if pairs[0][0].bend is None else _BENT) * drawn_weight(*(one.profile for one in pairs[0]))
    spend(each * len(pairs))
    a, b = (Crowd.from_standings(row) for row in zip(*pairs, strict=True))
    line = np.array([_unit(q.move - p.move) for p, q in pairs], dtype=np.complex128)
    # Past 5 chord distances apart along the line of seats nothing can overlap, and no slide need be measured.
    reach = _utmost(a, line) + _utmost(b, -line)
    gaps: list[Gap | None] = [None] * len(pairs)
    may_slide = np.flatnonzero(reach > -5 * CHORD_MM).tolist()
    for k in may_slide:
        spend(each * _SLIDE)
        slide = slide_depth(a.taken(k), b.taken(k))
        if slide.depth_mm >= 0:
            across = complex(line[k]) * complex(1, slide.lean)
            gaps[k] = Gap(0.0 - slide.depth_mm, slide.on_a, slide.on_b, across, slide.lean * slide.depth_mm)
    rest = [k for k, gap in enumerate(gaps) if gap is None]
    if rest:
        on_a, on_b = _distances(a.taken(*rest), b.taken(*rest))
        for k, p, q in zip(rest, on_a.tolist(), on_b.tolist(), strict=True):
            gaps[k] = Gap(abs(q - p), p, q, (q - p) / abs(q - p) if q != p else complex(line[k]))
    return [gap for gap in gaps if gap is not None], each * (len(pairs) + _SLIDE * len(may_slide))


def _unit(z: complex) -> complex:
    return z / abs(z) if z else 0j


def _utmost(crowd: Crowd, line: Complexes) -> Floats:
    """Return how far each copy reaches along its line, mm from 0."""
    return np.asarray((np.conj(line)[:, None] * crowd.starts).real.max(axis=1))


def _distances(a: Crowd, b: Crowd) -> tuple[Complexes, Complexes]:
    """Return the nearest points of the curves, pair by pair, as if the outlines did not cross."""
    starts_a, ends_a, starts_b, ends_b = a.starts, a.ends, b.starts, b.ends
    middle_a, middle_b = (starts_a + ends_a) / 2, (starts_b + ends_b) / 2
    half_a, half_b = np.abs(ends_a - starts_a) / 2, np.abs(ends_b - starts_b) / 2
    near_a, near_b = _near((middle_a, half_a), (middle_b, half_b))
    apart = np.abs(middle_a[:, near_a, None] - middle_b[:, None, near_b])
    # A chord pair lies between (middles apart less both half lengths) and (middles apart) from each other.
    least = apart - (half_a[:, near_a, None] + half_b[:, None, near_b])
    pair, i, j = np.nonzero(least <= (apart.min(axis=(1, 2)))[:, None, None])
    i, j = near_a[i], near_b[j]
    chords_a, chords_b = (starts_a[pair, i], ends_a[pair, i]), (starts_b[pair, j], ends_b[pair, j])
    between = _chord_distance(*chords_a, *chords_b)
    nearest = np.full(len(apart), np.inf)
    np.minimum.at(nearest, pair, between)
    # Each curve strays from its chord by CHORD_MM at most, so a winner is within 4 of these of the nearest chords.
    kept = between <= nearest[pair] + 4 * CHORD_MM
    pair, i, j = _starts((pair[kept], i[kept], j[kept]), (middle_a, middle_b), (a.profile, b.profile))
    on_a, s = a.profile.along(i, np.full(len(i), 0.5))
    on_b, t = b.profile.along(j, np.full(len(j), 0.5))
    points_a, points_b = closest_on_curves(a, b, Contacts(pair, on_a, s, on_b, t))
    order = np.lexsort((np.abs(points_a - points_b), pair))
    first = order[np.searchsorted(pair[order], np.arange(len(apart)))]
    return points_a[first], points_b[first]


def _near(a: tuple[Complexes, Floats], b: tuple[Complexes, Floats]) -> tuple[Indices, Indices]:
    """Return the chords of A and of B that can be nearest to the other in any of the pairs.

    Given are middles and half lengths. Every few chords tell how near at most the nearest middles are; a chord further
    than that, and both half lengths, from the box of the other's middles is out.
    """
    most = np.abs(a[0][:, ::_COARSE, None] - b[0][:, None, ::_COARSE]).min(axis=(1, 2))
    found = []
    for (middles, halves), (others, other_halves) in ((a, b), (b, a)):
        beyond = _to_box(middles, others) - halves - other_halves.max(axis=1)[:, None]
        found.append(np.flatnonzero((beyond <= most[:, None]).any(axis=0)))
    return found[0], found[1]


def _to_box(points: Complexes, others: Complexes) -> Floats:
    """Return the distances of points from the upright boxes round others, row by row, mm."""

    def beyond(along: Floats, others: Floats) -> Floats:
        low, high = others.min(axis=1)[:, None], others.max(axis=1)[:, None]
        return np.asarray(np.maximum(0.0, np.maximum(low - along, along - high)))

    return np.asarray(np.hypot(beyond(points.real, others.real), beyond(points.imag, others.imag)))


def _chord_distance(a0: Complexes, a1: Complexes, b0: Complexes, b1: Complexes) -> Floats:
    """Return the distance of straight chords a0 a1 and b0 b1 that do not cross: from an end to the other chord."""
    ends = ((a0, b0, b1), (a1, b0, b1), (b0, a0, a1), (b1, a0, a1))
    return np.asarray(np.minimum.reduce([_point_to_chord(p, q0, q1) for p, q0, q1 in ends]))


def _point_to_chord(p: Complexes, q0: Complexes, q1: Complexes) -> Floats:
    along = q1 - q0
    # A chord may have no length: an outline that runs on by a rounding error has one.
    long = np.maximum(np.abs(along) ** 2, np.finfo(np.float64).tiny)
    part = np.clip((np.conj(along) * (p - q0)).real / long, 0, 1)
    return np.asarray(np.abs(q0 + part * along - p))


Triples = tuple[Indices, Indices, Indices]


def _starts(near: Triples, middles: tuple[Complexes, Complexes], profiles: tuple[Profile, Profile]) -> Triples:
    """Return pair, chord of A and chord of B of the starts worth trying among chords that can still win.

    Those whose middles are nearer than the chords beside them, and for every two segments the nearest, since a true
    nearest point may lie just past a joint.
    """
    a, b = profiles
    pair, i, j = near
    here = np.abs(middles[0][pair, i] - middles[1][pair, j])
    low = np.ones(len(here), dtype=np.bool_)
    for beside_i, beside_j in ((a.following[i], j), (a.preceding[i], j), (i, b.following[j]), (i, b.preceding[j])):
        low &= here <= np.abs(middles[0][pair, beside_i] - middles[1][pair, beside_j])
    key = (pair * len(a.is_arc) + a.segment[i]) * len(b.is_arc) + b.segment[j]
    order = np.lexsort((here, key))
    low[order[np.concatenate([[True], np.diff(key[order]) != 0])]] = True
    return pair[low], i[low], j[low]
