"""Sharp tips that run out of a thin web or neck: one place by what faces what, two by what is wrong with it."""

from __future__ import annotations

import numpy as np

from frameforge.check.chords import Chords
from frameforge.check.discs import BoolArray, DiscSamples
from frameforge.check.places import Place

__all__ = ["prong_apart"]


def prong_apart(chords: Chords, discs: DiscSamples, place: Place, sharp_mm: float) -> tuple[Place, ...]:
    """Return a web or neck and the tip that runs out of it as two places, or the place alone where none does.

    A disc lies in a tip when the edge between its two contacts is loose all the way; a tip has discs of less radius
    than ``sharp_mm`` (mm).
    """
    if place.form not in ("web", "neck") or float(discs.radius[place.samples[0]]) >= sharp_mm:
        return (place,)
    within = _is_within_tip(chords, discs, place)
    if not within.any() or within.all() or float(discs.radius[place.samples[within][0]]) >= sharp_mm:
        return (place,)
    return Place(place.form, place.samples[~within]), Place("dangling", place.samples[within])


def _is_within_tip(chords: Chords, discs: DiscSamples, place: Place) -> BoolArray:
    """Return for each disc of a place whether the edge from contact to contact, either way, is loose throughout."""
    loop = chords.loop[discs.chord]
    stands = np.concatenate([[0], np.cumsum(~discs.is_loose)])
    within = np.zeros(len(place.samples), dtype=np.bool_)
    partner = discs.partner[place.samples]
    reached = chords.along[partner] + np.abs(discs.contact[place.samples] - chords.start[partner])
    for number in np.unique(loop[place.samples]).tolist():
        mine = np.flatnonzero((loop[place.samples] == number) & (chords.loop[partner] == number))
        first, last = np.searchsorted(loop, [number, number + 1])
        here = place.samples[mine]
        there = first + np.searchsorted(discs.along[first:last], reached[mine])
        low, high = np.minimum(here, there), np.maximum(here, there)
        between = stands[high] - stands[low]
        around = stands[last] - stands[first] - between
        within[mine] = (between == 0) | (around == 0)
    return within
