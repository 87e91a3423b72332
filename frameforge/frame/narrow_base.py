"""Ovals that are narrower than the motif's foot: nothing can stand at their ends, so no row closes round them."""

from __future__ import annotations

import math

from frameforge.errors import GeometryError
from frameforge.frame.model import RowModel
from frameforge.frame.offers import foot_holds, scale_way
from frameforge.frame.place import Track
from frameforge.frame.spacing import edge_length_mm
from frameforge.frame.spec import Size
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, plural, round_words, size_words, up
from frameforge.units import format_floor

__all__ = ["check_ends"]

_STEP_MM = 0.1
_LEAST_LESS = 1e-6
_FACTORS = (1.0, 1.1, 1.3, 1.6, 2.0, 2.5)
"""By so much an oval is made wider than the foot, or the foot narrower than the oval, until the row goes round."""
_ROOM = 0.9
"""The part of its share of the edge that a motif takes: at the ends of an oval it needs more than its width."""


def check_ends(model: RowModel, size: Size, scale: float) -> None:
    """Refuse an oval at whose ends a foot finds no seat, with the oval and the scale that would do.

    The widest chord parallel to an edge is shortest at the ends of its long axis, so that is where to look. A ring
    could be sought for long in vain. Raises RefusedError.
    """
    track = model.track(size, scale)
    if track.edge.is_circle or _stands_at_ends(model, track, scale):
        return
    foot_mm = max(ready.foot_mm for ready in model.readies(model.unit, scale))
    edge = track.edge.size
    say = (
        f"{round_words(edge)} is too narrow for a foot of {format_floor(foot_mm)}: no "
        f"{plural(_widest(model, scale), 1)} can stand at its ends."
    )

    def ways() -> list[Way]:
        return [*_wider(model, size, scale, foot_mm), *_smaller(model, size, scale, foot_mm)]

    raise RefusedError(say, ways, _or_narrower, where=model.spec.name, code="no-seat", foot_mm=foot_mm)


def _or_narrower(words: list[str]) -> str:
    return sentence_of(words) or " Take a narrower foot."


def _widest(model: RowModel, scale: float) -> str:
    return max(model.readies(model.unit, scale), key=lambda ready: ready.foot_mm).motif.name


def _stands_at_ends(model: RowModel, track: Track, scale: float) -> bool:
    """Whether every motif of the row finds a seat at the end of the long axis."""
    edge = track.edge.size
    end = math.pi / 2 if edge.width_mm > edge.height_mm else 0.0
    try:
        for ready in model.readies(model.unit, scale):
            track.seat(ready, end)
    except GeometryError:
        return False
    return True


def _wider(model: RowModel, size: Size, scale: float, foot_mm: float) -> list[Way]:
    """Return the oval as long as this one, and wide enough, as an offer; none where its base does not decide."""
    for factor in _FACTORS:
        short = round(up(foot_mm * factor, _STEP_MM) + _STEP_MM, 1)
        wider = Size(size.width_mm, short) if size.height_mm < size.width_mm else Size(short, size.height_mm)
        if short < max(size.width_mm, size.height_mm) and _holds(model, wider, scale):
            return [Way(f"--size {size_words(wider)}", piece={"size": wider})]
    return []


def _smaller(model: RowModel, size: Size, scale: float, foot_mm: float) -> list[Way]:
    """Return a scale at which the foot is narrow enough, and a stated count has room, where the card bears it."""
    edge = model.track(size, scale).edge.size
    most = min(scale * min(edge.width_mm, edge.height_mm) / foot_mm, _scale_for_count(model, size, scale))
    for factor in _FACTORS:
        smaller = down(most / factor - _LEAST_LESS, 0.01)
        if smaller > 0 and foot_holds(model, smaller) and _holds(model, size, smaller):
            return [scale_way(model, smaller)]
    return []


def _scale_for_count(model: RowModel, size: Size, scale: float) -> float:
    """Return a scale at which a stated count has room, by the widths of its motifs alone; infinity without a count."""
    count = model.row.count
    if not isinstance(count, int):
        return math.inf
    gap = model.row.gap_mm if isinstance(model.row.gap_mm, int | float) else 0.0
    widths = [max(ready.box.width_mm, ready.foot_mm) for ready in model.readies(model.unit, scale)]
    room = edge_length_mm(model.track(size, scale).edge) / count - gap
    return scale * _ROOM * room / max(widths)


def _holds(model: RowModel, size: Size, scale: float) -> bool:
    """Whether a foot finds seats at the ends, and a stated count goes round with a stated gap, or without overlap."""
    try:
        if not _stands_at_ends(model, model.track(size, scale), scale):
            return False
    except GeometryError:
        return False
    if not isinstance(model.row.count, int):
        return True
    gap = model.row.gap_mm if isinstance(model.row.gap_mm, int | float) else 0.0
    return model.clearance_mm(size, model.row.count, scale) >= gap
