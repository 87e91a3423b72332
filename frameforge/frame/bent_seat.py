"""The bent seat: a foot that follows the edge, its middle at tau, as long along the edge as it is wide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.seat import FootSeat
from frameforge.frame.walk import walk_along

__all__ = ["BentSeat", "bent_seats"]


@dataclass(frozen=True, slots=True)
class BentSeat(FootSeat):
    """Where a bent foot lies on an edge: its middle at tau, ``at_mm`` along the edge from the top, clockwise.

    The edge does not rise over such a foot and never leaves it at an angle: sagitta and slope are 0. ``left`` and
    ``right`` are the ends of the foot, ``foot_mm`` apart along the edge.
    """

    edge: Edge
    at_mm: float
    foot_mm: float

    @property
    def end_ways(self) -> tuple[complex, complex]:
        """The directions of the edge at the left and at the right end of the foot."""
        ends = np.array([-self.foot_mm, self.foot_mm]) / 2
        left, right = walk_along(self.edge).spot(self.at_mm + ends).tangent.tolist()
        return left, right

    def gap_to_mm(self, after: FootSeat) -> float:
        """Return the length along the edge from the clockwise end of the foot to the near end of the next bent one."""
        if not isinstance(after, BentSeat):
            return FootSeat.gap_to_mm(self, after)
        ahead = (after.at_mm - self.at_mm) % walk_along(self.edge).length_mm
        return ahead - (self.foot_mm + after.foot_mm) / 2

    def moved(self, point: complex) -> complex:
        """Return how a point of the bent motif moves, mm per radian of tau.

        It moves by (1 + k y) T per mm, T and k being those of the edge where the normal through the point meets it:
        the place near the seat where the edge comes nearest to the point.
        """
        if self.edge.is_circle:
            return 1j * self.turn_rate * point
        tau = self.edge.foot_tau(point, self.tau)
        away = (point - self.edge.point(tau)) * self.edge.tangent(tau).conjugate()
        return abs(self.middle_rate) * (1 + self.edge.curvature(tau) * away.imag) * self.edge.tangent(tau)


def bent_seats(
    edge: Edge, feet_mm: Sequence[float], taus: Sequence[float], lifts_mm: Sequence[float]
) -> list[BentSeat]:
    """Return the seats of bent feet with their middles at ``taus`` (radians); 0 is a foot without width.

    ``lifts_mm`` is how far outside the edge the ends of each foot lie (those of a mouth sunk into the card lie inside).
    Raises GeometryError when a foot is as long as the edge.
    """
    walk = walk_along(edge)
    widest = max(feet_mm, default=0.0)
    if widest >= walk.length_mm:
        say = f"a foot of {widest:.2f} mm is as long as the edge, {walk.length_mm:.2f} mm. Make it narrower."
        raise GeometryError(say, code="no-seat", foot_mm=widest, widest_mm=walk.length_mm)
    at = walk.walked_mm(np.array(taus))
    half = np.array(feet_mm) / 2
    ends = walk.spot(np.stack([at - half, at + half]))
    left, right = (ends.point + np.array(lifts_mm) * 1j * ends.tangent).tolist()
    return [
        BentSeat(
            tau, edge.point(tau), edge.tangent(tau), from_, to, 0.0, edge.velocity(tau), edge.turn_rate(tau), 0.0,
            edge, at_mm, foot_mm,
        )
        for tau, at_mm, foot_mm, from_, to in zip(taus, at.tolist(), feet_mm, left, right, strict=True)
    ]  # fmt: skip
