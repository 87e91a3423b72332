"""A thin web next to the outside edge, thickened on its inner side only, so that the outside keeps its shape."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from frameforge.check.chords import Chords
from frameforge.check.thickness import ThinPlace, TrackDisc
from frameforge.check.width import spot_on
from frameforge.geometry.along import Along
from frameforge.geometry.arc import Arc
from frameforge.geometry.biarc import to_arcs
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Segment
from frameforge.mend.patch import Patch
from frameforge.mend.sweep import Path, swept
from frameforge.mend.thicken import sweeps_along
from frameforge.mend.track import linked_mm
from frameforge.mend.view import View
from frameforge.mend.wall import along_at
from frameforge.tolerances import FIT_MM, MEND_MARGIN_MM

__all__ = ["thicken_inwards"]


def thicken_inwards(view: View, place: ThinPlace, least_mm: float) -> Patch | None:
    """Return the card that makes a web ``least_mm`` wide on the side of its holes; None where no edge is outside.

    The web's new edge is the parallel of the outside edge, within ``FIT_MM``.
    """
    chords = view.chords
    outer = [loop for loop in place.loops if chords.is_outer[loop]]
    holes = [loop for loop in place.loops if not chords.is_outer[loop]]
    if len(outer) != 1 or not holes or any(chords.part[loop] != chords.part[outer[0]] for loop in holes):
        return None
    width = least_mm + MEND_MARGIN_MM
    paths = [Path(wall, wall[0].start == wall[-1].end) for wall in _stretches(view, place, outer[0], width)]
    sweeps = swept(paths, width)
    if not sweeps:
        return None
    # Where the place is a web between other edges, or a neck, it is thickened alike to both sides.
    rest = replace(place, track=tuple(disc for disc in place.track if not _is_beside(chords, disc, outer[0])))
    adds = sweeps_along(view, rest, least_mm, searched_mm=view.searched_mm(place)) if rest.track else ()
    return Patch(adds=adds, linings=sweeps, lined=tuple(chords.outlines[loop] for loop in holes))


def _is_beside(chords: Chords, disc: TrackDisc, outer: int) -> bool:
    """Return whether just one of the contacts of a disc lies on the outside edge."""
    return bool((chords.loop[disc.chord_a] == outer) != (chords.loop[disc.chord_b] == outer))


def _stretches(view: View, place: ThinPlace, outer: int, width_mm: float) -> list[tuple[Line | Arc, ...]]:
    """Return the stretches of the outside edge from which the width is missing."""
    outline = view.chords.outlines[outer]
    along = Along.from_outline(outline)
    linked = linked_mm(view.searched_mm(place))
    places = sorted(_touched_mm(view.chords, place, outer, along, width_mm))
    if not places:
        return []
    breaks = [k for k, (a, b) in enumerate(pairwise([*places, places[0] + along.length_mm])) if b - a > linked]
    if not breaks:
        return [_arcs(outline.segments)]
    ends = zip([breaks[-1] - len(places), *breaks[:-1]], breaks, strict=True)
    found = []
    for before, last in ends:
        first = places[(before + 1) % len(places)]
        long = (places[last] - first) % along.length_mm
        found.append(_arcs(along.part(first - linked, first + long + linked)))
    return found


def _arcs(wall: tuple[Segment, ...]) -> tuple[Line | Arc, ...]:
    """Return a wall as lines and arcs within ``FIT_MM``."""
    return tuple(arc for segment in wall for arc in to_arcs(segment, FIT_MM))


def _touched_mm(chords: Chords, place: ThinPlace, outer: int, along: Along, width_mm: float) -> list[float]:
    """Return where along the outside edge the discs that are too small touch it."""
    found = []
    for disc in place.track:
        if 2 * disc.radius_mm >= width_mm or not _is_beside(chords, disc, outer):
            continue
        for chord, point in ((disc.chord_a, disc.a), (disc.chord_b, disc.b)):
            if chords.loop[chord] == outer:
                found.append(along_at(along, spot_on(chords, chord, point)) % along.length_mm)
    return found
