"""What to type so that a row's gaps grow to what the card needs; each way is tried as if it had been typed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

from frameforge.errors import FrameforgeError
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import size_way
from frameforge.frame.solve import count_for
from frameforge.frame.spec import RowSpec, Size
from frameforge.frame.ways import Way
from frameforge.frame.wording import up
from frameforge.tolerances import AGREE_MM
from frameforge.units import format_floor

__all__ = ["touching_words", "ways_to_gap"]

_TRIES = 5
_AT_FOOT_MM = 0.05
"""So near to the ends of their feet motifs stand side by side on the edge."""

Holds = Callable[[RowModel, Size, Layout], bool]
"""Whether a row, laid out on a base of a size, has what is wanted."""


def ways_to_gap(model: RowModel, fit: Fit, wanted_mm: float, holds: Holds) -> list[Way]:
    """Return the ways to gaps of ``wanted_mm`` that hold: a larger stated gap, else another count or another size."""
    is_stated = _is_stated(model.row)
    ways = _stated(model, fit, wanted_mm) if is_stated else _free(model, fit, wanted_mm)
    good = (way for way in ways if _holds(model, way, holds))
    # Of larger and larger stated gaps the first will do.
    found = [*islice(good, 1)] if is_stated else [*good]
    index = model.spec.rows.index(model.row) if model.row in model.spec.rows else 0
    return [replace(way, index=index) for way in found]


def touching_words(model: RowModel, fit: Fit, layout: Layout) -> str | None:
    """Return what to type so that the same count touches, foot to foot; None where it does not go.

    Motifs that come nearest to each other above their feet would touch there, and hang together in a point; of gaps
    that differ only the narrowest would close.
    """
    row = model.row
    if row.place in ("window", "across") or row.foot_gap_mm is not None or not _are_nearest_at_feet(layout):
        return None
    if _is_stated(row):
        is_followed = "find" in (row.scale, row.foot_mm, model.spec.size)
        return "--gap 0 (they touch)" if is_followed else None
    count = "" if isinstance(row.count, int) else f"--count {fit.count} "
    return f"{count}--gap 0 --scale find (they touch)" if row.foot_mm is None else None


def _are_nearest_at_feet(layout: Layout) -> bool:
    """Whether all gaps are equal, and neighbours come nearest to each other where their feet end."""
    count = len(layout.seats)
    if (layout.gap_max_mm or 0.0) - (layout.gap_mm or 0.0) > AGREE_MM:
        return False
    return all(
        abs(gap.on_a - layout.seats[k].right) <= _AT_FOOT_MM
        and abs(gap.on_b - layout.seats[(k + 1) % count].left) <= _AT_FOOT_MM
        for k, gap in enumerate(layout.gaps)
        if gap
    )


def _is_stated(row: RowSpec) -> bool:
    return isinstance(row.gap_mm, int | float) or row.foot_gap_mm is not None


def _stated(model: RowModel, fit: Fit, wanted_mm: float) -> Iterator[Way]:
    """Yield larger gaps in place of the stated one."""
    row = model.row
    if row.foot_gap_mm is None:
        yield Way(f"--gap {wanted_mm:g}mm", row={"gap_mm": wanted_mm})
        return
    made = model.layout(fit.size, fit.count, fit.scale)
    short = wanted_mm - (made.gap_mm or 0.0)
    for step in range(_TRIES):
        foot_gap = round(up(row.foot_gap_mm + short, 0.1) + 0.1 * step, 1)
        yield Way(f"--foot-gap {foot_gap:g}mm", row={"foot_gap_mm": foot_gap})


def _free(model: RowModel, fit: Fit, wanted_mm: float) -> Iterator[Way]:
    """Yield another count and another size, where the gap follows from them."""
    fewer = count_for(model, fit.size, fit.scale, wanted_mm)
    if fewer and fewer < fit.count and model.spec.size != "find":
        gap = model.clearance_mm(fit.size, fewer, fit.scale)
        left = f" ({format_floor(gap)})" if math.isfinite(gap) else ""
        yield Way(f"--count {fewer}{left}", row={"count": fewer})
    bigger = size_way(model, fit.size, fit.count, fit.scale, wanted_mm)
    if bigger is not None:
        yield bigger


def _holds(model: RowModel, way: Way, holds: Holds) -> bool:
    """Whether the row alone, ordered so, comes to what is wanted."""
    spec = way.applied(replace(model.spec, rows=(model.row,)))
    tried = RowModel(spec, spec.rows[0], model.preset)
    try:
        fit = fit_row(tried, spec.size if isinstance(spec.size, Size) else None)
        return holds(tried, fit.size, tried.layout(fit.size, fit.count, fit.scale))
    except FrameforgeError:
        return False
