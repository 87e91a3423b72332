"""A round hole asked for, to hang the piece by or to tie it."""

from __future__ import annotations

import math

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.spec import HoleSpec, PieceSpec
from frameforge.frame.wording import down
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle

__all__ = ["hole_region"]


def hole_region(spec: PieceSpec, hole: HoleSpec, base: Edge, opening: Edge | None, preset: Preset) -> Region:
    """Return the hole: in the middle of the rim, or on a solid piece as far in as keeps a strong margin.

    The margin on a solid piece is the card's least neck or the hole's radius, whichever is more. Raises InputError
    for a diameter that is not above 0, GeometryError, with the largest hole that goes, when the rim is too narrow.
    """
    if not (hole.diameter_mm > 0 and math.isfinite(hole.diameter_mm)):
        raise InputError(f"a hole of {hole.diameter_mm:g} mm. Write a size above 0.", where=spec.name)
    radius = hole.diameter_mm / 2
    direction = math.radians(hole.at_deg)
    towards = complex(math.sin(direction), math.cos(direction))
    outside = abs(base.point(base.tau_towards(direction)))
    inside = abs(opening.point(opening.tau_towards(direction))) if opening else 0.0
    margin = max(preset.least_neck_mm, radius)
    if opening is None or outside - inside >= 2 * (margin + radius):
        middle = outside - margin - radius
    else:
        middle = (outside + inside) / 2
    web = min(outside - middle - radius, middle - radius - inside if opening else math.inf)
    if web < preset.least_web_mm - 1e-9:
        room = (outside - inside) / (2 if opening is None else 1) - 2 * preset.least_web_mm
        say = f"a hole of {hole.diameter_mm:g} mm leaves {max(web, 0.0):.2f} mm of card beside it, this card needs "
        say += f"{preset.least_web_mm:g} mm. "
        say += f"Make the hole {down(room, 0.1):.4g} mm or less." if room >= 0.1 else "Make the rim wider."
        raise GeometryError(say, where=spec.name, code="no-room", web_mm=web, limit_mm=preset.least_web_mm)
    return Region(circle(middle * towards, radius))
