"""Kerf: the line along which a beam must run so that what is left of the card has the size of the drawing."""

from __future__ import annotations

from frameforge.check.thickness import ThinPlace, thin_places
from frameforge.errors import GeometryError
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.units import format_floor

__all__ = ["with_kerf"]


def with_kerf(region: Region, kerf_mm: float, *, where: str = "") -> Region:
    """Return the region whose outlines lie half a kerf (mm) in the waste: the outside further out, holes further in.

    The lines are true parallels: lines and circular arcs exact, other curves within ``FIT_MM``. Raised corners turn
    round the corner by an arc, as the middle of the beam does; the narrowing end of a notch gets as wide as the beam.
    Raises GeometryError where the beam is wider than a hole or a slot, so that no line is left for it.
    """
    if kerf_mm == 0:
        return region
    lost = [place for place in thin_places((region,), kerf_mm, "slot") if _is_lost(place, kerf_mm)]
    grown = parallel(region, kerf_mm / 2)
    if not lost and len(grown) == 1 and len(grown[0].holes) == len(region.holes):
        return grown[0]
    many = "1 hole or slot is" if len(lost) == 1 else f"{len(lost) or 'some'} holes or slots are"
    least = f" ({format_floor(min(place.width_mm for place in lost))})" if lost else ""
    say = (
        f"{many} narrower{least} than the {format_floor(kerf_mm)} that the laser burns away. Make them wider, or take "
        "a smaller kerf."
    )
    raise GeometryError(say, where=where, kerf=kerf_mm)


def _is_lost(place: ThinPlace, kerf_mm: float) -> bool:
    """Whether a narrow place is more than the end of a notch, into which no beam comes."""
    return place.kind != "tip" and (place.kind != "finger" or place.extent_mm > kerf_mm)
