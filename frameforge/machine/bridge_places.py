"""Where bridges stand: at even distances, shifted off corners and off thin card."""

from __future__ import annotations

import numpy as np

from frameforge.errors import GeometryError
from frameforge.machine.allowances import Bridges
from frameforge.machine.steady import SteadyLine
from frameforge.units import format_floor

__all__ = ["bridge_places_mm"]

CLEAR_MM = 0.5
"""So far from its ends a bridge wants a smooth line."""
SHIFT = 0.3
"""A bridge may leave its even place by this part of the distance between two."""
MOST_BRIDGED = 0.5
"""More than this part of a line left uncut is no cut."""


def bridge_places_mm(line: SteadyLine, bridges: Bridges, start_mm: float, *, where: str = "") -> tuple[float, ...]:
    """Return the middles of the bridges along a line (mm), in the order of cutting from ``start_mm``.

    Raises GeometryError where they would leave less than half of the line cut.
    """
    whole = line.along.length_mm
    count = bridges.number_on(whole)
    if count * bridges.width_mm > MOST_BRIDGED * whole:
        most = int(MOST_BRIDGED * whole / bridges.width_mm)
        say = (
            f"{count} bridges of {format_floor(bridges.width_mm)} leave too little of the {format_floor(whole)} "
            f"line cut. Take {most} or fewer, or narrower ones."
        )
        raise GeometryError(say, where=where, most=most)
    pitch = whole / count
    return tuple(_place(line, start_mm + (number + 0.5) * pitch, pitch, bridges) for number in range(count))


def _place(line: SteadyLine, even_mm: float, pitch_mm: float, bridges: Bridges) -> float:
    """Return the steady place nearest to the even one, or the steadiest within reach."""
    reach = max(0.0, min(SHIFT * pitch_mm, (pitch_mm - bridges.width_mm) / 2))
    tried = even_mm + np.linspace(-reach, reach, 121)
    clear = np.round(np.minimum(line.clear_mm(tried), bridges.width_mm / 2 + CLEAR_MM), 3)
    best = np.lexsort((np.round(np.abs(tried - even_mm), 6), -clear))[0]
    return float(tried[best])
