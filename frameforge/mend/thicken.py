"""Thin webs, necks and fingers thickened: a disc as wide as the limit swept along the middle of the place."""

from __future__ import annotations

from itertools import pairwise

from frameforge.check.thickness import ThinPlace
from frameforge.geometry.line import Line
from frameforge.geometry.region import Region
from frameforge.mend.arc_line import smooth_lines
from frameforge.mend.ends import settled
from frameforge.mend.patch import Patch
from frameforge.mend.sweep import Path, swept
from frameforge.mend.track import MIN_LINE_MM, Stretch, to_stretches, to_track
from frameforge.mend.view import View
from frameforge.tolerances import MEND_MARGIN_MM

__all__ = ["sweeps_along", "thicken"]


SHORT_BIT = 0.75
"""Bits between longer lines that are shorter than this many radii are covered by what is swept along these."""


def thicken(view: View, place: ThinPlace, least_mm: float, *, has_bits: bool = False) -> Patch:
    """Return the card that makes a thin place at least ``least_mm`` wide, alike to both sides of its middle.

    Where the place runs out into thick card, the added card ends in a disc that fits there, so that no notch is left;
    at the tip of a finger it goes no further than the tip. ``has_bits``: also short bits of the middle between longer
    ones are followed, which seldom matters.
    """
    return Patch(adds=sweeps_along(view, place, least_mm, has_bits=has_bits))


def sweeps_along(
    view: View, place: ThinPlace, least_mm: float, *, searched_mm: float | None = None, has_bits: bool = True
) -> tuple[Region, ...]:
    """Return what a disc just wider than ``least_mm`` covers along the middle of a place of card or of space.

    ``searched_mm`` is the limit the place was found with, where it is none of the view's own.
    """
    radius = least_mm / 2 + MEND_MARGIN_MM
    paths: list[Path] = []
    squares: list[Region] = []
    for stretch in to_stretches(view.chords, place, radius, searched_mm or view.searched_mm(place)):
        if paths and not has_bits and _is_bit(stretch, SHORT_BIT * radius):
            continue
        track = to_track(view.chords, stretch, radius)
        ends = settled(track, view.room, radius)
        segments = tuple(s for chain in smooth_lines(ends.points, is_closed=track.is_closed) for s in chain)
        segments = segments or (Line(ends.points[0], ends.points[0] + MIN_LINE_MM),)
        paths.append(Path(segments, track.is_closed and segments[0].start == segments[-1].end))
        squares += ends.squares
    return swept(paths, radius, squares)


def _is_bit(stretch: Stretch, short_mm: float) -> bool:
    """Return whether a stretch is short and ends in others, or in room enough."""
    length = sum(abs(b.centre - a.centre) for a, b in pairwise(stretch.discs))
    return stretch.starts_large and stretch.ends_large and length < short_mm
