"""On which edge a row stands, which way its motifs point, and by what they are seated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.ornament import Ready
from frameforge.frame.seat import FootSeat, find_seat, point_seat
from frameforge.frame.spec import RowSpec
from frameforge.geometry.affine import Affine

__all__ = ["Track", "track_for", "window_inset_mm"]


@dataclass(frozen=True, slots=True)
class Track:
    """The edge a row stands on. ``side`` is 1 where motifs point away from the middle, -1 where towards it.

    A corner motif stands on the edge with its tip, on the spoke, whatever the width of what it cuts away: its cut-away
    reaches above the tangent there, so no scrap of a convex edge is left beside it.

    ``by`` tells whether a motif is seated by its foot or by the middle of its outline box; ``meets`` which edge of
    the card the feet stand on: the base (convex), the opening (concave), or none where the row lies in the card.
    """

    edge: Edge
    side: Literal[1, -1]
    by: Literal["foot", "middle"]
    meets: Literal["base", "opening", "none"]

    def seat(self, ready: Ready, tau: float) -> FootSeat:
        """Return where a motif sits at tau. Raises GeometryError when its foot is too wide for the edge there."""
        if self.by == "middle" or ready.is_corner:
            return point_seat(self.edge, tau)
        return find_seat(self.edge, ready.foot_mm, tau)

    def placement(self, ready: Ready, seat: FootSeat) -> Affine:
        """Return the map of the motif onto the piece."""
        placed = seat.placement(self.side)
        return placed.after(Affine.from_move(-1j * ready.middle_mm)) if self.by == "middle" else placed

    def on(self, edge: Edge) -> Track:
        """Return the same track on another edge."""
        return Track(edge, self.side, self.by, self.meets)


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
        return Track(edge, 1, "middle", "none")
    if row.place == "across":
        return Track(edge, 1 if on == "base" else -1, "middle", "none")
    meets: Literal["base", "opening", "none"] = "none"
    if (on == "base") == (row.place == "out"):
        meets = "base" if on == "base" else "opening"
    return Track(edge, 1 if row.place == "out" else -1, "foot", meets)


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
