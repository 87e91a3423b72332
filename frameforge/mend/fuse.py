"""Narrow slots closed: the space between two walls filled with card as far as it is too narrow."""

from __future__ import annotations

import numpy as np

from frameforge.check.thickness import ThinPlace, TrackDisc
from frameforge.geometry import boolean
from frameforge.geometry.combine import Loops, evaluate
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.arc_line import thinned
from frameforge.mend.patch import Patch
from frameforge.mend.track import Stretch, to_stretches
from frameforge.mend.view import View
from frameforge.tolerances import MEND_FIT_MM, MEND_MARGIN_MM

__all__ = ["fuse"]

INTO_CARD_MM = 0.05
"""The filling reaches so far into the card on both sides, so that nothing is left between: five chord distances."""


def fuse(view: View, place: ThinPlace, least_mm: float) -> Patch | None:
    """Return the card that closes a space where it is narrower than ``least_mm``; straight across where that ends.

    A slit closed all round is filled whole. None for a space that runs round a part of its own: filling that would
    join two parts.
    """
    chords = view.chords
    if place.kind == "all":
        holes = [loop for loop in place.loops if not chords.is_outer[loop]]
        return Patch(fills=(chords.outlines[holes[0]],)) if len(place.loops) == 1 and holes else None
    radius = least_mm / 2 + MEND_MARGIN_MM
    stretches = to_stretches(chords, place, radius, view.searched_mm(place))
    adds = tuple(region for stretch in stretches for region in _filling(stretch))
    return Patch(adds=adds) if adds else None


def _filling(stretch: Stretch) -> tuple[Region, ...]:
    """Return what lies between the contacts of the discs of a stretch, a little into the card on both sides."""
    discs = [disc for disc in stretch.discs if disc.radius_mm > 0]
    here = thinned([_pushed(disc, disc.a) for disc in discs], MEND_FIT_MM) if discs else []
    there = thinned([_pushed(disc, disc.b) for disc in reversed(discs)], MEND_FIT_MM) if discs else []
    if len(here) + len(there) < 3:
        return ()
    outline = Outline.from_points([*here, *there])
    outline = outline if area_mm2(outline) > 0 else outline.reversed()
    region = Region(outline)
    if boolean.is_sound(np.array([to_polygon(region)], dtype=object)):
        return (region,)
    return evaluate(Loops((outline,))).regions


def _pushed(disc: TrackDisc, contact: complex) -> complex:
    """Return the contact of a disc moved on into the card."""
    spoke = contact - disc.centre
    return contact + INTO_CARD_MM * spoke / abs(spoke)
