"""The edge between repeats: cut straight from foot to foot, or hollowed by an arc."""

from __future__ import annotations

import math
from collections.abc import Iterator

from frameforge.errors import GeometryError, InputError
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.seat import FootSeat
from frameforge.frame.spec import Size
from frameforge.frame.wording import down, gap_words
from frameforge.geometry.arc import Arc
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.tolerances import TOUCH_MM

__all__ = ["edge_between"]


def edge_between(model: RowModel, size: Size, layout: Layout) -> tuple[Region, ...]:
    """Return what is taken from the base between neighbours that are both there; nothing where the edge is kept.

    Flat: all outside the chord from foot end to foot end. Hollow: all outside an arc of depth d below that chord, of
    radius (c^2/4 + d^2) / 2d. Raises InputError where row and edge do not go together, GeometryError where too
    little rim would stay or the arc would cut in under a foot.
    """
    row, where = model.row, model.spec.name
    if row.between == "keep":
        return ()
    if row.place != "out" or layout.track.meets != "base" or any(ready.motif.cut_away for ready in layout.readies):
        say = f"between {row.between} goes with motifs that stand out from the base on their feet. Leave it out."
        raise InputError(say, where=where)
    if (row.depth_mm is None) == (row.between == "hollow"):
        say = "a hollow edge needs a depth, for example 2mm." if row.depth_mm is None else "a flat edge has no depth."
        raise InputError(f"{say} {'Write one.' if row.depth_mm is None else 'Leave it out.'}", where=where)
    depth = row.depth_mm or 0.0
    taken = []
    for seat, after in _pairs(layout):
        deepest = _deepest_mm(seat, after)
        if depth > deepest:
            say = f"a depth of {depth:g} mm would cut in under the feet. Take {down(deepest, 0.1):.4g} mm or less."
            raise GeometryError(say, where=where, code="too-deep", depth_mm=depth, limit_mm=deepest)
        _check_rim(model, size, seat, after, depth)
        taken.append(_outside(seat, after, depth))
    return tuple(taken)


def _pairs(layout: Layout) -> Iterator[tuple[FootSeat, FootSeat]]:
    """Yield neighbours that are both there and whose feet stand apart."""
    for k, gap in enumerate(layout.foot_gaps):
        if gap is not None and gap > TOUCH_MM:
            yield layout.seats[k], layout.seats[(k + 1) % len(layout.seats)]


def _deepest_mm(seat: FootSeat, after: FootSeat) -> float:
    """Return the depth at which the arc goes straight down beside the steeper of its two feet."""
    across = after.left - seat.right
    # An arc of depth d leaves its chord at the angle 2 atan(2d/c), the chord leaves each foot at the turn between.
    turns = (seat.tangent.conjugate() * across, across.conjugate() * after.tangent)
    turn = max(abs(math.atan2(z.imag, z.real)) for z in turns)
    return abs(across) / 2 * math.tan((math.pi / 2 - turn) / 2)


def _outside(seat: FootSeat, after: FootSeat, depth_mm: float) -> Region:
    """Return a block on the chord between two feet that reaches past the edge, its floor an arc where deeper."""
    start, end = seat.right, after.left
    # Higher than the edge rises over any chord of a convex edge round 0: as far out as the chord lies from there.
    up = 1j * (end - start) / abs(end - start) * (abs(start) + abs(end))
    floor: Segment = Line(start, end)
    if depth_mm:
        floor = Arc.from_bulge(start, end, 2 * depth_mm / abs(end - start))
    sides = Line(end, end + up), Line(end + up, start + up), Line(start + up, start)
    return Region(Outline((floor, *sides)))


def _check_rim(model: RowModel, size: Size, seat: FootSeat, after: FootSeat, depth_mm: float) -> None:
    """Refuse a floor that leaves less card than the least neck towards the opening, or towards the middle."""
    _, opening = edges_of(model.spec, size)
    across = after.left - seat.right
    deepest = (seat.right + after.left) / 2 - 1j * across / abs(across) * depth_mm
    inside = 0.0
    if opening is not None:
        inside = abs(opening.point(opening.tau_towards(math.atan2(deepest.real, deepest.imag))))
    # Below 0 where the floor lies past the middle of the piece.
    outside = math.copysign(abs(deepest), (deepest.conjugate() * (seat.right + after.left)).real)
    least = model.preset.least_neck_mm
    left = outside - inside
    if left >= least:
        return
    say = f"between {model.row.between} leaves {gap_words(max(left, 0.0))} of card, this card needs {least:g} mm. "
    room = depth_mm - (least - left)
    say += f"Take a depth of {down(room, 0.1):.4g} mm or less." if room >= 0.1 else "Make the opening smaller."
    raise GeometryError(say, where=model.spec.name, code="no-rim", rim_mm=left, limit_mm=least)
