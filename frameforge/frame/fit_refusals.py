"""What is said of four numbers that do not hold together, each with the ways out of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

from frameforge.errors import GeometryError
from frameforge.frame.model import RowModel
from frameforge.frame.offers import edge_said, gap_kind, scale_way, size_way, things, ways_out
from frameforge.frame.solve import count_for
from frameforge.frame.spec import LARGEST_MM, Size
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, size_words, up
from frameforge.tolerances import GAP_SLACK_MM
from frameforge.units import format_floor, format_mm

__all__ = [
    "Statement",
    "cannot_all_hold",
    "check_count",
    "check_found_scale",
    "check_scale",
    "no_scale",
    "no_size",
    "too_many",
]

_FAR_MM: Final = 4 * LARGEST_MM
"""Motifs larger than this need not be placed to know that the piece is too large."""

_HANDY_MM: Final = 20.0
"""A motif this large goes round most pieces: what is offered in place of one that is larger than any."""


@dataclass(frozen=True, slots=True)
class Statement:
    """A size, a count and a scale stated together."""

    size: Size
    count: int
    scale: float


def no_size(model: RowModel, size: Size | None, count: int, wanted: float) -> GeometryError:
    """Return the refusal of a count and a gap that no size holds (mm); ``size`` is one that is too large to be made."""
    up_to = "" if size is None else f" up to the {LARGEST_MM:g} mm that can be made"
    say = f"no size{up_to} lets {count} {things(model, count)} close with a {gap_kind(model)} of {wanted:g} mm."
    return RefusedError(say, [], _or_fewer, where=model.spec.name, count=count, wanted_mm=wanted)


def no_scale(model: RowModel, size: Size, count: int, wanted: float) -> GeometryError:
    """Return the refusal of a size, a count and a gap (mm) that no scale holds."""
    feet = "them" if gap_kind(model) == "gap" else "their feet"
    around = f"go round {edge_said(model, size)} with {wanted:g} mm between {feet}"
    say = f"no scale lets {count} {things(model, count)} {around}."
    numbers = {"count": count, "wanted_mm": wanted}
    return RefusedError(
        say, _less_gap(model, size, count), _or_fewer, where=model.spec.name, code="no-scale", **numbers
    )


def cannot_all_hold(model: RowModel, fit: Statement, wanted: float, real: float) -> GeometryError:
    """Return the refusal of four numbers that do not agree: the gap is ``real``, not ``wanted`` (mm)."""
    if real < wanted and count_for(model, fit.size, fit.scale, wanted) >= fit.count - model.step > 0:
        return too_many(model, fit, wanted, real)
    if real < -GAP_SLACK_MM:
        return too_many(model, fit, wanted, real)
    at = "full scale" if fit.scale == 1 else f"scale {fit.scale:.4g}"
    head = (
        f"size {size_words(fit.size).removesuffix('mm')} mm, {fit.count} {things(model, fit.count)} at {at} and a "
        f"{gap_kind(model)} of {wanted:g} mm cannot all hold; the gap comes to {format_floor(real)}. Leave out one of "
        "them"
    )
    numbers = {"gap_mm": real, "wanted_mm": wanted}

    def ways() -> list[Way]:
        sized = size_way(model, fit.size, fit.count, fit.scale, wanted)
        return [sized] if sized else []

    return RefusedError(head, ways, _or_take, where=model.spec.name, code="cannot-all-hold", **numbers)


def too_many(model: RowModel, fit: Statement, wanted: float, real: float) -> GeometryError:
    """Return the refusal of more repeats than go round: the gap is ``real``, not ``wanted`` (mm)."""
    most = count_for(model, fit.size, fit.scale, wanted)
    subject = f"{fit.count} {things(model, fit.count)} do" if fit.count > 1 else f"1 {things(model, 1)} does"
    say = f"{subject} not go round {edge_said(model, fit.size)} with {gap_kind(model)}s of {wanted:g} mm"
    if most > fit.count:
        # Others than neighbours come near: over a small motif, or across an opening.
        say += ", since some that are no neighbours come nearer"
    say += f"; {most} do." if most > 1 else "; 1 does." if most else "."
    ways = partial(ways_out, model, fit.size, fit.count, fit.scale, wanted)
    numbers = {"count": fit.count, "wanted_mm": wanted, "fits": most}
    if math.isfinite(real):
        numbers["gap_mm"] = real
    return RefusedError(say, ways, _or_make_room, where=model.spec.name, code="too-many", **numbers)


def _or_make_room(words: list[str]) -> str:
    return sentence_of(words) or " Take a larger size, or a smaller motif."


def _or_take(words: list[str]) -> str:
    return f", or take {words[0]}." if words else "."


def _less_gap(model: RowModel, size: Size, count: int) -> list[Way]:
    """Return the gap that is left between motifs of which the card can just bear the feet."""
    feet = [ready.foot_mm for ready in model.readies(model.unit, 1.0) if ready.foot_mm]
    least = model.preset.least_neck_mm / min(feet) if feet else 0.1
    gap = model.clearance_mm(size, count, least)
    if not 0 < gap < math.inf or (gap := down(gap, 0.1)) == 0:
        return []
    key = "foot_gap_mm" if model.row.foot_gap_mm is not None else "gap_mm"
    words = f"--{key.removesuffix('_mm').replace('_', '-')} {gap:.4g}mm or less"
    return [Way(words, row={key: round(gap, 1)}, index=_index(model))]


def _or_fewer(words: list[str]) -> str:
    return sentence_of(words) or " Take fewer, or a smaller gap."


def _index(model: RowModel) -> int:
    """Return the place of the row in its piece, from 0."""
    return model.spec.rows.index(model.row) if model.row in model.spec.rows else 0


def check_scale(model: RowModel, scale: float) -> None:
    """Refuse a scale that brings a foot under the card's least neck, where the motif as drawn is wide enough, or that
    makes a motif larger than any piece.

    Windows stand on no foot. Raises RefusedError.
    """
    _check_not_huge(model, scale)
    if model.row.place == "window":
        return
    least = model.preset.least_neck_mm
    feet = zip(model.readies(model.unit, 1.0), model.readies(model.unit, scale), strict=True)
    narrow = [(drawn.foot_mm, scaled.foot_mm) for drawn, scaled in feet if scaled.foot_mm < least <= drawn.foot_mm]
    if narrow:
        drawn_mm, foot_mm = min(narrow)
        head = f"at scale {scale:.3g} a foot is {format_floor(foot_mm)} wide, this card needs {least:g} mm."
        ways = [_enough(model, least / drawn_mm)]
        numbers = {"foot_mm": foot_mm, "limit_mm": least}
        raise RefusedError(head, ways, _or_more, where=model.spec.name, code="thin-neck", **numbers)


def _check_not_huge(model: RowModel, scale: float) -> None:
    boxes = [ready.box for ready in model.readies(model.unit, scale)]
    # From the foot on: a small motif that hangs far from its foot makes as large a piece.
    across = max(max(box.right, 0) - min(box.left, 0) for box in boxes)
    across = max(across, *(max(box.top, 0) - min(box.bottom, 0) for box in boxes))
    if across <= _FAR_MM:
        return
    head = f"the {things(model, 1)} would be {format_mm(across)} across; a whole piece can be {LARGEST_MM:g} mm."
    ways = [_enough(model, scale * _HANDY_MM / across)]
    numbers = {"across_mm": across, "limit_mm": LARGEST_MM}
    raise RefusedError(head, ways, _or_smaller, where=model.spec.name, code="too-large", **numbers)


def _or_smaller(words: list[str]) -> str:
    return f" Take {words[0]}." if words else " Take a smaller scale or foot, or draw the foot wider."


def check_found_scale(model: RowModel, size: Size, count: int, scale: float) -> None:
    """Refuse a found scale that brings a foot under the card's least neck, with the gap that leaves it wide enough.

    Raises RefusedError.
    """
    try:
        check_scale(model, scale)
    except RefusedError as fault:
        ways = partial(_less_gap, model, size, count)
        numbers = fault.numbers
        raise RefusedError(fault.head, ways, _or_fewer, where=fault.where, code=fault.code, **numbers) from None


def _enough(model: RowModel, scale: float) -> Way:
    """Return the least scale, or the foot where that was typed, at which the card bears every foot."""
    way = scale_way(model, up(scale, 0.01))
    if "foot_mm" not in way.row:
        return way
    first = model.row.pattern[0]
    foot = up(first.motif.foot_mm * first.scale * scale, 0.01)
    return Way(f"--foot {foot:g}mm", row={"foot_mm": foot}, index=way.index)


def _or_more(words: list[str]) -> str:
    return f" Take {words[0]} or more." if words else " Take a larger motif, and fewer of them."


def check_count(model: RowModel, count: int, at: tuple[Size, float] | None) -> None:
    """Refuse counts that do not close the pattern, with both neighbours; measured ``at`` size and scale if not None.

    Raises RefusedError.
    """
    unit = model.step
    if count % unit == 0:
        return
    ways = []
    for n in (count // unit * unit, (count // unit + 1) * unit):
        gap = model.clearance_mm(at[0], n, at[1]) if n and at else math.inf
        words = f"{n} ({gap_kind(model)} {format_floor(gap)})" if math.isfinite(gap) else f"{n}"
        if n and gap >= 0:
            ways.append(Way(words, row={"count": n}, index=_index(model)))
    if len(model.row.pattern) == 1:
        why = f"every-other mirroring needs an even count; with {count}, two neighbours lean the same way."
    else:
        why = f"{count} repeats do not close a pattern of {unit}; the last one would stand beside the wrong one."
    raise RefusedError(why, ways, _or_multiple(unit), where=model.spec.name, code="pattern-open", count=count)


def _or_multiple(unit: int) -> Callable[[list[str]], str]:
    return lambda words: f" Take {' or '.join(words)}." if words else f" Take a count that is a multiple of {unit}."
