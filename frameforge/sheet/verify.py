"""Independent proof of a layout: every piece once, inside the margin, far enough from every other.

Shares no code with what places pieces: distances are taken between the true curves that will be written.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

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
NEAR_MM = 2 * CHORD_MM + 10 * LEEWAY_MM
"""Chords of two pieces lie no nearer than their curves by more than this."""
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
    known: dict[object, list[Fault]] = {}
    for number, (placed, sheet, solid) in enumerate(zip(layout.sheets, sheets, solids, strict=True)):
        # Sheets that are alike to the last bit are looked at once.
        key = sheet, tuple(map(id, solid)), tuple((p.design, p.x_mm, p.y_mm, p.turn_deg) for p in placed)
        if key not in known:
            known[key] = _faults(number, [place.regions(designs) for place in placed], sheet, solid)
        found += [replace(fault, sheet=number) for fault in known[key]]
    return tuple(found)


def _faults(number: int, pieces: list[tuple[Region, ...]], sheet: Sheet, solid: Sequence[Region]) -> list[Fault]:
    """Return everything wrong on one sheet."""
    found = _outside(number, pieces, sheet)
    found += _too_near(number, pieces, sheet.apart_mm)
    return found + _on_used(number, pieces, solid, sheet.apart_mm)


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
    cards = _cards(pieces)
    rows, cols = shapely.STRtree(cards).query(cards, predicate="dwithin", distance=apart_mm + NEAR_MM)
    found = []
    for i, j in sorted((int(i), int(j)) for i, j in zip(rows, cols, strict=True) if i < j):
        found += _pair(number, (i, j), pieces[i], pieces[j], apart_mm)
    return found


def _cards(pieces: Sequence[Sequence[Region]]) -> list[BaseGeometry]:
    """Return the card of each piece as chords: pairs that are further apart than these tell need no closer look."""
    return [boolean.union([to_polygon(region) for region in piece]) for piece in pieces]


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
    if not solid or not pieces:
        return []
    used = [(region,) for region in solid]
    tree = shapely.STRtree(_cards(used))
    rows, cols = tree.query(_cards(pieces), predicate="dwithin", distance=apart_mm + NEAR_MM)
    return [
        Fault(number, (k,), f"{fault.say}, with the part already used", fault.measured_mm)
        for k, u in sorted((int(k), int(u)) for k, u in zip(rows, cols, strict=True))
        for fault in _pair(number, (k, k), pieces[k], used[u], apart_mm)
    ]
