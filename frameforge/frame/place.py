"""On which edge a row stands, which way its motifs point, and by what they are seated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.ornament import Ready
from frameforge.frame.seat import FootSeat, find_seat, point_seat
from frameforge.frame.spec import RowSpec
from frameforge.geometry.affine import Affine

if TYPE_CHECKING:
    from frameforge.frame.bend import Bends

__all__ = ["Track", "track_for", "window_inset_mm"]


@dataclass(frozen=True, slots=True)
class Track:
    """The edge a row stands on. ``side`` is 1 where motifs point away from the middle, -1 where towards it.

    A corner motif stands on the edge with its tip, on the spoke, whatever the width of what it cuts away, or with its
    tip ``sink_mm`` inside the edge. The ends of its seat are those of its mouth.

    ``by`` tells whether a motif is seated by its foot or by the middle of its outline box; ``meets`` which edge of
    the card the feet stand on: the base (convex), the opening (concave), or none where the row lies in the card.
    A bent row's motifs are carried along the edge by ``bends``; ``placement`` then tells how they stand on their axes.
    """

    edge: Edge
    side: Literal[1, -1]
    by: Literal["foot", "middle"]
    meets: Literal["base", "opening", "none"]
    sink_mm: float = 0.0
    is_bent: bool = False

    def seat(self, ready: Ready, tau: float) -> FootSeat:
        """Return where a motif sits at tau (radians).

        Raises GeometryError when its foot is too wide for the edge there.
        """
        if self.is_bent:
            return self.seats((ready,), (tau,))[0]
        if self.by == "middle":
            return point_seat(self.edge, tau)
        if ready.is_corner:
            seat = point_seat(self.edge, tau)
            mouth, half = seat.middle - self.side * self.sink_mm * 1j * seat.tangent, ready.foot_mm / 2
            return replace(seat, left=mouth - half * seat.tangent, right=mouth + half * seat.tangent)
        return find_seat(self.edge, ready.foot_mm, tau)

    def seats(self, readies: Sequence[Ready], taus: Sequence[float]) -> list[FootSeat]:
        """Return where motifs sit, one for each tau (radians). Raises GeometryError as ``seat`` does."""
        if not self.is_bent:
            return [self.seat(ready, tau) for ready, tau in zip(readies, taus, strict=True)]
        from frameforge.frame.bent_seat import bent_seats  # here, since most rows stand as drawn

        feet = [0.0 if self.by == "middle" else ready.foot_mm for ready in readies]
        lifts = [-self.side * self.sink_mm if ready.is_corner else 0.0 for ready in readies]
        return [*bent_seats(self.edge, feet, taus, lifts)]

    def drop_mm(self, ready: Ready) -> float:
        """Return how high the line of a motif that lies on the edge stands above its foot line, mm."""
        if self.by == "middle":
            return ready.middle_mm
        return self.sink_mm if ready.is_corner else 0.0

    def bends(self, ready: Ready, taus: Sequence[float]) -> Bends:
        """Return the maps that bend a motif along the edge, one for each tau (radians)."""
        from frameforge.frame.bend import Bends  # here, as above
        from frameforge.frame.walk import walk_along

        walk = walk_along(self.edge)
        return Bends(walk, walk.walked_mm(np.array(taus)), self.side, self.drop_mm(ready))

    def placement(self, ready: Ready, seat: FootSeat) -> Affine:
        """Return the map of the motif onto the piece."""
        placed, drop = seat.placement(self.side), self.drop_mm(ready)
        return placed.after(Affine.from_move(-1j * drop)) if drop else placed

    def on(self, edge: Edge) -> Track:
        """Return the same track on another edge."""
        return replace(self, edge=edge)


def track_for(row: RowSpec, base: Edge, opening: Edge | None, inset_mm: float) -> Track:
    """Return the track of a row; ``inset_mm`` goes from the edge into the card.

    Raises InputError when the row asks for an opening that is not there, GeometryError when the inset goes past
    where the edge still has a smooth parallel.
    """
    on = row.on or ("opening" if row.place == "in" and opening else "base")
    if on == "opening" and opening is None:
        raise InputError("the row stands on the opening, and there is none. Give the piece an opening or a rim.")
    if row.place == "in" and opening is None:
        raise InputError("a row that faces in needs a hole to reach into. Give the piece an opening or a rim.")
    under = base if on == "base" or opening is None else opening
    depth = -inset_mm if on == "base" else inset_mm
    if depth and not depth > -under.least_radius_mm:
        say = (
            f"an inset of {inset_mm:.2f} mm is past the middle of the edge's curve; "
            f"it can be less than {under.least_radius_mm:.2f} mm."
        )
        raise GeometryError(say, code="inset", inset_mm=inset_mm, limit_mm=under.least_radius_mm)
    edge = under.parallel(depth) if depth else under
    if row.place == "window":
        return Track(edge, 1, "middle", "none", is_bent=row.seat == "bent")
    if row.place == "across":
        return Track(edge, 1 if on == "base" else -1, "middle", "none", is_bent=row.seat == "bent")
    meets: Literal["base", "opening", "none"] = "none"
    if (on == "base") == (row.place == "out"):
        meets = "base" if on == "base" else "opening"
    return Track(edge, 1 if row.place == "out" else -1, "foot", meets, row.depth_mm or 0.0, row.seat == "bent")


def window_inset_mm(row: RowSpec, base: Edge, opening: Edge | None, height_mm: float, preset: Preset) -> float:
    """Return how far into the card a row lies: what the row says, or for windows a place with card on both sides.

    A window row that says nothing goes to the middle of the rim, or, without an opening, in from the edge by half
    its height and two webs.
    """
    if row.place != "window" or row.inset_mm:
        return row.inset_mm
    if opening is None:
        return height_mm / 2 + 2 * preset.least_web_mm
    rims = (base.half_width_mm + base.offset_mm - opening.half_width_mm - opening.offset_mm,
            base.half_height_mm + base.offset_mm - opening.half_height_mm - opening.offset_mm)  # fmt: skip
    return min(rims) / 2
