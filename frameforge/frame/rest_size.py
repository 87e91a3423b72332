"""A rest closed by another size: the base, or the opening, at which the row closes with just the stated gap."""

from __future__ import annotations

from dataclasses import replace

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.finding import Finding
from frameforge.frame.fit import wanted_gap_mm
from frameforge.frame.model import RowModel
from frameforge.frame.offers import gap_kind, things
from frameforge.frame.rest_limits import check_rest, check_seam
from frameforge.frame.row_edge import closing_sizes, is_on_opening
from frameforge.frame.solve import count_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.wording import size_words

__all__ = ["settle_sizes"]


def settle_sizes(spec: PieceSpec, preset: Preset) -> tuple[PieceSpec, tuple[Finding, ...]]:
    """Return the order with the size at which its row with rest "size" closes, and a note of what was taken.

    The size changes in its proportion: to the nearer of those that close the greatest count that goes round as it is,
    and one pattern more; or to that of a stated count. It is the opening's where the row stands on one of stated size,
    else the base's. An order without such a row comes back as it is.
    Raises InputError for rows that contradict it, GeometryError where no size closes.
    """
    for row in spec.rows:
        check_seam(row, spec.name)
    asked = [k for k, row in enumerate(spec.rows) if row.rest == "size"]
    if not asked:
        return spec, ()
    if len(asked) > 1:
        raise InputError("two rows would each change the size. Leave rest size to one of them.", where=spec.name)
    model = RowModel(spec, spec.rows[asked[0]], preset)
    size = check_rest(model, spec.size if isinstance(spec.size, Size) else None)
    count, changed, base = _nearest(model, size)
    gap = None if model.row.foot_gap_mm is not None else wanted_gap_mm(model)
    row = replace(model.row, rest=None, seam_deg=None, count=count, gap_mm=gap)
    rows = (*spec.rows[: asked[0]], row, *spec.rows[asked[0] + 1 :])
    return replace(changed, size=base, rows=rows), (_took(model, count, size, changed, base),)


def _nearest(model: RowModel, size: Size) -> tuple[int, PieceSpec, Size]:
    """Return count, order and base size of the nearest size that closes."""
    gap, scale = wanted_gap_mm(model), model.given_scale
    counts = [model.row.count] if isinstance(model.row.count, int) else _counts(model, size, scale, gap)
    asked = _edge(model, model.spec, size).width_mm
    found = []
    for count in counts:
        sized = closing_sizes(model, size, count, scale, gap) if count > 1 else None
        if sized is not None:
            found.append((abs(_edge(model, *sized).width_mm - asked), count, *sized))
    if not found:
        say = f"no size closes {counts[0]} {things(model, counts[0])} with {gap_kind(model)}s of {gap:g} mm."
        say += " Leave out rest."
        raise GeometryError(say, where=model.spec.name, code="no-size", count=counts[0], wanted_mm=gap)
    return min(found, key=lambda one: one[:2])[1:]


def _counts(model: RowModel, size: Size, scale: float, gap_mm: float) -> list[int]:
    """Return the greatest count that goes round with the gap, where one does, and one pattern more."""
    chain = None
    if model.spread == "equal-gap":
        from frameforge.frame.chain import longest_chain  # here, since few rows leave a rest

        at_bottom = replace(model.row, starts_with_gap=False, start_deg=0.0, seam_deg=None)
        chain = longest_chain(RowModel(model.spec, at_bottom, model.preset), size, scale, gap_mm)
    most = chain.count if chain else count_for(model, size, scale, gap_mm)
    return [count for count in (most, most + model.unit) if count]


def _edge(model: RowModel, spec: PieceSpec, base: Size) -> Size:
    """Return the size that changes."""
    return spec.opening if spec.opening is not None and is_on_opening(model) else base


def _took(model: RowModel, count: int, size: Size, changed: PieceSpec, base: Size) -> Finding:
    """Return the note that another size was taken."""
    edges = _edge(model, model.spec, size), _edge(model, changed, base)
    asked, taken = (f"{size_words(edge).removesuffix('mm')} mm" for edge in edges)
    what = "an opening of " if is_on_opening(model) else ""
    say = (
        f"took {what}{taken} in place of {asked}, where {count} {things(model, count)} close with "
        f"{gap_kind(model)}s of {wanted_gap_mm(model):g} mm."
    )
    return Finding("took", "note", say, piece=model.spec.name)
