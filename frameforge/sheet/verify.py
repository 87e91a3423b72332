"""Independent proof of a layout: every piece once, inside the margin, far enough from every other.

Shares no code with what places pieces: distances are taken between the true curves that will be written.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from frameforge.geometry import boolean
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.nearest import distance
from frameforge.geometry.region import Region
from frameforge.sheet.design import Design, Layout, Sheet
from frameforge.tolerances import CHORD_MM

__all__ = ["LEEWAY_MM", "Fault", "faults_of", "faults_on"]

LEEWAY_MM = 1e-6
"""Distances may fall short by this: rounding of the move and of the turn."""
FINE_MM = 1e-4
"""Chord distance where curves meet: an overlap a thousandth deep shows."""
TOUCH_MM2 = 1e-5
"""Area in common that chords may make of a touch."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: its sheet (from 0, -1: the whole layout), the places on it, what is wrong, by how much (mm)."""

    sheet: int
    places: tuple[int, ...]
    say: str
    measured_mm: float = math.nan


def faults_of(
    layout: Layout, designs: Sequence[Design], sheet: Sheet, solid: Sequence[Region] = ()
) -> tuple[Fault, ...]:
    """Return everything wrong with a layout; empty means proved.

    ``solid`` are areas of the sheet already used, in sheet coordinates, where nothing may lie.
    """
    count = len(layout.sheets)
    return faults_on(layout, designs, [sheet] * count, [solid] * count)


def faults_on(
    layout: Layout, designs: Sequence[Design], sheets: Sequence[Sheet], solids: Sequence[Sequence[Region]]
) -> tuple[Fault, ...]:
    """Return everything wrong with a layout on ``sheets``, one for each in it; ``solids`` is what each lost before."""
    designs = tuple(designs)
    found = list(_miscounted(layout, designs))
    for number, (placed, sheet, solid) in enumerate(zip(layout.sheets, sheets, solids, strict=True)):
        pieces = [place.regions(designs) for place in placed]
        found += _outside(number, pieces, sheet)
        found += _too_near(number, pieces, sheet.apart_mm)
        found += _on_used(number, pieces, solid, sheet.apart_mm)
    return tuple(found)


def _miscounted(layout: Layout, designs: tuple[Design, ...]) -> list[Fault]:
    """Return a fault for each copy that is missing, laid twice or never asked for."""
    laid = Counter((place.design, place.copy) for placed in layout.sheets for place in placed)
    asked = {(i, copy) for i, design in enumerate(designs) for copy in range(1, design.copies + 1)}
    wrong = [key for key in asked if laid[key] != 1] + [key for key in laid if key not in asked]
    return [Fault(-1, (), f"design {i}, copy {copy}: laid {laid[i, copy]} times") for i, copy in sorted(wrong)]


def _outside(number: int, pieces: list[tuple[Region, ...]], sheet: Sheet) -> list[Fault]:
    """Return a fault for each piece that reaches into the margin."""
    found = []
    for k, piece in enumerate(pieces):
        box = bounds(piece)
        over = max(
            sheet.margin_mm - box.left,
            sheet.margin_mm - box.bottom,
            box.right - (sheet.width_mm - sheet.margin_mm),
            box.top - (sheet.height_mm - sheet.margin_mm),
        )
        if over > LEEWAY_MM:
            found.append(Fault(number, (k,), "reaches into the margin", over))
    return found


def _too_near(number: int, pieces: list[tuple[Region, ...]], apart_mm: float) -> list[Fault]:
    """Return a fault for each pair of pieces that overlap or come nearer than asked."""
    boxes = [bounds(piece) for piece in pieces]
    tree = shapely.STRtree([shapely.box(b.left, b.bottom, b.right, b.top) for b in boxes])
    found = []
    for i, box in enumerate(boxes):
        reach = apart_mm + LEEWAY_MM
        grown = shapely.box(box.left - reach, box.bottom - reach, box.right + reach, box.top + reach)
        for j in sorted(int(k) for k in tree.query(grown) if k > i):
            found += _pair(number, (i, j), pieces[i], pieces[j], apart_mm)
    return found


def _pair(
    number: int, places: tuple[int, int], one: tuple[Region, ...], other: tuple[Region, ...], apart_mm: float
) -> list[Fault]:
    """Return the faults between two pieces."""
    gap = distance([o for r in one for o in r.outlines], [o for r in other for o in r.outlines]).gap_mm
    if _overlap(one, other, FINE_MM if gap <= LEEWAY_MM else CHORD_MM):
        return [Fault(number, places, "overlap", gap)]
    return [Fault(number, places, "too near", gap)] if gap < apart_mm - LEEWAY_MM else []


def _overlap(one: tuple[Region, ...], other: tuple[Region, ...], chord_mm: float) -> bool:
    """Return whether the card of two pieces has area in common beyond what chords make of a touch."""
    a, b = (boolean.union([to_polygon(region, chord_mm) for region in piece]) for piece in (one, other))
    return bool(shapely.intersects(a, b)) and boolean.intersection(a, b).area > TOUCH_MM2


def _on_used(number: int, pieces: list[tuple[Region, ...]], solid: Sequence[Region], apart_mm: float) -> list[Fault]:
    """Return a fault for each piece that comes too near to what is already cut from the sheet."""
    return [
        Fault(number, (k,), f"{fault.say}, with the part already used", fault.measured_mm)
        for k, piece in enumerate(pieces)
        for used in solid
        for fault in _pair(number, (k, k), piece, (used,), apart_mm)
    ]
