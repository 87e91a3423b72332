"""Ovals that are narrower than the motif's foot: nothing can stand at their ends, so no row closes round them."""

from __future__ import annotations

import math

from frameforge.errors import GeometryError
from frameforge.frame.model import RowModel
from frameforge.frame.offers import foot_holds, scale_way
from frameforge.frame.place import Track
from frameforge.frame.spec import Size
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, gap_words, plural, round_words, size_words, up

__all__ = ["check_ends"]

_TRIES = 40
_STEP_MM = 0.1


def check_ends(model: RowModel, size: Size, scale: float) -> None:
    """Refuse an oval at whose ends a foot finds no seat, with the oval and the scale that would do.

    The widest chord parallel to an edge is shortest at the ends of its long axis, so that is where to look. A ring
    could be sought for long in vain.
    """
    track = model.track(size, scale)
    if track.edge.is_circle or _stands_at_ends(model, track, scale):
        return
    foot_mm = max(ready.foot_mm for ready in model.readies(model.unit, scale))
    edge = track.edge.size
    say = (
        f"{round_words(edge)} is too narrow for a foot of {gap_words(foot_mm)}: no {plural(_widest(model, scale), 1)} "
        "can stand at its ends."
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
    """Return the oval as long as this one, and just wide enough, as an offer; none where its base does not decide."""
    for k in range(_TRIES):
        short = round(up(foot_mm, _STEP_MM) + _STEP_MM * (k + 1), 1)
        wider = Size(size.width_mm, short) if size.height_mm < size.width_mm else Size(short, size.height_mm)
        if not wider.is_circle and _holds(model, wider, scale):
            return [Way(f"--size {size_words(wider)}", piece={"size": wider})]
    return []


def _smaller(model: RowModel, size: Size, scale: float, foot_mm: float) -> list[Way]:
    """Return a scale at which the foot is just narrow enough, as an offer, where the card can bear it."""
    edge = model.track(size, scale).edge.size
    most = scale * min(edge.width_mm, edge.height_mm) / foot_mm
    for k in range(_TRIES):
        smaller = round(down(most, 0.01) - 0.01 * k, 2)
        if smaller > 0 and _holds(model, size, smaller):
            return [scale_way(model, smaller)] if foot_holds(model, smaller) else []
    return []


def _holds(model: RowModel, size: Size, scale: float) -> bool:
    try:
        return _stands_at_ends(model, model.track(size, scale), scale)
    except GeometryError:
        return False
