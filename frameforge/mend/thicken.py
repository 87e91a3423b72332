"""Thin webs, necks and fingers thickened: a disc as wide as the limit swept along the middle of the place."""

from __future__ import annotations

from frameforge.check.thickness import ThinPlace
from frameforge.geometry.region import Region
from frameforge.mend.arc_line import smooth_lines
from frameforge.mend.ends import settled
from frameforge.mend.patch import Patch
from frameforge.mend.sweep import swept
from frameforge.mend.track import to_stretches, to_track
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["sweeps_along", "thicken"]


def thicken(view: View, place: ThinPlace, least_mm: float) -> Patch:
    """Return the card that makes a thin place at least ``least_mm`` wide, alike to both sides of its middle.

    Where the place runs out into thick card, the added card ends in a disc that fits there, so that no notch is left;
    at the tip of a finger it goes no further than the tip.
    """
    return Patch(adds=sweeps_along(view, place, least_mm))


def sweeps_along(
    view: View, place: ThinPlace, least_mm: float, *, searched_mm: float | None = None
) -> tuple[Region, ...]:
    """Return what a disc just wider than ``least_mm`` covers along the middle of a place of card or of space.

    ``searched_mm`` is the limit the place was found with, where it is none of the view's own.
    """
    radius = least_mm / 2 + MEND_MARGIN_MM
    sweeps: list[Region] = []
    for stretch in to_stretches(view.chords, place, radius, searched_mm or view.searched_mm(place)):
        track = to_track(view.chords, stretch, radius)
        ends = settled(track, view.room, radius)
        for chain in smooth_lines(ends.points, is_closed=track.is_closed):
            sweeps += swept(chain, radius, is_closed=track.is_closed and chain[0].start == chain[-1].end)
        sweeps += ends.squares
    return tuple(sweeps)
