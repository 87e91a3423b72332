"""Letters that hold together: islands of cut letters by ties, dots and accents of joined letters by bars below them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import shapely
import shapely.affinity

from frameforge.errors import GeometryError
from frameforge.frame.ties import tied
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif
from frameforge.tolerances import CHORD_MM

__all__ = ["held_from_below", "held_islands", "parted"]

_NAME: Final = "letter"
_NEAR_ENOUGH_MM: Final = 1e-6


def parted(regions: tuple[Region, ...], web_mm: float) -> tuple[Region, ...]:
    """Return the parts of a letter with its dots and accents moved up, or down from below it, to where card as wide as
    a web lies between them; parts beside each other stay."""
    if len(regions) < 2:
        return regions
    body = max(regions, key=lambda part: abs(area_mm2([part])))
    box = bounds(body)
    above = sorted((r for r in regions if bounds(r).bottom >= box.top), key=lambda part: bounds(part).bottom)
    below = sorted((r for r in regions if bounds(r).top <= box.bottom), key=lambda part: -bounds(part).top)
    beside = [r for r in regions if r is not body and r not in above and r not in below]
    up, down = _stacked(body, above, web_mm, 1j), _stacked(body, below, web_mm, -1j)
    return (body, *beside, *up, *down)


def _stacked(body: Region, parts: Iterable[Region], web_mm: float, way: complex) -> Iterator[Region]:
    """Yield parts moved a way as far as leaves a web to the body and to every part before; parts beside each other,
    such as two dots, move together."""
    there = [to_polygon(body)]
    for group in _levels(parts):
        shapes, moved = [to_polygon(part) for part in group], 0.0
        while True:
            at = [shapely.affinity.translate(shape, 0.0, (moved * way).imag) for shape in shapes]
            # Chords lie within their curves: two edges are nearer than they say, by as much as a chord is off for each.
            short = web_mm + 2 * CHORD_MM - min(one.distance(other) for one in at for other in there)
            if short <= _NEAR_ENOUGH_MM:
                break
            moved += short
        there += at
        yield from (part.transformed(Affine.from_move(moved * way)) if moved else part for part in group)


def _levels(parts: Iterable[Region]) -> list[list[Region]]:
    """Return parts in groups whose heights overlap, in the order given."""
    levels: list[list[Region]] = []
    for part in parts:
        box = bounds(part)
        last = [bounds(other) for other in levels[-1]] if levels else []
        if any(box.bottom < other.top and other.bottom < box.top for other in last):
            levels[-1].append(part)
        else:
            levels.append([part])
    return levels


def held_islands(regions: tuple[Region, ...], width_mm: float) -> tuple[tuple[Region, ...], int]:
    """Return what is cut of a letter so that every island in it is held by ties of a width, and how many ties.

    Raises GeometryError for a letter too small for ties.
    """
    if not any(region.holes for region in regions):
        return regions, 0
    letter = Motif(_NAME, regions, 0.0)
    found = tied(letter, width_mm, is_upright=True) or tied(letter, width_mm)
    if found is None:
        say = f"letters are too small for ties {width_mm:g} mm wide. Make them larger, or have them marked."
        raise GeometryError(say, code="tie")
    return found.cut, found.ties


def held_from_below(regions: tuple[Region, ...], sink_mm: float, width_mm: float) -> tuple[Region, ...]:
    """Return a letter in one part that reaches the line ``sink_mm`` above its baseline, where card begins.

    What would stand loose (dots, accents, hyphens) gets a bar ``width_mm`` wide straight down to the baseline.
    """
    loose = [part for part in regions if bounds(part).bottom >= sink_mm]
    if not loose:
        return regions
    return evaluate(union(*regions, *_bars(loose, width_mm))).regions


def _bars(loose: Iterable[Region], width_mm: float) -> Iterable[Region]:
    """Yield a bar from the middle of each part down to the baseline."""
    for part in loose:
        shape = to_polygon(part)
        middle = shape.centroid
        if not shape.contains(middle):
            middle = shapely.Point(shapely.maximum_inscribed_circle(shape).coords[0])
        yield Region(rectangle(middle.x - width_mm / 2, 0.0, middle.x + width_mm / 2, middle.y))
