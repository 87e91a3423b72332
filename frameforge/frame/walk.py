"""Walking along an edge: from the length walked, clockwise from the top, to the place and back, many at once."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from frameforge.frame.base import Edge
from frameforge.frame.profile import Complexes, Floats
from frameforge.frame.spacing import edge_length_mm
from frameforge.geometry.arclength import ellipse_lengths_mm

__all__ = ["Spot", "Walk", "walk_along"]

_FEWEST = 128
_MOST = 16384
"""Knots in a quarter of the edge."""

_ENOUGH_PART = 1e-15
"""Places are met to this part of the length of the edge: 4e-13 mm round 150 x 100 mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Spot:
    """Places of an edge: point, unit tangent (clockwise), curvature in 1/mm and how that changes per mm walked."""

    point: Complexes
    tangent: Complexes
    curvature: Floats
    curvature_rate: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Walk:
    """An edge by the length walked from its top, clockwise, mm; whole turns and lengths below 0 count.

    ``knots`` are lengths over one half turn and ``rows`` the quintics of tau in the share of the way between two of
    them, which meet tau, its rate and its bend at both ends, with 1 over the way. No knots for a circle: tau is the
    length over the radius.
    """

    edge: Edge
    length_mm: float
    knots: Floats
    rows: Floats

    def tau(self, walked_mm: Floats) -> Floats:
        """Return tau (radians) at each length walked; the place is met to 1e-15 of the edge's length."""
        walked = np.asarray(walked_mm, dtype=np.float64)
        if not len(self.knots):
            return np.asarray(walked / self.edge.half_width_mm)
        # Seen from the top both ways look alike: lengths are taken from there, to the bit.
        turns = np.round(walked / self.length_mm)
        rest = walked - turns * self.length_mm
        part = np.abs(rest)
        at = np.minimum(np.searchsorted(self.knots, part, side="right") - 1, len(self.rows) - 1)
        row = self.rows[at]
        u = (part - self.knots[at]) * row[..., 6]
        tau = row[..., 5]
        for k in (4, 3, 2, 1, 0):
            tau = row[..., k] + u * tau
        return np.asarray(np.copysign(tau, rest) + turns * math.tau)

    def walked_mm(self, tau: Floats) -> Floats:
        """Return the length walked to each tau (radians)."""
        return _walked(self.edge, np.asarray(tau, dtype=np.float64))

    def spot(self, walked_mm: Floats) -> Spot:
        """Return the place at each length walked."""
        return _spot(self.edge, self.tau(walked_mm))


@lru_cache(maxsize=64)
def walk_along(edge: Edge) -> Walk:
    """Return the walk along an edge. Knots are doubled until places half-way between them are met."""
    length = edge_length_mm(edge)
    if edge.is_circle:
        return Walk(edge, length, np.zeros(0), np.zeros((0, 7)))
    count = _FEWEST
    while True:
        tau = np.linspace(0, math.pi, 4 * count + 1)
        walked = _walked(edge, tau)
        walk = Walk(edge, length, walked[::2], _quintics(edge, tau[::2], walked[::2]))
        inner = tau[1::2]
        off = np.abs(walk.tau(walked[1::2]) - inner) * _speed(edge, inner)
        if float(off.max()) <= _ENOUGH_PART * length or count >= _MOST:
            return walk
        count *= 2


def _walked(edge: Edge, tau: Floats) -> Floats:
    """Return the lengths from the top to tau. A parallel adds its distance times the turn of the normal."""
    if edge.is_circle:
        return np.asarray(edge.half_width_mm * tau)
    length = ellipse_lengths_mm(edge.half_height_mm, edge.half_width_mm, tau)
    if not edge.offset_mm:
        return length
    turn = np.arctan2(edge.half_height_mm * np.sin(tau), edge.half_width_mm * np.cos(tau))
    turn += np.round((tau - turn) / math.tau) * math.tau
    return np.asarray(length + edge.offset_mm * turn)


def _oval_speed(edge: Edge, tau: Floats) -> Floats:
    """Return L = |P'| of the oval itself."""
    return np.hypot(edge.half_width_mm * np.cos(tau), edge.half_height_mm * np.sin(tau))


def _speed(edge: Edge, tau: Floats) -> Floats:
    """Return the length passed per radian of tau: L + d ab/L^2."""
    oval = _oval_speed(edge, tau)
    return np.asarray(oval + edge.offset_mm * edge.half_width_mm * edge.half_height_mm / oval**2)


def _speed_rate(edge: Edge, tau: Floats) -> Floats:
    """Return how the speed changes per radian: L' (1 - 2 d ab/L^3) with L' = (b^2 - a^2) sin cos / L."""
    a, b = edge.half_width_mm, edge.half_height_mm
    oval = _oval_speed(edge, tau)
    return np.asarray((b * b - a * a) * np.sin(tau) * np.cos(tau) / oval * (1 - 2 * edge.offset_mm * a * b / oval**3))


def _quintics(edge: Edge, tau: Floats, walked: Floats) -> Floats:
    """Return between every two knots the quintic in the share of the way with tau, tau' and tau'' met, and 1 / way.

    dtau/ds = 1/speed and d2tau/ds2 = -speed'/speed^3.
    """
    speed, wide = _speed(edge, tau), np.diff(walked)
    first, second = 1 / speed, -_speed_rate(edge, tau) / speed**3
    rise = np.diff(tau)
    d0, d1 = first[:-1] * wide, first[1:] * wide
    e0, e1 = second[:-1] * wide**2, second[1:] * wide**2
    return np.column_stack(
        [
            tau[:-1], d0, e0 / 2,
            10 * rise - 6 * d0 - 4 * d1 - 1.5 * e0 + 0.5 * e1,
            -15 * rise + 8 * d0 + 7 * d1 + 1.5 * e0 - e1,
            6 * rise - 3 * (d0 + d1) - 0.5 * (e0 - e1),
            1 / wide,
        ]
    )  # fmt: skip


def _spot(edge: Edge, tau: Floats) -> Spot:
    """Return the places at tau. From k = ab/L^3 of the oval a parallel at d has k/(1 + d k)."""
    a, b, d = edge.half_width_mm, edge.half_height_mm, edge.offset_mm
    sine, cosine = np.sin(tau), np.cos(tau)
    velocity = a * cosine - 1j * b * sine
    if edge.is_circle:
        curvature = np.full(tau.shape, 1 / a)
        return Spot(a * sine + 1j * a * cosine, velocity / a, curvature, np.zeros(tau.shape))
    oval = np.abs(velocity)
    tangent = velocity / oval
    bend = a * b / oval**3
    bend_rate = -3 * bend / oval**2 * (b * b - a * a) * sine * cosine
    widened = 1 + d * bend
    curvature = bend / widened
    rate = bend_rate / widened**2 / (oval * widened)
    return Spot(a * sine + 1j * b * cosine + d * 1j * tangent, tangent, curvature, rate)
