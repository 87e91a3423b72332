"""The seat: how a straight foot meets a curved edge, both foot ends on the edge."""

from __future__ import annotations

import math
from dataclasses import dataclass

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.geometry.affine import Affine

__all__ = ["FootSeat", "find_seat", "point_seat"]

_STEPS = 40
_CLOSE_ENOUGH_MM = 1e-13


@dataclass(frozen=True, slots=True)
class FootSeat:
    """Where a foot stands on an edge: the tangent at tau is parallel to the foot.

    ``middle`` is the middle of the foot, ``tangent`` the unit direction from ``left`` to ``right`` (clockwise),
    ``sagitta_mm`` how far the edge rises above the foot. ``middle_rate`` and ``turn_rate`` tell how the middle (mm)
    and the direction (counter-clockwise) change per radian of tau. ``slope_rad`` is the greater of the angles between
    foot and edge at the foot ends.
    """

    tau: float
    middle: complex
    tangent: complex
    left: complex
    right: complex
    sagitta_mm: float
    middle_rate: complex
    turn_rate: float
    slope_rad: float

    @property
    def end_ways(self) -> tuple[complex, complex]:
        """The directions, clockwise, in which the foot runs at its left and at its right end."""
        return self.tangent, self.tangent

    def gap_to_mm(self, after: FootSeat) -> float:
        """Return the distance from the clockwise end of the foot to the near end of the next; below 0: they overlap."""
        across = after.left - self.right
        ahead = (across.conjugate() * (after.middle - self.middle)).real
        return abs(across) if ahead >= 0 else -abs(across)

    def moved(self, point: complex) -> complex:
        """Return how a point that is fixed to the motif moves, mm per radian of tau."""
        return self.middle_rate + 1j * self.turn_rate * (point - self.middle)

    def placement(self, side: int) -> Affine:
        """Return the map of a motif (foot on y = 0) onto the seat: side 1 away from the middle, -1 towards it."""
        return Affine(side * self.tangent, 0, self.middle)


def find_seat(edge: Edge, foot_mm: float, tau: float) -> FootSeat:
    """Return the seat of a foot of width ``foot_mm`` whose chord is parallel to the edge at ``tau``.

    A foot of 0 sits on the edge as a point. Raises GeometryError when no two points of the edge are so far apart in
    that direction. Exact to 1e-12 mm on ovals (closed form), 1e-11 mm on their parallels (Newton).
    """
    if foot_mm == 0:
        return point_seat(edge, tau)
    widest, end = _widest(edge, tau)
    if foot_mm >= widest:
        say = f"a foot of {foot_mm:.2f} mm is as wide as the edge, {widest:.2f} mm there. Make it narrower."
        raise GeometryError(say, code="no-seat", foot_mm=foot_mm, widest_mm=widest)
    if edge.offset_mm:
        share = math.asin(foot_mm / widest) / (math.pi / 2)
        return _seat_by_newton(edge, foot_mm, tau, (share * (end - tau), share * (tau - end + math.pi)))
    return _seat_on_oval(edge, foot_mm, tau)


def point_seat(edge: Edge, tau: float) -> FootSeat:
    """Return the seat at tau (radians) of something without a foot: middle on the edge, axis along the normal."""
    point = edge.point(tau)
    return FootSeat(
        tau, point, edge.tangent(tau), point, point, 0.0, edge.velocity(tau), edge.turn_rate(tau), 0.0
    )  # fmt: skip


def _widest(edge: Edge, tau: float) -> tuple[float, float]:
    """Return the width of the widest chord that is parallel to the edge at tau, mm, and the tau of its right end.

    The edge is symmetric about 0, so that chord goes through 0: from the point against T to the point along it. On an
    oval they are the points at tau -+ pi/2, 2L apart.
    """
    if not edge.offset_mm:
        return abs(edge.oval_velocity(tau)) * 2, tau + math.pi / 2
    tangent = edge.tangent(tau)
    end = edge.tau_towards(math.atan2(tangent.real, tangent.imag))
    end = tau + (end - tau) % math.tau
    return 2 * abs(edge.point(end)), end


