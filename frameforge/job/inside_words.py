"""What is said of a frame and of what comes out of its opening."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.job.set_told import SetTold
from frameforge.units import format_floor, format_size

__all__ = ["inside_told", "size_of"]


def inside_told(
    frame: tuple[str, Outline, Outline], inner: Sequence[tuple[str, Region]], clearance_mm: float, usual_mm: float
) -> SetTold:
    """Return what is said of a frame (its name, outside and opening) and of the cards that its opening gives, each with
    the name of its piece, the outermost first.

    ``usual_mm`` is the play told of where there is none.
    """
    name, outside, opening = frame
    rows = [("frame", name, size_of(outside), size_of(opening))]
    values: list[dict[str, Any]] = [_values("frame", name, Region(outside, (opening,)), clearance_mm=None)]
    for piece, card in inner:
        what = "frame" if card.holes else "disc"
        rows.append((what, piece, size_of(card.outer), size_of(card.holes[0]) if card.holes else "-"))
        values.append(_values(what, piece, card, clearance_mm))
    if clearance_mm:
        lead = f"Its opening takes {inner[0][0]} with {format_floor(clearance_mm)} of play all round:"
        note = f"{inner[0][0]} has a line of its own, inside that of the opening: cut it from other card."
    else:
        lead = "Inside and outside, one cut for both:"
        box = bounds(opening)
        loose = format_size(box.width_mm - 2 * usual_mm, box.height_mm - 2 * usual_mm)
        note = (
            f"What comes out of the opening sits tight in it; {loose} would sit loosely, with {usual_mm:g} mm of play "
        )
        note += "all round."
    table = (("card", "piece", "outside", "opening"), *rows)
    short = tuple((row[0], *(cell.partition(" (")[0] for cell in row[2:])) for row in table)
    return SetTold("inside", "Inside and outside", lead, table, (note,), values, short)


def size_of(outline: Outline) -> str:
    """Return the size of an outline in mm and inches."""
    box = bounds(outline)
    return format_size(round(box.width_mm, 6), round(box.height_mm, 6))


def _values(what: str, name: str, card: Region, clearance_mm: float | None) -> dict[str, Any]:
    box = bounds(card.outer)
    opening = bounds(card.holes[0]) if card.holes else None
    return {
        "card": what,
        "name": name,
        "outside_mm": [box.width_mm, box.height_mm],
        "opening_mm": [opening.width_mm, opening.height_mm] if opening else None,
        "clearance_mm": clearance_mm,
        "area_mm2": area_mm2(card),
    }
