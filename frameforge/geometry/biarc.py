"""Circular arcs in place of cubics and elliptical arcs: pairs of tangent arcs, biarcs.

A biarc joins two points with given directions by two arcs that meet in one tangent. K. M. Bolton, Biarc curves,
Computer-Aided Design 7 (1975); D. S. Meek, D. J. Walton, Approximating smooth planar curves by arc splines, Journal
of Computational and Applied Mathematics 59 (1995).

Derivation of the form used here: let alpha and beta be the directions at the two ends, measured from the chord of
length L, and phi = (alpha - beta)/2. The arc from p0 to the joint J turns by 2 (theta - alpha), theta the direction of
p0 J; the second likewise; their tangents agree in J exactly when the two part chords differ by phi in direction. So J
lies on a circle through both ends; with a free number w in 0..1: theta = (1 - w) phi, |p0 J| sin phi = L sin(w phi).
"""

from __future__ import annotations

import cmath
import math
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from frameforge.geometry.arc import Arc
from frameforge.geometry.congruence import shape_of
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.direction import end_direction, start_direction
from frameforge.geometry.flatten import sample
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.geometry.quarters import quarters
from frameforge.tolerances import BIARC_MM, JOINT_MM, MIN_CHORD_MM, SAME_SHAPE_MM

__all__ = ["to_arcs", "to_bulges"]

Floats = npt.NDArray[np.float64]
Complexes = npt.NDArray[np.complex128]

# Where each biarc is compared with the curve; between samples the greatest distance is missed by under 2 %.
_SAMPLES = (np.arange(31) + 1) / 32
_SURE = 0.98
# Joints tried on the joint circle; the best is kept, on a tie the middle.
_SPLITS = np.array([0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74])
# A biarc that turns further than this is not tried: it could run round the wrong way.
_TURN_RAD = 2.0
# How near greedy search comes to the end of a stretch, as a part of the stretch.
_NEAR = 0.02
_BALANCES = 6


class _Span(NamedTuple):
    """One biarc: the stretch t0..t1 of the curve, where its joint lies (w), and the greatest distance in mm."""

    t0: float
    t1: float
    w: float
    distance: float


def to_arcs(segment: Segment, tolerance_mm: float = BIARC_MM) -> tuple[Line | Arc, ...]:
    """Return lines and circular arcs, joint to joint from the segment's start to its end, tangent to one another.

    No point of them is further than ``tolerance_mm`` (above 0) from the segment, nor the other way round. The first
    starts and the last ends in the segment's own bits. Lines and circular arcs come back as they are, a full circle
    too: a format that cannot hold one splits it. Congruent segments, mirrored ones too, get congruent arcs; where a
    cubic turns on the spot the arcs meet in a corner as it does. Raises ValueError unless the tolerance is above 0.
    """
    if isinstance(segment, Line) or (isinstance(segment, Arc) and segment.is_circular):
        _require(tolerance_mm)
        return (segment,)
    arcs: list[Line | Arc] = []
    start = segment.start
    for end, bulge in to_bulges(segment, tolerance_mm):
        arcs.append(Arc.from_bulge(start, end, bulge) if bulge else Line(start, end))
        start = end
    return tuple(arcs)


def to_bulges(curve: Cubic | Arc, tolerance_mm: float = BIARC_MM) -> tuple[tuple[complex, float], ...]:
    """Return the arcs of ``to_arcs`` for a cubic or an elliptical arc as (end, bulge), a line's bulge being 0.

    bulge = tan(sweep / 4), a pure number, positive counter-clockwise (DXF reference). Raises ValueError unless the
    tolerance is above 0.
    """
    _require(tolerance_mm)
    if isinstance(curve, Arc) and abs(curve.sweep_rad) > _TURN_RAD:
        # Pieces between the ends of the axes are congruent to each other.
        return tuple(part for quarter in quarters(curve) for part in to_bulges(quarter, tolerance_mm))
    if isinstance(curve, Cubic) and _is_straight(curve):
        return ((curve.end, 0.0),)
    grain = min(SAME_SHAPE_MM, tolerance_mm / 1000)
    shape = shape_of(curve, grain)
    parts = _parts(shape.curve, tolerance_mm - 2 * grain)
    ends = [shape.to_place.apply(end) for end, _ in parts[:-1]]
    bulges = [bulge for _, bulge in parts]
    if shape.is_turned:  # mirrored and run the other way: each changes the sign of a bulge
        ends, bulges = ends[::-1], bulges[::-1]
    return tuple(zip([*ends, curve.end], bulges, strict=True))


