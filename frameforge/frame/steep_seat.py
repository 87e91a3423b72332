"""steep-seat: the edge under a foot falls away so much that the motif stands beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from frameforge.finding import Finding
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.wording import place_words
from frameforge.units import format_floor

__all__ = ["STEEP_DEG", "steep_seats"]

STEEP_DEG = 45.0
"""More slope than this between edge and foot end, and the motif stands beside its foot (common practice, no source)."""


def steep_seats(
    model: RowModel, layout: Layout, positions: Sequence[int], directions: Sequence[float]
) -> list[Finding]:
    """Return a warning for every repeat whose edge falls away by more than ``STEEP_DEG``, or rises over half of it.

    ``directions`` are those of the repeats, degrees clockwise from the top.
    """
    found = []
    for k, (ready, seat) in enumerate(zip(layout.readies, layout.seats, strict=True)):
        slope = math.degrees(seat.slope_rad)
        is_deep = seat.sagitta_mm > ready.height_mm / 2
        if not layout.is_there[k] or not (slope > STEEP_DEG or is_deep):
            continue
        where = place_words(ready.motif.name, positions[k], directions[k])
        if is_deep:
            say = (
                f"the edge rises {format_floor(seat.sagitta_mm)} over the foot of {where}, more than half its height. "
            )
            measured, limit, unit = seat.sagitta_mm, ready.height_mm / 2, "mm"
        else:
            say = f"the edge falls away by {slope:.0f} degrees at the foot of {where}. "
            measured, limit, unit = slope, STEEP_DEG, "deg"
        say += "Take a narrower foot."
        found.append(Finding("steep-seat", "warning", say, where, model.spec.name, seat.middle.real, seat.middle.imag,
                             measured, limit, "mm" if unit == "mm" else "deg"))  # fmt: skip
    return found
