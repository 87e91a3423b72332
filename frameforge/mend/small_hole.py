"""Small holes made larger in their own shape, moving one another and away from edges where need be; or filled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from frameforge.check.holes import Disc, Hole
from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.view import View
from frameforge.tolerances import CHORD_MM, MEND_MARGIN_MM

__all__ = ["enlarged", "fill"]

FURTHEST = 0.75
"""A hole moves by no more than this share of its new diameter."""
ROUNDS = 60
"""Pushes of each hole away from what is too near; ten are common."""
ENOUGH = 1.02
"""Each push goes a little too far, so that they come to an end."""


def fill(outline: Outline) -> Patch:
    """Return the hole filled."""
    return Patch(fills=(outline,))


def enlarged(view: View, holes: Sequence[Hole], least_mm: float, web_mm: float) -> dict[int, Patch]:
    """Return patches, by loop number, that scale holes until their largest discs are ``least_mm`` across.

    Each hole is scaled about the middle of its disc and moved, together with the others, until ``web_mm`` of card lies
    all round it. A hole that would have to move too far is not among them.
    """
    wanted = least_mm + MEND_MARGIN_MM
    # Chords lie inside round holes: the card between two looks wider by as much.
    web = web_mm + 2 * CHORD_MM
    known = [(hole, hole.disc) for hole in holes if hole.disc is not None and hole.disc.diameter_mm > 0]
    movers = [_Mover.from_hole(view, hole, disc, wanted, {h.loop for h, _ in known}, web) for hole, disc in known]
    _push_apart(movers, web)
    return {mover.hole.loop: mover.patch() for mover in movers if mover.clear_mm >= web - MEND_MARGIN_MM}


@dataclass(slots=True)
class _Mover:
    """A hole being moved: its scaled region and polygon, the fixed edges around, how far it was moved and has come."""

    hole: Hole
    card: Region
    polygon: shapely.Polygon
    edges: shapely.MultiLineString
    furthest_mm: float
    centre: complex
    reach_mm: float
    move: complex = 0j
    clear_mm: float = 0.0

    @classmethod
    def from_hole(cls, view: View, hole: Hole, disc: Disc, wide_mm: float, moving: set[int], web_mm: float) -> _Mover:
        """Return a hole scaled to ``wide_mm`` across; the loops ``moving`` are no fixed edges."""
        scaled = hole.outline.transformed(Affine.from_scale(wide_mm / disc.diameter_mm, disc.centre))
        card = Region(scaled.reversed())
        polygon = to_polygon(card, CHORD_MM / 5)
        furthest = FURTHEST * wide_mm
        left, bottom, right, top = polygon.bounds
        far = furthest + web_mm
        chords = view.chords
        found = chords.tree.query(shapely.box(left - far, bottom - far, right + far, top + far))
        fixed = [k for k in found.tolist() if int(chords.loop[k]) not in moving]
        edges = shapely.MultiLineString(list(chords.tree.geometries[fixed]))
        reach = float(np.hypot(right - left, top - bottom)) / 2 + far
        return cls(hole, card, polygon, edges, furthest, disc.centre, reach)

    @property
    def here(self) -> shapely.Polygon:
        """The scaled hole where it was moved to."""
        return shapely.transform(self.polygon, lambda xy: xy + np.array([self.move.real, self.move.imag]))

    def patch(self) -> Patch:
        """Return the hole filled and cut anew."""
        return Patch(fills=(self.hole.outline,), cuts=(self.card.transformed(Affine.from_move(self.move)),))


def _push_apart(movers: Sequence[_Mover], web_mm: float) -> None:
    """Move holes away from fixed edges and from each other, all at once, until there is room or they may go no further.

    Of two holes that are too near each goes half the way, so that what is alike stays alike.
    """
    near = [[o for o in movers if o is not m and abs(o.centre - m.centre) <= m.reach_mm + o.reach_mm] for m in movers]
    for _ in range(ROUNDS):
        polygons = {id(mover): mover.here for mover in movers}
        pushes = [
            _push(mover, polygons[id(mover)], [(polygons[id(other)], 0.5) for other in beside], web_mm)
            for mover, beside in zip(movers, near, strict=True)
        ]
        if not any(pushes):
            return
        for mover, push in zip(movers, pushes, strict=True):
            moved, most = mover.move + push, mover.furthest_mm
            mover.move = moved if abs(moved) <= most else moved / abs(moved) * most


def _push(
    mover: _Mover, here: shapely.Polygon, others: Sequence[tuple[shapely.Polygon, float]], web_mm: float
) -> complex:
    """Return the move away from the nearest edge that is too near; none where there is room."""
    near: list[tuple[BaseGeometry, float]] = [(mover.edges, 1.0)] if not mover.edges.is_empty else []
    near += others
    nearest, share, clear = None, 1.0, float("inf")
    for edge, part in near:
        away = float(shapely.distance(here, edge))
        if away < clear - MEND_MARGIN_MM:
            nearest, share, clear = edge, part, away
    mover.clear_mm = clear
    if nearest is None or clear >= web_mm - MEND_MARGIN_MM / 2:
        return 0j
    mine, its = (complex(*xy) for xy in shapely.shortest_line(here, nearest).coords)
    way = mine - its if clear > 0 else mover.centre + mover.move - its
    return share * ENOUGH * (web_mm - clear) * way / abs(way) if way else 0j
