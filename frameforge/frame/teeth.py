"""Teeth: the card left between two cut-aways and below them, which must hold at its narrowest."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import numpy as np
import shapely

from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.offers import scale_way, things
from frameforge.frame.row_offers import ways_to_gap
from frameforge.frame.spec import Size
from frameforge.frame.tooth import cut_standing
from frameforge.frame.trying import SPENT
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down
from frameforge.geometry.region import Region
from frameforge.units import format_floor

__all__ = ["check_floors", "check_teeth", "floor_mm"]

_RING = 720
_STEPS = 89
"""Scales are offered down to so many hundredths less."""
_WIDER_MM = (0.0, 0.5, 1.0, 2.0, 4.0)


def check_teeth(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse a row whose cut-aways leave teeth narrower than the least neck, with what would do.

    Raises RefusedError.
    """
    least = model.preset.least_neck_mm
    narrow = [width for width in model.tooth_widths_mm(fit.size, layout) if width < least - 1e-9]
    if not narrow:
        return
    count = f"{len(narrow)} teeth" if len(narrow) > 1 else "1 tooth"
    width = format_floor(max(min(narrow), 0.0))
    say = f"{count} of {width} between the {things(model, 2)}, this card needs {least:g} mm."

    def holds(tried: RowModel, size: Size, made: Layout) -> bool:
        return min(tried.tooth_widths_mm(size, made), default=least) >= least - 1e-9

    def ways() -> list[Way]:
        # In an opening a tooth may be narrower than the gap, which is measured to where the cut-away is drawn.
        tries = (ways_to_gap(model, fit, least + more, holds) for more in _WIDER_MM)
        return next((found for found in tries if found), [])

    raise RefusedError(
        say, ways, lambda words: sentence_of(words) or " Take a larger size, or a smaller motif.",
        where=model.spec.name, code="thin-tooth", tooth_mm=min(narrow), limit_mm=least,
    )  # fmt: skip


def check_floors(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse cut-aways that leave less card than the least neck towards the other edge, with what would do.

    Raises RefusedError.
    """
    least = model.preset.least_neck_mm
    base, opening = edges_of(model.spec, fit.size)
    other = base if layout.track.side < 0 else opening
    if other is None:
        return
    left = floor_mm(layout, other)
    if left >= least - 1e-9:
        return
    say = f"the cut-aways of the {things(model, 2)} leave {format_floor(left)} of card, this card needs {least:g} mm."
    raise RefusedError(
        say, partial(_floor_ways, model, fit, layout, other), _or_shallower,
        where=model.spec.name, code="no-rim", rim_mm=left, limit_mm=least,
    )  # fmt: skip


def _or_shallower(words: list[str]) -> str:
    return sentence_of(words) or " Take a motif that cuts in less."


def _floor_ways(model: RowModel, fit: Fit, layout: Layout, other: Edge) -> list[Way]:
    """Return the largest opening, or the least rim, and the largest scale that leave card below the cut-aways."""
    from frameforge.frame.between_limits import opening_offers  # here, since only a refusal offers openings

    least = model.preset.least_neck_mm - 1e-9
    is_inner = layout.track.side < 0
    ways = [] if is_inner else opening_offers(model.spec, fit.size, lambda e: floor_mm(layout, e) >= least)
    scale = _largest_scale(fit.scale, lambda s: floor_mm(model.layout(fit.size, fit.count, s), other) >= least)
    return [*ways, scale_way(model, scale)] if scale else ways


def _largest_scale(below: float, holds: Callable[[float], bool]) -> float:
    """Return the largest scale in steps of .01 under one that does not hold, 0 where none does; less holds sooner.

    Motifs are made anew for every scale that is tried: halving asks for few.
    """

    def tried(step: int) -> bool:
        try:
            return holds(scale_of(step))
        except GeometryError as fault:
            if fault.code == SPENT:
                raise
            return False

    def scale_of(step: int) -> float:
        return round(down(below, 0.01) - 0.01 * step, 2)

    low, high = 0, min(_STEPS, round(down(below, 0.01) * 100) - 1)
    if high < 1 or not tried(high):
        return 0.0
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if tried(middle) else (middle, high)
    return scale_of(high)


def floor_mm(layout: Layout, other: Edge) -> float:
    """Return the least card between the cut-aways of a row and the other edge of the card, mm, 0 where they meet.

    Cut-aways of one kind on a circle all leave the same; elsewhere the one that is nearest on chords is measured.
    """
    kept = [k for k, there in enumerate(layout.is_there) if there and layout.readies[k].motif.cut_away]
    if not kept:
        return math.inf
    ring = np.array([other.point(math.tau * k / _RING) for k in range(_RING)])
    disc = shapely.Polygon(np.column_stack([ring.real, ring.imag]))
    away = []
    for k in kept:
        placed = cut_standing(layout, k)
        points = placed.points
        inside = shapely.contains_xy(disc, points.real, points.imag)
        if inside.any() if layout.track.side > 0 else not inside.all():
            return 0.0
        away.append(float(shapely.distance(shapely.points(points.real, points.imag), disc.exterior).min()))
    from frameforge.geometry.nearest import distance  # here, since few motifs cut away

    near = kept[away.index(min(away))]
    cut = _cut_away(layout, near)
    return distance([region.outer for region in cut], [other.region().outer]).gap_mm


def _cut_away(layout: Layout, k: int) -> tuple[Region, ...]:
    """Return the cut-aways of a repeat in the piece's place."""
    drawn = layout.readies[k].motif.cut_away
    if layout.track.is_bent:
        from frameforge.frame.bent_row import bent_regions  # here, since most rows stand as drawn

        return bent_regions(layout, k, drawn)
    place = layout.track.placement(layout.readies[k], layout.seats[k])
    return tuple(region.transformed(place) for region in drawn)