def _seat_on_oval(edge: Edge, foot_mm: float, tau: float) -> FootSeat:
    # The chord between P(tau - h) and P(tau + h) is 2 sin h P'(tau) for every ellipse, since sums and differences of
    # angles are linear in P and P'. So sin h = w/(2L), and the middle of the chord is cos h P(tau).
    velocity = edge.oval_velocity(tau)
    length = abs(velocity)
    sine = foot_mm / (2 * length)
    half = math.asin(sine)
    cosine = math.cos(half)
    point = edge.point(tau)
    tangent = velocity / length
    # L' = Re(conj(P') P'')/L with P'' = -P, and d(cos h)/dtau = sin h tan h L'/L.
    length_rate = -(velocity.conjugate() * point).real / length
    cosine_rate = sine * sine / cosine * length_rate / length
    area = edge.half_width_mm * edge.half_height_mm
    return FootSeat(
        tau=tau,
        middle=cosine * point,
        tangent=tangent,
        left=edge.point(tau - half),
        right=edge.point(tau + half),
        # 1 - cos h written so that narrow feet lose no digits
        sagitta_mm=area / length * 2 * math.sin(half / 2) ** 2,
        middle_rate=velocity * cosine + point * cosine_rate,
        turn_rate=edge.turn_rate(tau),
        slope_rad=max(_slope(edge, tau, tau - half), _slope(edge, tau, tau + half)),
    )


def _seat_by_newton(edge: Edge, foot_mm: float, tau: float, reach: tuple[float, float]) -> FootSeat:
    # Unknown t1, t2 with C(t2) - C(t1) = w T(tau), one complex equation; dividing out by cross products gives the
    # step. Started from what an oval would reach right and left of tau; steps are limited to half of that, so that
    # t1 < tau < t2.
    tangent = edge.tangent(tau)
    t1, t2 = tau - reach[1], tau + reach[0]
    for _ in range(_STEPS):
        miss = edge.point(t2) - edge.point(t1) - foot_mm * tangent
        step1, step2 = _two_steps(edge.velocity(t1), edge.velocity(t2), -miss)
        shrink = min(1.0, min(reach) / 2 / max(abs(step1), abs(step2), 1e-300))
        t1, t2 = t1 + shrink * step1, t2 + shrink * step2
        if max(abs(step1), abs(step2)) * edge.speed(tau) < _CLOSE_ENOUGH_MM:
            break
    left, right = edge.point(t1), edge.point(t2)
    if abs(right - left - foot_mm * tangent) > 1e-11 * max(1.0, foot_mm):
        say = f"a foot of {foot_mm:.2f} mm finds no seat on the edge. Make it narrower."
        raise GeometryError(say, code="no-seat", foot_mm=foot_mm)
    # When tau moves, the chord turns: C2' dt2 - C1' dt1 = i turn w T dtau.
    rate1, rate2 = _two_steps(edge.velocity(t1), edge.velocity(t2), 1j * edge.turn_rate(tau) * foot_mm * tangent)
    middle = (left + right) / 2
    return FootSeat(
        tau=tau,
        middle=middle,
        tangent=tangent,
        left=left,
        right=right,
        sagitta_mm=((edge.point(tau) - middle).conjugate() * 1j * tangent).real,
        middle_rate=(edge.velocity(t1) * rate1 + edge.velocity(t2) * rate2) / 2,
        turn_rate=edge.turn_rate(tau),
        slope_rad=max(_slope(edge, tau, t1), _slope(edge, tau, t2)),
    )


def _two_steps(v1: complex, v2: complex, wanted: complex) -> tuple[float, float]:
    """Return d1, d2 with v2 d2 - v1 d1 = wanted."""
    cross = (v1.conjugate() * v2).imag
    return (v2.conjugate() * wanted).imag / cross, (v1.conjugate() * wanted).imag / cross


def _slope(edge: Edge, tau: float, end: float) -> float:
    turn = edge.tangent(tau).conjugate() * edge.tangent(end)
    return abs(math.atan2(turn.imag, turn.real))
