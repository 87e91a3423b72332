"""The mouth of a cut-away: where its walls come out at the edge, so that no scrap of the edge stays beside them."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.bent_seat import BentSeat
from frameforge.frame.layout import Layout
from frameforge.frame.seat import FootSeat
from frameforge.frame.walk import walk_along
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import FOOT_BAND_MM

__all__ = ["Wall", "edge_height_mm", "mouth_ends", "opened", "walls"]

_HALVINGS = 60

Wall = tuple[complex, complex]
"""The two ends of a straight wall."""


@lru_cache
def opened(motif: Motif, top_mm: float) -> tuple[Region, ...]:
    """Return the motif's cut-aways, those that reach its foot line carried straight up to ``top_mm`` above it.

    The mouth is as wide as the foot. What already reaches as high, or lies wholly below the foot line, stays as drawn.
    """
    half = motif.foot_mm / 2
    if half == 0:
        return motif.cut_away
    made: list[Region] = []
    for region in motif.cut_away:
        drawn = bounds(region).top
        if not -FOOT_BAND_MM <= drawn < top_mm:
            made.append(region)
            continue
        walls = Region(rectangle(-half, min(drawn, 0.0), half, top_mm))
        made.extend(evaluate(union(region, walls)).regions)
    return tuple(made)


def edge_height_mm(layout: Layout, k: int, edge: Edge, *, is_flat: bool) -> float:
    """Return how high the edge stands above the foot line of a repeat within its mouth, mm; 0 where it lies below.

    ``edge`` is the edge of the card, of which the row's own track may be a parallel; ``is_flat`` tells whether it is
    made straight from tip to tip.
    """
    ready, seat, track = layout.readies[k], layout.seats[k], layout.track
    outward = track.side * 1j * seat.tangent
    sunk = track.sink_mm if ready.is_corner else 0.0
    heights = [((edge.point(seat.tau) - seat.middle).conjugate() * outward).real]
    if track.side < 0 and ready.is_corner:
        points = [*mouth_ends(edge, seat, ready.foot_mm), *(_ends_on_lines(layout, k) if is_flat else ())]
        # A bent mouth follows the edge: what counts is how far along its own walls they come out.
        ways = [1j * track.side * way for way in seat.end_ways]
        mouths = (seat.left + sunk * ways[0], seat.right + sunk * ways[1]) if track.is_bent else (seat.middle,) * 2
        heights += [((p - mouths[i % 2]).conjugate() * ways[i % 2]).real for i, p in enumerate(points)]
    return max(0.0, *(height + sunk for height in heights))


def walls(layout: Layout, k: int, edge: Edge, *, is_flat: bool) -> tuple[Wall, Wall]:
    """Return the left and the right wall of a mouth in an opening, each from the foot line to the finished edge."""
    seat = layout.seats[k]
    ends = (_ends_on_lines(layout, k) if is_flat else ()) or mouth_ends(edge, seat, layout.readies[k].foot_mm)
    return (seat.left, ends[0]), (seat.right, ends[1])


def _ends_on_lines(layout: Layout, k: int) -> tuple[complex, ...]:
    """Return where the walls of a corner motif meet the lines from its tip to those beside it, left and right.

    Nothing where no other repeat is there.
    """
    kept = [i for i, there in enumerate(layout.is_there) if there]
    if len(kept) < 2:
        return ()
    at = kept.index(k)
    tip, seat = _tip(layout, k), layout.seats[k]
    ends = []
    beside = kept[at - 1], kept[(at + 1) % len(kept)]
    for other, mouth, way in zip(beside, (seat.left, seat.right), seat.end_ways, strict=True):
        along = _tip(layout, other) - tip
        # Where tip + u along has the same place along the way of the edge as the wall through the mouth's end.
        ends.append(tip + along * (way.conjugate() * (mouth - tip)).real / (way.conjugate() * along).real)
    return tuple(ends)


def _tip(layout: Layout, k: int) -> complex:
    return layout.track.placement(layout.readies[k], layout.seats[k]).apply(0j)


def mouth_ends(edge: Edge, seat: FootSeat, width_mm: float) -> tuple[complex, complex]:
    """Return where the two walls of a mouth, along the axis of a seat, meet the edge: left, right (clockwise).

    The walls of a bent mouth run along the normals at its ends. Raises GeometryError when the edge is narrower than the
    mouth there.
    """
    if isinstance(seat, BentSeat):
        left, right = walk_along(seat.edge).tau(seat.at_mm + np.array([-0.5, 0.5]) * width_mm).tolist()
        return edge.point(left), edge.point(right)
    return _meeting(edge, seat, -width_mm / 2), _meeting(edge, seat, width_mm / 2)


def _meeting(edge: Edge, seat: FootSeat, aside_mm: float) -> complex:
    """Return the point of the edge that lies so far aside of a seat's axis, by halving; to the last bits."""

    def aside(tau: float) -> float:
        return ((edge.point(tau) - seat.middle).conjugate() * seat.tangent).real

    # The edge's widest reach aside is where its own tangent is across the seat's; beyond, it comes back.
    quarter = math.copysign(math.pi / 2, aside_mm)
    near, far = seat.tau, seat.tau + quarter
    while abs(aside(far)) < abs(aside_mm) and abs(far - seat.tau) < math.pi * 0.75:
        far += quarter / 16
    if abs(aside(far)) < abs(aside_mm):
        say = f"a cut-away {2 * abs(aside_mm):.2f} mm wide is wider than the edge there."
        raise GeometryError(say, code="no-seat", width_mm=2 * abs(aside_mm))
    for _ in range(_HALVINGS):
        middle = (near + far) / 2
        near, far = (middle, far) if abs(aside(middle)) < abs(aside_mm) else (near, middle)
    return edge.point((near + far) / 2)
