"""A slit closed all round made wider as a whole: its parallel outline, so that it keeps its shape."""

from __future__ import annotations

from frameforge.check.thickness import ThinPlace
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["grow", "is_less_than_filling", "slit_of"]


def slit_of(view: View, place: ThinPlace) -> Outline | None:
    """Return the outline of the slit that a place is the whole of, None where it is no such thing."""
    if place.kind != "all" or len(place.loops) != 1 or view.chords.is_outer[place.loops[0]]:
        return None
    return view.chords.outlines[place.loops[0]]


def grow(view: View, place: ThinPlace, least_mm: float) -> Patch | None:
    """Return what widens a closed slit to ``least_mm``, alike all round; None for any other place."""
    slit = slit_of(view, place)
    if slit is None:
        return None
    by = (least_mm - place.width_mm) / 2 + MEND_MARGIN_MM
    return Patch(cuts=parallel(Region(slit.reversed()), by))


def is_less_than_filling(slit: Outline, place: ThinPlace, least_mm: float) -> bool:
    """Return whether growing takes less card off than filling puts on."""
    return length_mm(slit) * (least_mm - place.width_mm) / 2 <= abs(area_mm2(slit))
