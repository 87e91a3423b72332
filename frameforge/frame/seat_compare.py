"""A row as drawn and the same row bent, side by side: how many go round, gaps, and what becomes of each motif."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.bent_row import bent_regions
from frameforge.frame.fit import Fit, wanted_gap_mm
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.solve import count_for
from frameforge.frame.spec import SEATS, Seat
from frameforge.frame.standing import standing_at
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.tolerances import FLAT_FOOT_MM

__all__ = ["SeatMeasures", "both_seats"]

_PER_CHORD = 9


@dataclass(frozen=True, slots=True)
class SeatMeasures:
    """What a row comes to with one seat, by its count; of its motifs the first one is measured, where it stands.

    ``most`` is how many go round with the gap asked for, None where that was not asked. ``foot_gap_mm`` is a straight
    distance as drawn and a length along the edge when bent. ``top_mm`` is the length of the motif's level top, 0 for
    one with a tip; ``across_mm`` its width, ``height_mm`` how far it stands off the edge, ``area_mm2`` the card
    joined on by it. ``refusal`` says why the row cannot be made so; there are no measures then.
    """

    seat: Seat
    count: int
    most: int | None = None
    gap_mm: float | None = None
    foot_gap_mm: float | None = None
    top_mm: float | None = None
    across_mm: float | None = None
    height_mm: float | None = None
    area_mm2: float | None = None
    refusal: str | None = None


def both_seats(model: RowModel, fit: Fit, *, counts_too: bool) -> tuple[SeatMeasures, ...]:
    """Return the row as drawn, then bent, each with the count and the scale of ``fit``.

    ``counts_too``: also how many would go round.
    """
    return tuple(_measures(_seated(model, seat), seat, fit, counts_too=counts_too) for seat in SEATS)


def _seated(model: RowModel, seat: Seat) -> RowModel:
    row = replace(model.row, seat=seat)
    return RowModel(replace(model.spec, rows=(row,)), row, model.preset)


def _measures(model: RowModel, seat: Seat, fit: Fit, *, counts_too: bool) -> SeatMeasures:
    most = count_for(model, fit.size, fit.scale, wanted_gap_mm(model)) if counts_too else None
    try:
        layout = model.layout(fit.size, fit.count, fit.scale)
    except GeometryError as fault:
        return SeatMeasures(seat, fit.count, most, refusal=fault.say)
    made = _made(layout)
    return SeatMeasures(
        seat=seat,
        count=fit.count,
        most=most,
        gap_mm=layout.gap_mm,
        foot_gap_mm=layout.foot_gap_mm,
        top_mm=_top_mm(layout),
        across_mm=bounds(made).width_mm,
        height_mm=_height_mm(layout),
        area_mm2=area_mm2(made),
    )


def _drawn(layout: Layout) -> tuple[Region, ...]:
    """Return the card of the first motif, or its cut-aways or windows where it has none, as drawn."""
    return layout.readies[0].motif.drawn


def _made(layout: Layout) -> tuple[Region, ...]:
    """Return the same as it stands, its axis turned upright again."""
    place = layout.track.placement(layout.readies[0], layout.seats[0])
    if not layout.track.is_bent:
        return _drawn(layout)
    back = place.inverse()
    return tuple(region.transformed(back) for region in bent_regions(layout, 0, _drawn(layout)))


def _top_mm(layout: Layout) -> float:
    """Return the length of the lines that lie level at the motif's top, where they stand."""
    drawn = _drawn(layout)
    top = bounds(drawn).top
    lines = [
        segment
        for region in drawn
        for segment in region.outer.segments
        if isinstance(segment, Line) and min(segment.start.imag, segment.end.imag) >= top - FLAT_FOOT_MM
    ]
    bend = standing_at(layout.track, layout.readies[0], layout.seats[0]).bend
    return sum(
        (abs(line.end - line.start) if bend is None else bend.level_mm(line.start, line.end) for line in lines), 0.0
    )


def _height_mm(layout: Layout) -> float:
    """Return how far the first motif stands off its edge: the distance of what is furthest from it."""
    track, ready, seat = layout.track, layout.readies[0], layout.seats[0]
    if track.is_bent:
        return ready.box.top - track.drop_mm(ready)
    standing = standing_at(track, ready, seat)
    chords = np.repeat(np.arange(len(standing.profile.points)), _PER_CHORD)
    parts = np.tile(np.linspace(0, 1, _PER_CHORD), len(standing.profile.points))
    points = standing.carried(standing.profile.curve(*standing.profile.along(chords, parts))[0]).tolist()
    return max(track.side * track.edge.height_mm(point, seat.tau) for point in points)