def _require(tolerance_mm: float) -> None:
    """Refuse a tolerance that no arc could keep."""
    if not tolerance_mm > 0:
        raise ValueError(f"tolerance {tolerance_mm} mm must be above 0")


def _is_straight(cubic: Cubic) -> bool:
    """Return whether the cubic runs straight and without turning back from its start to its end."""
    way = cubic.end - cubic.start
    if abs(way) <= MIN_CHORD_MM:
        return max(abs(cubic.c1 - cubic.start), abs(cubic.c2 - cubic.start)) <= JOINT_MM
    along = [((p - cubic.start) / way) for p in (cubic.c1, cubic.c2)]
    return all(abs(z.imag) * abs(way) <= JOINT_MM and 0 <= z.real <= 1 for z in along)


def _plan(curve: Cubic | Arc, tolerance_mm: float) -> tuple[_Span, ...]:
    """Return the stretches whose biarcs keep the tolerance: as few as greedy search finds, then balanced."""
    spans = [_longest(curve, 0.0, tolerance_mm)]
    while spans[-1].t1 < 1:
        spans.append(_longest(curve, spans[-1].t1, tolerance_mm))
    return tuple(_balanced(curve, spans))


def _longest(curve: Cubic | Arc, t0: float, tolerance_mm: float) -> _Span:
    """Return the longest stretch from ``t0`` that one biarc follows, to a fiftieth of its length.

    The error of a biarc grows with the cube of the stretch (Meek & Walton), which gives the next guess.
    """
    best: _Span | None = None
    high, guess = 1.0, 1.0
    while best is None or high - best.t1 > _NEAR * (best.t1 - t0):
        span = _fitted(curve, t0, guess)
        if span.distance <= tolerance_mm:
            best = span
            if guess == 1:
                break
        else:
            high = guess
        low = best.t1 if best else t0
        step = (tolerance_mm / max(span.distance, 1e-3 * tolerance_mm)) ** (1 / 3)
        guess = t0 + (guess - t0) * min(max(0.98 * step, 0.1), 4.0)
        if not low + _NEAR / 2 * (high - low) < guess < high - _NEAR / 2 * (high - low):
            guess = (low + high) / 2
    return best


def _balanced(curve: Cubic | Arc, spans: list[_Span]) -> list[_Span]:
    """Return as many stretches with their errors evened out, or the given ones where that gains nothing."""
    best = spans
    for _ in range(_BALANCES if len(spans) > 1 else 0):
        least = max(max(s.distance for s in spans) / 100, JOINT_MM)
        widths = np.array([(s.t1 - s.t0) / max(s.distance, least) ** (1 / 3) for s in spans])
        t = [0.0, *(np.cumsum(widths)[:-1] / widths.sum()).tolist(), 1.0]
        spans = [_fitted(curve, t0, t1) for t0, t1 in pairwise(t)]
        if any(s.distance == math.inf for s in spans):
            break
        if max(s.distance for s in spans) < max(s.distance for s in best):
            best = spans
    return best


def _fitted(curve: Cubic | Arc, t0: float, t1: float) -> _Span:
    """Return the best biarc over t0..t1 with its greatest distance; a stretch that turns too far is infinitely far.

    A stretch so short that it lies within a JOINT_MM of its start is as good as a line.
    """
    points = sample(curve, t0 + (t1 - t0) * np.concatenate(([0.0], _SAMPLES, [1.0])))
    if np.abs(points - points[0]).max() <= JOINT_MM:
        return _Span(t0, t1, 0.5, 0.0)
    chord = complex(points[-1] - points[0])
    if abs(chord) <= MIN_CHORD_MM:
        return _Span(t0, t1, 0.5, math.inf)
    alpha, beta = (cmath.phase(d / chord) for d in _directions(curve, t0, t1))
    if abs(alpha) + abs(beta) > _TURN_RAD:
        return _Span(t0, t1, 0.5, math.inf)
    distances = _distances((points[1:-1] - points[0]) / chord, alpha, beta) * (abs(chord) / _SURE)
    # Where the curve doubles back, an arc may miss its turn or run past it along the curve's own circle.
    excess = np.abs(_lengths(alpha, beta) * abs(chord) - np.abs(np.diff(points)).sum())
    distances = np.maximum(distances, excess)
    k = int(np.argmin(distances))
    return _Span(t0, t1, float(_SPLITS[k]), float(distances[k]))


