"""The fit of a row: which of size, count, gap and scale is open, and what it comes to."""

from __future__ import annotations

import math
from dataclasses import dataclass

from frameforge.errors import GeometryError, InputError
from frameforge.frame.fit_refusals import (
    Statement,
    cannot_all_hold,
    check_count,
    check_found_scale,
    check_scale,
    no_scale,
    no_size,
    too_many,
)
from frameforge.frame.model import RowModel
from frameforge.frame.narrow_base import check_ends
from frameforge.frame.offers import edge_said, gap_kind, things
from frameforge.frame.rest_limits import check_rest
from frameforge.frame.row_edge import is_on_opening
from frameforge.frame.solve import MOST_REPEATS, count_for, growth_of, scale_for, size_for
from frameforge.frame.spec import LARGEST_MM, Size
from frameforge.frame.wording import round_words
from frameforge.tolerances import AGREE_MM, GAP_SLACK_MM
from frameforge.units import format_floor

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


def _stated_gap(model: RowModel) -> float | None:
    if model.row.foot_gap_mm is not None:
        return model.row.foot_gap_mm
    return float(model.row.gap_mm) if isinstance(model.row.gap_mm, int | float) else None


def _check_all(model: RowModel, size: Size, count: int, scale: float) -> Fit:
    """Settle a row whose size, count and scale are all given: the gap follows, and must be what is stated, if any.

    A gap that comes out wider is taken where no more repeats would go round with the stated one: of sizes in steps of
    .1 mm, none leaves just that.
    """
    check_count(model, count, (size, scale))
    wanted = _stated_gap(model)
    _check_bend(model, size, count, scale)
    real = model.clearance_mm(size, count, scale)
    if real == math.inf or (wanted is not None and abs(real - wanted) <= AGREE_MM):
        # One alone has no neighbour to keep a gap from.
        return Fit(size, count, scale)
    if wanted is not None and wanted < real < math.inf and count_for(model, size, scale, wanted) == count:
        return Fit(
            size,
            count,
            scale,
            (f"took {gap_kind(model)}s of {format_floor(real)}; no more go round with {wanted:g} mm",),
        )
    if wanted is not None:
        raise cannot_all_hold(model, Statement(size, count, scale), wanted, real)
    if real < -GAP_SLACK_MM:
        raise too_many(model, Statement(size, count, scale), default_gap_mm(model), real)
    return Fit(size, count, scale)


def _check_bend(model: RowModel, size: Size, count: int, scale: float) -> None:
    """Refuse motifs that fold over themselves when they are bent, or are wider than the edge is long."""
    if model.row.seat != "bent":
        return
    readies = model.readies(model.unit, scale)
    model.track(size, scale).seats(readies, [0.0] * len(readies))
    if model.folds(size, count, scale):
        model.layout(size, count, scale)


def _no_more(model: RowModel, more: Fit, gap_mm: float) -> tuple[str, ...]:
    """Return why no more repeats were taken, where it is not the gap: one would fold over itself where it comes."""
    if not model.folds(more.size, more.count, more.scale):
        return ()
    if model.clearance_mm(more.size, more.count, more.scale) < gap_mm - GAP_SLACK_MM:
        return ()
    return ("took no more, since one would fold over itself where the edge curves most",)


def _find_count(model: RowModel, size: Size, scale: float) -> Fit:
    """As many as go round with at least the stated or the default gap; they are then spread evenly."""
    gap = wanted_gap_mm(model)
    count = count_for(model, size, scale, gap)
    if count == 0:
        _check_bend(model, size, model.step, scale)
        raise too_many(model, Statement(size, model.step, scale), gap, -math.inf)
    if count > MOST_REPEATS:
        say = f"more than {MOST_REPEATS} {things(model, 2)} would go round. Write a count, or a larger scale."
        raise GeometryError(say, where=model.spec.name, count=count)
    took = (
        ()
        if _stated_gap(model) is not None
        else (f"took as many as go round with {gap_kind(model)}s of at least {gap:g} mm",)
    )
    return Fit(size, count, scale, (*took, *_no_more(model, Fit(size, count + model.step, scale), gap)))


def _step(model: RowModel, size: Size, scale: float) -> Fit:
    """As many as go round with just the gap, or the count stated, and a rest at the seam."""
    from frameforge.frame.chain import LEAST_COUNT, longest_chain  # here, since few rows leave a rest

    gap, count, where = wanted_gap_mm(model), model.row.count, model.spec.name
    chain = longest_chain(model, size, scale, gap)
    around = f"go round {edge_said(model, size)} with {gap_kind(model)}s of {gap:g} mm"
    if chain is None:
        if model.row.foot_gap_mm is not None and count_for(model, size, scale, 0.0) >= LEAST_COUNT:
            say = f"with foot gaps of {gap:g} mm the {things(model, 2)} stand in each other above their feet, and "
            raise GeometryError(f"{say}leave no rest to fill. Leave out rest.", where=where, code="no-rest")
        say = f"fewer than {LEAST_COUNT} {things(model, 2)} {around}, so there is no rest to fill. Leave out rest."
        raise GeometryError(say, where=where, code="no-rest", wanted_mm=gap)
    if not isinstance(count, int):
        took = () if _stated_gap(model) is not None else (f"took {gap_kind(model)}s of {gap:g} mm",)
        return Fit(size, chain.count, scale, took)
    check_count(model, count, (size, scale))
    rest = f"{chain.count} do and leave {format_floor(chain.seam_gap_mm)} at the seam. Take --count {chain.count}."
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


def _both_open(model: RowModel, what: str) -> str:
    """Return why a size or a scale is not found without a count, and all that is to be written."""
    if _stated_gap(model) is not None:
        return f"{what} and count are both open. Write a count, for example --count 16."
    return f"{what}, count and gap are all open. Write a count and a gap, for example --count 16 --gap 2mm."


def _find_size(model: RowModel) -> Fit:
    """The size at which a stated count and gap hold at the given scale."""
    where, row = model.spec.name, model.row
    if not isinstance(row.count, int):
        raise InputError(_both_open(model, "size"), where=where)
    wanted = _stated_gap(model)
    if wanted is None:
        raise InputError("size and gap are both open. Write a gap, for example --gap 2mm.", where=where)
    opening = model.spec.opening
    if opening is not None and is_on_opening(model):
        say = f"the row stands on the opening, {round_words(opening)} whatever the size, so no size can be found."
        raise InputError(f"{say} Write a size, for example 100mm.", where=where)
    scale = model.given_scale
    check_scale(model, scale)
    check_count(model, row.count, None)
    growth = growth_of(model.spec, None)
    size = size_for(model, growth, row.count, scale, wanted)
    if size is None or max(size.width_mm, size.height_mm) > LARGEST_MM:
        raise no_size(model, size, row.count, wanted)
    return Fit(size, row.count, scale)


def _find_scale(model: RowModel, size: Size) -> Fit:
    """The scale at which a stated count and gap hold on the given size."""
    where, row = model.spec.name, model.row
    if not isinstance(row.count, int):
        raise InputError(_both_open(model, "scale"), where=where)
    wanted = _stated_gap(model)
    if wanted is None:
        raise InputError("scale and gap are both open. Write a gap, for example --gap 2mm.", where=where)
    check_count(model, row.count, None)
    scale = scale_for(model, size, row.count, wanted)
    if scale is None:
        raise no_scale(model, size, row.count, wanted)
    check_found_scale(model, size, row.count, scale)
    return Fit(size, row.count, scale)
