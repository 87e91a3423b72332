"""Slivers cut off straight: a bit of card that hardly sticks out, or of space that hardly reaches in."""

from __future__ import annotations

from typing import Literal

from frameforge.check.thickness import ThinPlace
from frameforge.check.width import spot_on
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.mend.patch import Patch
from frameforge.mend.track import along_mm
from frameforge.mend.view import View
from frameforge.mend.wall import is_ahead, part_between
from frameforge.tolerances import JOINT_MM

__all__ = ["snip"]

LARGEST = 0.15
"""Share of the square of the limit up to which a bit is a sliver that nobody drew: .34 mm2 at 1.5 mm."""


def snip(view: View, place: ThinPlace, least_mm: float, side: Literal["card", "slot"]) -> Patch | None:
    """Return what takes a sliver of card off, or fills one of space; None where it is too large to be one.

    ``place`` dangles: it is bounded by one stretch of an edge. The cut goes straight between the contacts of its
    largest disc.
    """
    mouth = max(place.track, key=lambda disc: disc.radius_mm)
    loop = int(view.chords.loop[mouth.chord_a])
    if loop != int(view.chords.loop[mouth.chord_b]):
        return None
    one = spot_on(view.chords, mouth.chord_a, mouth.a)
    two = spot_on(view.chords, mouth.chord_b, mouth.b)
    at_one, at_two = along_mm(view.chords, mouth.chord_a, mouth.a), along_mm(view.chords, mouth.chord_b, mouth.b)
    first, last = (one, two) if is_ahead(view.chords, loop, at_one, at_two) else (two, one)
    wall = part_between(first.outline, first, last)
    if not wall or wall[0].start == wall[-1].end:
        return None
    outline = Outline.from_chain([*wall, Line(wall[-1].end, wall[0].start)], joint_mm=JOINT_MM)
    area = area_mm2(outline)
    if abs(area) > LARGEST * least_mm * least_mm or (area > 0) != (side == "card"):
        return None
    return Patch(cuts=(Region(outline),)) if side == "card" else Patch(adds=(Region(outline.reversed()),))
