"""The edge that motifs stand on: a circle, an upright oval, or a curve parallel to an oval."""

from __future__ import annotations

import math
from dataclasses import dataclass

from frameforge.frame.spec import Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import ellipse

__all__ = ["Edge"]

_FOOT_STEPS = 60
_LEAST_WIDENING = 0.05
_LONGEST_RAD = 0.5


@dataclass(frozen=True, slots=True)
class Edge:
    """A smooth convex edge round the point 0, described by tau, which runs clockwise from the top (radians).

    For an oval P = (a sin tau, b cos tau). An ``offset_mm`` other than 0 means the curve at that distance outside (or,
    below 0, inside) the oval, Q = P + offset N with tau as before; parallels of circles are circles and have none.
    T is the direction clockwise along the edge, N = iT points away from the middle.
    """

    half_width_mm: float
    half_height_mm: float
    offset_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse half-axes and offsets with which the edge is no longer smooth and convex."""
        if not all(math.isfinite(v) and v > 0 for v in (self.half_width_mm, self.half_height_mm)):
            raise ValueError(f"half-axes {self.half_width_mm} and {self.half_height_mm} mm must be above 0")
        if not self.offset_mm > -self.oval_least_radius_mm:
            raise ValueError(f"offset {self.offset_mm} mm must be above {-self.oval_least_radius_mm}")

    @classmethod
    def from_size(cls, size: Size) -> Edge:
        """Return the edge of a circle or oval of the given width and height."""
        return cls(size.width_mm / 2, size.height_mm / 2)

    @property
    def is_circle(self) -> bool:
        """Whether the edge is a circle."""
        return self.half_width_mm == self.half_height_mm

    @property
    def oval_least_radius_mm(self) -> float:
        """Least radius of curvature of the oval itself, short half-axis squared over the long one."""
        short, long = sorted((self.half_width_mm, self.half_height_mm))
        return short * short / long

    @property
    def least_radius_mm(self) -> float:
        """Least radius of curvature of the edge: the deepest inward parallel that stays smooth."""
        return self.oval_least_radius_mm + self.offset_mm

    @property
    def size(self) -> Size:
        """Width and height of the edge."""
        return Size(2 * (self.half_width_mm + self.offset_mm), 2 * (self.half_height_mm + self.offset_mm))

    def parallel(self, distance_mm: float) -> Edge:
        """Return the edge ``distance_mm`` outside this one (inside for values below 0).

        Raises ValueError when the inner parallel would get corners: at ``least_radius_mm`` and beyond.
        """
        if self.is_circle:
            return Edge(self.half_width_mm + distance_mm, self.half_height_mm + distance_mm)
        return Edge(self.half_width_mm, self.half_height_mm, self.offset_mm + distance_mm)

    def oval_velocity(self, tau: float) -> complex:
        """Return P' of the oval itself with respect to tau, mm."""
        return complex(self.half_width_mm * math.cos(tau), -self.half_height_mm * math.sin(tau))

    def tangent(self, tau: float) -> complex:
        """Return T, the unit direction clockwise along the edge."""
        velocity = self.oval_velocity(tau)
        return velocity / abs(velocity)

    def normal(self, tau: float) -> complex:
        """Return N, the unit direction away from the card inside the edge."""
        return 1j * self.tangent(tau)

    def point(self, tau: float) -> complex:
        """Return the point of the edge at tau, mm."""
        oval = complex(self.half_width_mm * math.sin(tau), self.half_height_mm * math.cos(tau))
        return oval + self.offset_mm * self.normal(tau) if self.offset_mm else oval

    def turn_rate(self, tau: float) -> float:
        """Return how fast T turns with tau, counter-clockwise: Im(conj(P') P'')/L^2 = -ab/L^2, below 0."""
        return -self.half_width_mm * self.half_height_mm / abs(self.oval_velocity(tau)) ** 2

    def speed(self, tau: float) -> float:
        """Return the length passed along the edge per radian of tau, mm. From Q' = P' + d N' and N' = -turn_rate T."""
        return abs(self.oval_velocity(tau)) - self.offset_mm * self.turn_rate(tau)

    def velocity(self, tau: float) -> complex:
        """Return the derivative of ``point`` with respect to tau, mm."""
        return self.speed(tau) * self.tangent(tau)

    def curvature(self, tau: float) -> float:
        """Return the curvature, 1/mm, above 0."""
        return -self.turn_rate(tau) / self.speed(tau)

    def direction_rad(self, tau: float) -> float:
        """Return the angle clockwise from the top, in radians, in which the point lies seen from 0; grows with tau."""
        point = self.point(tau)
        turns = round((tau - math.atan2(point.real, point.imag)) / math.tau)
        return math.atan2(point.real, point.imag) + turns * math.tau

    def tau_towards(self, direction_rad: float) -> float:
        """Return the tau of the point that lies in a direction clockwise from the top; both in radians, to 1e-15."""
        sine, cosine = math.sin(direction_rad), math.cos(direction_rad)
        tau = math.atan2(sine / self.half_width_mm, cosine / self.half_height_mm)
        tau += round((direction_rad - tau) / math.tau) * math.tau
        for _ in range(20 if self.offset_mm else 0):
            # Newton on the part of the point that is across the wanted direction.
            ray = complex(sine, cosine)
            across = (ray.conjugate() * self.point(tau)).imag
            step = across / (ray.conjugate() * self.velocity(tau)).imag
            tau -= step
            if abs(step) < 1e-15:
                break
        return tau

    def foot_tau(self, point: complex, near_tau: float) -> float:
        """Return the tau near ``near_tau`` where the edge comes nearest to a point: its normal goes through it.

        Newton on the part of the point along the edge; the steps always lead nearer, so that of several normals
        through a point that of a least distance is found.
        """
        tau = near_tau
        for _ in range(_FOOT_STEPS):
            away = (point - self.point(tau)) * self.tangent(tau).conjugate()
            widening = max(1 + self.curvature(tau) * away.imag, _LEAST_WIDENING)
            step = away.real / self.speed(tau) / widening
            tau += max(-_LONGEST_RAD, min(_LONGEST_RAD, step))
            if abs(step) <= 1e-14:
                break
        return tau

    def height_mm(self, point: complex, near_tau: float) -> float:
        """Return how far outside the edge a point lies, mm, seen from near a place; below 0 inside."""
        tau = self.foot_tau(point, near_tau)
        return ((point - self.point(tau)) * self.tangent(tau).conjugate()).imag

    def region(self) -> Region:
        """Return the disc inside the edge, its outline as arcs (exact), or as fitted curves when it has an offset."""
        disc = Region(ellipse(0, self.half_width_mm, self.half_height_mm))
        if not self.offset_mm:
            return disc
        from frameforge.geometry.parallel import parallel  # here, since most edges are plain circles and ovals

        return parallel(disc, self.offset_mm)[0]
