"""The fit of a row: which of size, count, gap and scale is open, and what it comes to."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from frameforge.errors import GeometryError, InputError
from frameforge.frame.chain import LEAST_COUNT, longest_chain
from frameforge.frame.model import RowModel
from frameforge.frame.narrow_base import check_ends
from frameforge.frame.offers import scale_way, size_way, things, ways_out
from frameforge.frame.rest_limits import check_rest
from frameforge.frame.solve import MOST_REPEATS, count_for, growth_of, scale_for, size_for
from frameforge.frame.spec import Size
from frameforge.frame.ways import RefusedError, Way
from frameforge.frame.wording import gap_words, round_words, size_words, up
from frameforge.tolerances import AGREE_MM, GAP_SLACK_MM

__all__ = ["Fit", "check_scale", "default_gap_mm", "fit_row", "wanted_gap_mm"]


@dataclass(frozen=True, slots=True)
class Fit:
    """Size, count and scale of a row, settled. ``took`` says what was chosen for the maker."""

    size: Size
    count: int
    scale: float
    took: tuple[str, ...] = ()


def default_gap_mm(model: RowModel) -> float:
    """Return the least gap where none is stated: 2 mm, or the card's least slot if that is wider."""
    return max(2.0, model.preset.least_slot_mm)


def wanted_gap_mm(model: RowModel) -> float:
    """Return the gap that the row states, between outlines or feet, or else the default one."""
    stated = _stated_gap(model)
    return default_gap_mm(model) if stated is None else stated


def fit_row(model: RowModel, size: Size | None) -> Fit:
    """Return the settled fit of one row; ``size`` is None where the row has to find it.

    Exactly one of size, count, gap and scale is open: the one written ``find`` (``most`` for a count), else the only
    one left out; an unset scale is 1 and counts as given. Count and gap both left out: as many as go with the
    default gap. Raises InputError for a statement that leaves two open or none, GeometryError with ways out for one
    that cannot hold.
    """
    _check_values(model)
    finds = _finds(model, size)
    if model.row.rest == "filler":
        check_rest(model, size)
    if len(finds) > 1:
        say = f"{finds[0]} and {finds[1]} cannot both be found. Write one of them as a number."
        raise InputError(say, where=model.spec.name)
    if size is None:
        return _find_size(model)
    if finds == ["scale"]:
        return _find_scale(model, size)
    scale = model.given_scale
    check_scale(model, scale)
    check_ends(model, size, scale)
    count = model.row.count
    if model.row.rest == "filler":
        return _step(model, size, scale)
    if isinstance(count, int):
        return _check_all(model, size, count, scale)
    return _find_count(model, size, scale)


def _finds(model: RowModel, size: Size | None) -> list[str]:
    """Return which of the four are written ``find`` or ``most``, in the order of the list."""
    row = model.row
    finds = ["size"] if size is None else []
    if row.count in ("find", "most"):
        finds.append("count")
    if row.gap_mm == "find":
        finds.append("gap")
    if row.scale == "find" or row.foot_mm == "find":
        finds.append("scale")
    return finds


def _check_values(model: RowModel) -> None:
    row, where = model.row, model.spec.name
    if not row.pattern:
        raise InputError("the row names no motif.", where=where)
    if isinstance(row.count, int) and not 1 <= row.count <= MOST_REPEATS:
        say = f"a count of {row.count}; a row takes 1 to {MOST_REPEATS}. Write a whole number in between, or most."
        raise InputError(say, where=where, count=row.count)
    for word, value in (("gap", row.gap_mm), ("foot gap", row.foot_gap_mm)):
        if isinstance(value, int | float) and not (value >= 0 and math.isfinite(value)):
            raise InputError(f"a {word} of {value:g} mm. Write 0 or more; at 0 they touch.", where=where)
    if row.gap_mm is not None and row.foot_gap_mm is not None:
        raise InputError("gap and foot gap are both stated. Leave one of them out.", where=where)


def check_scale(model: RowModel, scale: float) -> None:
    """Refuse a scale that brings a foot under the card's least neck, where the motif as drawn is wide enough."""
    least = model.preset.least_neck_mm
    for drawn, scaled in zip(model.readies(model.unit, 1.0), model.readies(model.unit, scale), strict=True):
        if scaled.foot_mm < least <= drawn.foot_mm:
            enough = math.ceil(least / drawn.foot_mm * 100) / 100
            head = f"at scale {scale:.3g} a foot is {gap_words(scaled.foot_mm)} wide, this card needs {least:g} mm."
            numbers = {"foot_mm": scaled.foot_mm, "limit_mm": least}
            raise RefusedError(
                head, [_enough(model, enough)], _or_more, where=model.spec.name, code="thin-neck", **numbers
            )


