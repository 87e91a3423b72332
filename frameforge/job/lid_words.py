"""What is said of a box lid: its strip, in how many parts, or the teeth of its flange."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from frameforge.frame.flange import Flange
from frameforge.sets.lid import Strip
from frameforge.units import format_deg, format_floor, format_mm

__all__ = ["LidTold", "flange_told", "strip_told"]


@dataclass(frozen=True, slots=True)
class LidTold:
    """A lid in sentences for the maker, and as plain values."""

    notes: tuple[str, ...]
    values: Mapping[str, Any]

    def as_json(self) -> dict[str, Any]:
        """Return it as a table of plain values."""
        return dict(self.values)


def strip_told(strip: Strip, sheet: str, margin_mm: float, room_mm: float, shorter: Strip | None) -> LidTold:
    """Return what is said of a strip. ``sheet`` is what the sheet is called, on which ``room_mm`` is the longest strip.

    ``shorter`` is a part of the strip cut in as few parts as that takes; None where it goes as it is.
    """
    length, high = f"{strip.length_mm:.2f} mm", format_floor(strip.height_mm)
    if strip.parts == 1:
        wall = f"the wall is a strip {length} long and {high} high: it goes round the disc once"
        glued = f"its ends glued over a lap of {format_floor(strip.lap_mm)}"
    else:
        wall = f"the wall is {strip.parts} strips, each {length} long and {high} high: together they go round the disc"
        glued = f"each glued to the next over a lap of {format_floor(strip.lap_mm)}"
    notes = [f"{wall}, on its edge, {glued}."]
    if shorter is not None:
        each = f"{shorter.parts} strips of {shorter.length_mm:.2f} mm"
        notes.append(
            f"the strip is {format_mm(strip.length_mm)} long, {sheet} with {margin_mm:g} mm margin takes "
            f"{format_mm(room_mm)}. Write parts = {shorter.parts} in the lid ({each}), "
            f'or --lid "{strip.height_mm:g}mm strip in {shorter.parts} parts".'
        )
    elif strip.length_mm > room_mm:
        notes.append(
            f"the strip is {format_mm(strip.length_mm)} long, {sheet} with {margin_mm:g} mm margin takes "
            f"{format_mm(room_mm)}, less than a lap. Take a shorter lap."
        )
    values = {
        "wall": "strip",
        "height_mm": strip.height_mm,
        "strip_mm": [strip.length_mm, strip.height_mm],
        "lap_mm": strip.lap_mm,
        "parts": strip.parts,
    }
    return LidTold(tuple(notes), values)


def flange_told(height_mm: float, flange: Flange) -> LidTold:
    """Return what is said of a flange."""
    note = (
        f"the wall is a flange of {flange.teeth} teeth {format_floor(height_mm)} high and "
        f"{format_floor(flange.width_mm)} wide, notches of {format_deg(flange.notch_deg)} between them: folded down "
        "they stand side by side and do not overlap. Glue a ring or a strip of card to them, inside or out."
    )
    values = {
        "wall": "flange",
        "height_mm": height_mm,
        "teeth": flange.teeth,
        "tooth_mm": flange.width_mm,
        "tip_mm": flange.tip_mm,
        "notch_deg": flange.notch_deg,
    }
    return LidTold((note,), values)