def _directions(curve: Cubic | Arc, t0: float, t1: float) -> tuple[complex, complex]:
    """Return the directions in which the stretch t0..t1 starts and ends."""
    part = curve.piece(t0, t1)
    return start_direction(part), end_direction(part)


def _joint(alpha: float, beta: float, w: float) -> complex:
    """Return the joint of the biarc over the chord 0..1."""
    phi = (alpha - beta) / 2
    ratio = w if abs(phi) < 1e-9 else math.sin(w * phi) / math.sin(phi)
    return cmath.rect(ratio, (1 - w) * phi)


def _lengths(alpha: float, beta: float) -> Floats:
    """Return for every split the length of the biarc over the chord 0..1; half the turn q of an arc is sinc's."""
    joints = np.array([_joint(alpha, beta, float(w)) for w in _SPLITS])
    first, second = np.angle(joints) - alpha, beta - np.angle(1 - joints)
    lengths = np.abs(joints) / np.sinc(first / np.pi) + np.abs(1 - joints) / np.sinc(second / np.pi)
    return np.asarray(lengths, dtype=np.float64)


def _distances(points: Complexes, alpha: float, beta: float) -> Floats:
    """Return for every split the greatest distance of the points from the biarc over the chord 0..1.

    A point belongs to the arc on its side of the joint. Its signed distance from the circle of curvature k through a
    point with left normal n is q / (1 + sqrt(1 + k q)), q = k |z|^2 - 2 n.z, which holds for k = 0 too.
    """
    joints = np.array([_joint(alpha, beta, float(w)) for w in _SPLITS])
    first, second = np.angle(joints), np.angle(1 - joints)
    tangents = np.exp(1j * (2 * first - alpha))
    worst = np.zeros(len(_SPLITS))
    ahead = ((points - joints[:, None]) * tangents.conj()[:, None]).real > 0
    for at, direction, turn, length, mine in (
        (0.0, np.full(len(_SPLITS), np.exp(1j * alpha)), 2 * (first - alpha), np.abs(joints), ~ahead),
        (1.0, np.full(len(_SPLITS), np.exp(1j * beta)), 2 * (beta - second), np.abs(1 - joints), ahead),
    ):
        z, curvature = points - at, 2 * np.sin(turn / 2) / length
        normal = 1j * direction
        q = curvature[:, None] * np.abs(z) ** 2 - 2 * (normal.conj()[:, None] * z).real
        off = np.abs(q) / (1 + np.sqrt(np.maximum(1 + curvature[:, None] * q, 0)))
        worst = np.maximum(worst, np.where(mine, off, 0).max(axis=1))
    return worst


@lru_cache(maxsize=4096)
def _parts(curve: Cubic | Arc, tolerance_mm: float) -> tuple[tuple[complex, float], ...]:
    """Return end and bulge of the arcs of all biarcs over a curve; at least one, though it be of no length."""
    parts: list[tuple[complex, float]] = []
    start = curve.start
    for span in _plan(curve, tolerance_mm):
        end = curve.point(span.t1)
        chord = end - start
        if abs(chord) <= MIN_CHORD_MM:
            continue
        alpha, beta = (cmath.phase(d / chord) for d in _directions(curve, span.t0, span.t1))
        joint = start + chord * _joint(alpha, beta, span.w)
        theta, psi = cmath.phase((joint - start) / chord), cmath.phase((end - joint) / chord)
        parts += [(joint, _bulge(joint - start, theta - alpha)), (end, _bulge(end - joint, beta - psi))]
        start = end
    return tuple(parts) or ((curve.end, 0.0),)


def _bulge(chord: complex, half_turn_rad: float) -> float:
    """Return the bulge of an arc that leaves its chord by ``half_turn_rad``; 0 where they are one to JOINT_MM."""
    bulge = math.tan(half_turn_rad / 2)
    return 0.0 if abs(bulge) * abs(chord) / 2 <= JOINT_MM else bulge
