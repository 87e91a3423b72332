"""A slit closed all round made wider as a whole: its parallel outline, so that it keeps its shape."""

from __future__ import annotations

from itertools import pairwise

from frameforge.check.thickness import ThinPlace
from frameforge.geometry.measure import area_mm2, length_mm
from frameforge.geometry.outline import Outline
from frameforge.geometry.parallel import parallel
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.track import to_stretches
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM, SAME_PLACE_MM

__all__ = ["grow", "is_less_than_filling", "slit_of"]


def slit_of(view: View, place: ThinPlace) -> Outline | None:
    """Return the outline of the slit that a place is the whole of, None where it is no such thing."""
    if place.kind != "all" or len(place.loops) != 1 or view.chords.is_outer[place.loops[0]]:
        return None
    return view.chords.outlines[place.loops[0]]


def grow(view: View, place: ThinPlace, least_mm: float) -> Patch | None:
    """Return what widens a closed slit to ``least_mm``, alike all round.

    None for any other place, and for a slit of several arms: its width is that of the disc where they meet.
    """
    slit = slit_of(view, place)
    if slit is None or _has_arms(view, place, least_mm):
        return None
    by = (least_mm - place.width_mm) / 2 + MEND_MARGIN_MM
    return Patch(cuts=parallel(Region(slit.reversed()), by))


def _has_arms(view: View, place: ThinPlace, least_mm: float) -> bool:
    """Return whether the middle of a slit branches: a long stretch of it begins at no end of another."""
    stretches = to_stretches(view.chords, place, least_mm, view.searched_mm(place))
    long = [s.discs for s in stretches if sum(abs(b.centre - a.centre) for a, b in pairwise(s.discs)) > least_mm]
    if not long:
        return False
    ends = [long[0][0].centre, long[0][-1].centre]
    for discs in long[1:]:
        mine = [discs[0].centre, discs[-1].centre]
        if min(abs(one - other) for one in mine for other in ends) > SAME_PLACE_MM:
            return True
        ends += mine
    return False


def is_less_than_filling(slit: Outline, place: ThinPlace, least_mm: float) -> bool:
    """Return whether growing takes less card off than filling puts on."""
    return length_mm(slit) * (least_mm - place.width_mm) / 2 <= abs(area_mm2(slit))
