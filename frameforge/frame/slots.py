"""Slots for a stand: feet slide into them from below, half of each overlap cut in the piece and half in the foot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.behind import Behind
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import things
from frameforge.frame.spec import Size, StandSpec
from frameforge.frame.standing import standing_at
from frameforge.frame.wording import round_words, up
from frameforge.geometry.box import Box
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.tolerances import ON_LINE_MM
from frameforge.units import format_floor, format_mm

__all__ = ["LEAST_SLOT_MM", "Slot", "beside_slots", "slot_places_mm", "slots_of"]

LEAST_SLOT_MM: Final = 4.0
"""A slot less deep than this holds nothing upright (common practice, no source)."""

_SPREAD: Final = 0.28
"""How far the outermost feet stand from the middle, as a part of the piece's width (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot in the lower edge of a piece: where its middle is, how wide it is, where it ends and where the table is.

    All in mm; ``edge_mm`` is the height of the card's edge there, ``depth_mm`` how deep the slot is cut from there,
    ``foot_mm`` how deep the slot in its foot is.
    """

    at_mm: float
    width_mm: float
    edge_mm: float
    depth_mm: float
    table_mm: float
    foot_mm: float

    @property
    def top_mm(self) -> float:
        """How high the slot goes."""
        return self.edge_mm + self.depth_mm

    @property
    def block(self) -> Region:
        """All that is cut away for it, from below the piece up."""
        left, right = self.at_mm - self.width_mm / 2, self.at_mm + self.width_mm / 2
        below = min(self.table_mm, self.edge_mm) - self.width_mm - self.depth_mm
        return Region(rectangle(left, below, right, self.top_mm))

    def holds(self, point: complex) -> bool:
        """Whether a point lies in the slot or on its edge."""
        return abs(point.real - self.at_mm) <= self.width_mm / 2 + ON_LINE_MM and point.imag <= self.top_mm + ON_LINE_MM


def slot_places_mm(spec: StandSpec, width_mm: float) -> tuple[float, ...]:
    """Return where the slots of a stand lie beside the middle of a piece so wide, from left to right."""
    if spec.feet == 1:
        return (0.0,)
    step = 2 * _SPREAD * width_mm / (spec.feet - 1)
    return tuple(-_SPREAD * width_mm + k * step for k in range(spec.feet))


def slots_of(
    spec: StandSpec, edges: tuple[Edge, Edge | None], box: Box, preset: Preset, *, where: str = ""
) -> tuple[Slot, ...]:
    """Return the slots of a piece that stands on its lowest point, level with the undersides of its feet.

    ``box`` is that of the piece. A foot is half a disc and so half as high as wide. Where it overlaps the piece least,
    half of the overlap is cut in the piece from below, half in the foot from above, and the two slide together; all
    feet are alike, and elsewhere the slot of the piece is so much deeper. Raises GeometryError, with the foot that
    would do, where that is not deep enough to hold, or comes near the opening.
    """
    base, opening = edges
    places = slot_places_mm(spec, base.size.width_mm)
    overlaps = [box.bottom + spec.size_mm / 2 - _lower_edge_mm(base, x) for x in places]
    foot = min(overlaps) / 2
    if foot < LEAST_SLOT_MM:
        size = up(spec.size_mm + 4 * (LEAST_SLOT_MM - foot), 1)
        say = (
            f"feet {format_mm(spec.size_mm)} wide reach {format_floor(max(2 * foot, 0.0))} up the edge of "
            f"{round_words(base.size)}, and hold from {2 * LEAST_SLOT_MM:g} mm on. Take feet of {size:g} mm or more."
        )
        raise GeometryError(say, where=where, code="stand", size_mm=spec.size_mm)
    width = preset.thickness_mm + spec.play_mm
    slots = [
        Slot(x, width, _lower_edge_mm(base, x), overlap - foot, box.bottom, foot)
        for x, overlap in zip(places, overlaps, strict=True)
    ]
    if opening is not None:
        _check_opening(spec, slots, opening, preset, where)
    return tuple(slots)


def beside_slots(model: RowModel, size: Size, layout: Layout) -> Behind:
    """Return a row with the repeats left out that lie in a slot or leave too little card beside one; none moves.

    Raises GeometryError where none is left.
    """
    spec, base = model.spec.stand, Edge.from_size(size)
    count = len(layout.seats)
    if spec is None:
        return Behind(layout, (False,) * count)
    places = slot_places_mm(spec, size.width_mm)
    # Deeper than they can come to be: a foot is no higher.
    width, edges = model.preset.thickness_mm + spec.play_mm, [_lower_edge_mm(base, x) for x in places]
    slots = [Slot(x, width, low, spec.size_mm / 2, low, 0.0) for x, low in zip(places, edges, strict=True)]
    room = max(model.preset.least_web_mm, model.preset.least_slot_mm)
    is_out = tuple(_reaches(layout, k, slots, room) for k in range(count))
    if not any(is_out):
        return Behind(layout, is_out)
    if all(is_out):
        say = f"no {things(model, 1)} is left beside the slots of the stand. Take one foot, or leave the row out."
        raise GeometryError(say, where=model.spec.name, code="stand")
    out = sum(is_out)
    return Behind(layout, is_out, (f"left out {out} of {count} {things(model, 2)}, where the feet are slid in",))


def _reaches(layout: Layout, k: int, slots: Sequence[Slot], room_mm: float) -> bool:
    """Whether a repeat, its hollows filled, comes within some room of a slot or of what lies below one."""
    points = standing_at(layout.track, layout.readies[k], layout.seats[k]).points
    hull = shapely.convex_hull(shapely.MultiPoint(np.column_stack([points.real, points.imag])))
    low = float(points.imag.min()) - room_mm
    return any(
        shapely.intersects(hull, shapely.box(slot.at_mm - wide, low, slot.at_mm + wide, slot.top_mm + room_mm))
        for slot in slots
        for wide in (slot.width_mm / 2 + room_mm,)
    )


def _lower_edge_mm(base: Edge, x: float) -> float:
    """Return how high the lower edge of a circle or oval is beside its middle."""
    a, b = base.size.width_mm / 2, base.size.height_mm / 2
    return -b * math.sqrt(max(1 - x * x / (a * a), 0.0))


def _check_opening(spec: StandSpec, slots: Sequence[Slot], opening: Edge, preset: Preset, where: str) -> None:
    """Refuse slots that leave too little card below the opening."""
    for slot in slots:
        if abs(slot.at_mm) >= opening.size.width_mm / 2:
            continue
        left = _lower_edge_mm(opening, slot.at_mm) - slot.top_mm
        if left < preset.least_neck_mm:
            say = (
                f"the slots of the stand leave {format_floor(max(left, 0.0))} of card below the opening, this card "
                f"needs {preset.least_neck_mm:g} mm."
            )
            size = spec.size_mm - 4 * (preset.least_neck_mm - left)
            foot = slot.foot_mm - (preset.least_neck_mm - left)
            hint = f" Take feet of {math.floor(size):g} mm." if foot >= LEAST_SLOT_MM else " Make the opening smaller."
            raise GeometryError(say + hint, where=where, code="stand", left_mm=left)
