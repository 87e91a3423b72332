"""double-line, after mending: a cut that two pieces shared and that is gone, so that they are one piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely

from frameforge.check.cut_lines import Line, to_cut_lines
from frameforge.check.double_line import find_double_lines
from frameforge.finding import Finding
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.region import Region
from frameforge.tolerances import CHORD_MM, DOUBLE_LINE_MM
from frameforge.units import format_floor

__all__ = ["find_lost_lines"]

SAY = "of cut that two pieces shared are left out: they are one piece now. To keep two, move them apart in your file."


def find_lost_lines(lines: Sequence[Line], regions: Sequence[Region]) -> tuple[Finding, ...]:
    """Return a warning for each stretch that two closed lines shared, and that lies within the card of ``regions``.

    The measure is its length in mm. Where it lies on the edge of the card, as that of a hole and what was cut from it,
    it is cut still; where it lies in waste nothing falls apart without it.
    """
    closed = [line for line in lines if line[0].start == line[-1].end]
    shared = find_double_lines(to_cut_lines(closed)) if len(closed) > 1 else ()
    parts = [to_polygon(region) for region in regions] if shared else []
    return tuple(
        replace(finding, say=f"{format_floor(finding.measured or 0.0)} {SAY}")
        for finding in shared
        if finding.place is not None and any(_is_within(part, finding.place) for part in parts)
    )


def _is_within(part: shapely.Polygon, place: complex) -> bool:
    """Return whether a place lies in card and not on its edge."""
    point = shapely.Point(place.real, place.imag)
    return bool(part.contains(point)) and float(part.boundary.distance(point)) > DOUBLE_LINE_MM + 2 * CHORD_MM