def _enough(model: RowModel, scale: float) -> Way:
    """Return the least scale, or the foot where that was typed, at which the card bears every foot."""
    way = scale_way(model, scale)
    if "foot_mm" not in way.row:
        return way
    first = model.row.pattern[0]
    foot = round(up(first.motif.foot_mm * first.scale * scale, 0.01), 2)
    return Way(f"--foot {foot:g}mm", row={"foot_mm": foot}, index=way.index)


def _or_more(words: list[str]) -> str:
    return f" Take {words[0]} or more." if words else ""


def _stated_gap(model: RowModel) -> float | None:
    if model.row.foot_gap_mm is not None:
        return model.row.foot_gap_mm
    return float(model.row.gap_mm) if isinstance(model.row.gap_mm, int | float) else None


def _check_count(model: RowModel, count: int, at: tuple[Size, float] | None) -> None:
    """Refuse counts that do not close the pattern, with both neighbours; measured ``at`` size and scale if not None."""
    unit = model.unit
    if count % unit == 0:
        return
    index = model.spec.rows.index(model.row) if model.row in model.spec.rows else 0
    ways = []
    for n in (count // unit * unit, (count // unit + 1) * unit):
        gap = model.clearance_mm(at[0], n, at[1]) if n and at else math.inf
        words = f"{n} (gap {gap_words(gap)})" if math.isfinite(gap) else f"{n}"
        if n and gap >= 0:
            ways.append(Way(words, row={"count": n}, index=index))
    if len(model.row.pattern) == 1:
        why = f"every-other mirroring needs an even count; with {count}, two neighbours lean the same way."
    else:
        why = f"{count} repeats do not close a pattern of {unit}; the last one would stand beside the wrong one."
    raise RefusedError(why, ways, _or_multiple(unit), where=model.spec.name, code="pattern-open", count=count)


def _or_multiple(unit: int) -> Callable[[list[str]], str]:
    return lambda words: f" Take {' or '.join(words)}." if words else f" A count is a multiple of {unit}."


def _check_all(model: RowModel, size: Size, count: int, scale: float) -> Fit:
    """Settle a row whose size, count and scale are all given: the gap follows, and must be what is stated, if any.

    A gap that comes out wider is taken where no more repeats would go round with the stated one: of sizes in steps of
    .1 mm, none leaves just that.
    """
    _check_count(model, count, (size, scale))
    wanted = _stated_gap(model)
    real = model.clearance_mm(size, count, scale)
    if real == -math.inf:
        _check_bend(model, size, count, scale)
    if wanted is not None and abs(real - wanted) <= AGREE_MM:
        return Fit(size, count, scale)
    if wanted is not None and wanted < real < math.inf and count_for(model, size, scale, wanted) == count:
        return Fit(size, count, scale, (f"took gaps of {gap_words(real)}; no more go round with {wanted:g} mm",))
    if wanted is not None:
        raise _cannot_all_hold(model, Fit(size, count, scale), wanted, real)
    if real < -GAP_SLACK_MM:
        raise _too_many(model, Fit(size, count, scale), default_gap_mm(model), real)
    return Fit(size, count, scale)


def _check_bend(model: RowModel, size: Size, count: int, scale: float) -> None:
    """Refuse motifs that cannot be bent onto the edge at all, however few they are."""
    if model.row.seat == "bent":
        model.layout(size, count, scale)


def _no_more(model: RowModel, more: Fit) -> tuple[str, ...]:
    """Return why no more repeats were taken, where it is not the gap: one would fold over itself where it comes."""
    if model.row.seat != "bent":
        return ()
    try:
        model.layout(more.size, more.count, more.scale)
    except GeometryError as fault:
        return ("took no more, since one would fold over itself where the edge curves most",) * (fault.code == "folds")
    return ()


def _cannot_all_hold(model: RowModel, fit: Fit, wanted: float, real: float) -> GeometryError:
    """Return the refusal of four numbers that do not agree."""
    if real < wanted and count_for(model, fit.size, fit.scale, wanted) >= fit.count - model.unit > 0:
        return _too_many(model, fit, wanted, real)
    if real < -GAP_SLACK_MM:
        return _too_many(model, fit, wanted, real)
    at = "full scale" if fit.scale == 1 else f"scale {fit.scale:.4g}"
    head = (
        f"size {size_words(fit.size).removesuffix('mm')} mm, {fit.count} {things(model, fit.count)} at {at} and a gap "
        f"of {wanted:g} mm cannot all hold; the gap comes to {gap_words(real)}. Leave out one of them"
    )
    sized = size_way(model, fit.size, fit.count, fit.scale, wanted)
    numbers = {"gap_mm": real, "wanted_mm": wanted}
    return RefusedError(
        head, [sized] if sized else [], _or_take, where=model.spec.name, code="cannot-all-hold", **numbers
    )


def _too_many(model: RowModel, fit: Fit, wanted: float, real: float) -> GeometryError:
    """Return the refusal of more repeats than go round."""
    most = count_for(model, fit.size, fit.scale, wanted)
    subject = f"{fit.count} {things(model, fit.count)} do" if fit.count > 1 else f"1 {things(model, 1)} does"
    say = f"{subject} not go round {round_words(fit.size)} with gaps of {wanted:g} mm"
    say += f"; {most} do." if most > 1 else "; 1 does." if most else "."
    ways = ways_out(model, fit.size, fit.count, fit.scale, wanted)
    numbers = {"count": fit.count, "wanted_mm": wanted, "fits": most}
    if math.isfinite(real):
        numbers["gap_mm"] = real
    return RefusedError(say, ways, where=model.spec.name, code="too-many", **numbers)


def _or_take(words: list[str]) -> str:
    return f", or take {words[0]}." if words else "."


def _find_count(model: RowModel, size: Size, scale: float) -> Fit:
    """As many as go round with at least the stated or the default gap; they are then spread evenly."""
    gap = wanted_gap_mm(model)
    count = count_for(model, size, scale, gap)
    if count == 0:
        _check_bend(model, size, model.unit, scale)
        raise _too_many(model, Fit(size, model.unit, scale), gap, -math.inf)
    if count > MOST_REPEATS:
        say = f"more than {MOST_REPEATS} {things(model, 2)} would go round. Write a count, or a larger scale."
        raise GeometryError(say, where=model.spec.name, count=count)
    took = () if _stated_gap(model) is not None else (f"took as many as go round with gaps of at least {gap:g} mm",)
    return Fit(size, count, scale, (*took, *_no_more(model, Fit(size, count + model.unit, scale))))


def _step(model: RowModel, size: Size, scale: float) -> Fit:
    """As many as go round with just the gap, or the count stated, and a rest at the seam."""
    gap, count, where = wanted_gap_mm(model), model.row.count, model.spec.name
    chain = longest_chain(model, size, scale, gap)
    around = f"go round {round_words(size)} with gaps of {gap:g} mm"
    if chain is None:
        say = f"fewer than {LEAST_COUNT} {things(model, 2)} {around}, so there is no rest to fill. Leave out rest."
        raise GeometryError(say, where=where, code="no-rest", wanted_mm=gap)
    if not isinstance(count, int):
        took = () if _stated_gap(model) is not None else (f"took gaps of {gap:g} mm",)
        return Fit(size, chain.count, scale, took)
    _check_count(model, count, (size, scale))
    rest = f"{chain.count} do and leave {gap_words(chain.seam_gap_mm)} at the seam. Take --count {chain.count}."
    if count < LEAST_COUNT:
        say = f"a rest lies between {LEAST_COUNT} repeats or more, not {count}; {rest}"
        raise InputError(say, where=where, count=count)
    if model.row.starts_with_gap and count % 2:
        say = f"with start half a gap lies opposite the rest, which needs an even count, not {count}; {rest}"
        raise InputError(say, where=where, count=count)
    if count > chain.count:
        say = f"{count} {things(model, count)} do not {around}; {rest}"
        raise GeometryError(say, where=where, code="too-many", count=count, wanted_mm=gap, fits=chain.count)
    return Fit(size, count, scale)


def _find_size(model: RowModel) -> Fit:
    """The size at which a stated count and gap hold at the given scale."""
    where, row = model.spec.name, model.row
    if not isinstance(row.count, int):
        raise InputError("size and count are both open. Write a count, for example --count 16.", where=where)
    wanted = _stated_gap(model)
    if wanted is None:
        raise InputError("size and gap are both open. Write a gap, for example --gap 2mm.", where=where)
    scale = model.given_scale
    check_scale(model, scale)
    _check_count(model, row.count, None)
    growth = growth_of(model.spec, None)
    size = size_for(model, growth, row.count, scale, wanted)
    if size is None:
        say = f"no size lets {row.count} {things(model, row.count)} close with a gap of {wanted:g} mm."
        raise GeometryError(say, where=where, count=row.count, wanted_mm=wanted)
    return Fit(size, row.count, scale)


def _find_scale(model: RowModel, size: Size) -> Fit:
    """The scale at which a stated count and gap hold on the given size."""
    where, row = model.spec.name, model.row
    if not isinstance(row.count, int):
        raise InputError("scale and count are both open. Write a count, for example --count 16.", where=where)
    wanted = _stated_gap(model)
    if wanted is None:
        raise InputError("scale and gap are both open. Write a gap, for example --gap 2mm.", where=where)
    _check_count(model, row.count, None)
    scale = scale_for(model, size, row.count, wanted)
    if scale is None:
        say = f"no scale lets {row.count} {things(model, row.count)} go round {round_words(size)} with {wanted:g} mm."
        raise GeometryError(say, where=where, count=row.count, wanted_mm=wanted)
    check_scale(model, scale)
    return Fit(size, row.count, scale)
