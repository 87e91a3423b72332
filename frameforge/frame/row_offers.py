"""What to type so that a row's gaps grow to what the card needs; each way is tried as if it had been typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import islice

from frameforge.errors import FrameforgeError
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.offers import offered_size
from frameforge.frame.solve import count_for
from frameforge.frame.spec import RowSpec, Size
from frameforge.frame.wording import gap_words, size_words, up
from frameforge.tolerances import TOUCH_MM

__all__ = ["joined", "touching_words", "ways_to_gap"]

_TRIES = 5
_AT_FOOT_MM = 0.05
"""Motifs that touch this near to the ends of their feet stand side by side on the edge."""

Holds = Callable[[Size, Layout], bool]
"""Whether a row laid out on a base of a size has what is wanted."""
Way = tuple[str, RowSpec, Size | None]


def joined(ways: Sequence[str]) -> str:
    """Return "Take a, b or c."; nothing where there is no way."""
    if not ways:
        return ""
    return f"Take {ways[0]}." if len(ways) == 1 else f"Take {', '.join(ways[:-1])} or {ways[-1]}."


def ways_to_gap(model: RowModel, fit: Fit, wanted_mm: float, holds: Holds) -> list[str]:
    """Return the ways to gaps of ``wanted_mm`` that hold: a larger stated gap, else another count or another size."""
    is_stated = _is_stated(model.row)
    ways = _stated(model, fit, wanted_mm) if is_stated else _free(model, fit, wanted_mm)
    made = ((words, _made(model, row, size)) for words, row, size in ways)
    good = (words for words, laid in made if laid and holds(*laid))
    # Of larger and larger stated gaps the first will do.
    return [*islice(good, 1)] if is_stated else [*good]


def touching_words(model: RowModel, fit: Fit) -> str | None:
    """Return what to type so that the same count touches, foot to foot; None where it does not go.

    Motifs that would touch above their feet only would hang together in a point.
    """
    row = model.row
    if row.place in ("window", "across") or row.foot_gap_mm is not None:
        return None
    words, tried = "--gap 0 (they touch)", replace(row, gap_mm=0.0)
    if not _is_stated(row):
        if row.foot_mm is not None:
            return None
        count = "" if isinstance(row.count, int) else f"--count {fit.count} "
        words = f"{count}--gap 0 --scale find (they touch)"
        tried = replace(tried, count=fit.count, scale="find")
    laid = _made(model, tried, None if model.spec.size == "find" else fit.size)
    return words if laid and all(_touch_at_feet(laid[1], k) for k, gap in enumerate(laid[1].gaps) if gap) else None


def _touch_at_feet(layout: Layout, k: int) -> bool:
    """Whether two neighbours touch, and do so where their feet end."""
    gap, after = layout.gaps[k], layout.seats[(k + 1) % len(layout.seats)]
    if gap is None or gap.gap_mm > TOUCH_MM:
        return False
    foot_gap = layout.foot_gaps[k]
    near = abs(gap.on_a - layout.seats[k].right) <= _AT_FOOT_MM and abs(gap.on_b - after.left) <= _AT_FOOT_MM
    return near or (foot_gap is not None and abs(foot_gap) <= TOUCH_MM)


def _is_stated(row: RowSpec) -> bool:
    return isinstance(row.gap_mm, int | float) or row.foot_gap_mm is not None


def _stated(model: RowModel, fit: Fit, wanted_mm: float) -> Iterator[Way]:
    """Yield larger gaps in place of the stated one."""
    row, size = model.row, None if model.spec.size == "find" else fit.size
    if row.foot_gap_mm is None:
        yield f"--gap {wanted_mm:g}mm", replace(row, gap_mm=wanted_mm), size
        return
    made = model.layout(fit.size, fit.count, fit.scale)
    short = wanted_mm - (made.gap_mm or 0.0)
    for step in range(_TRIES):
        foot_gap = round(up(row.foot_gap_mm + short, 0.1) + 0.1 * step, 1)
        yield f"--foot-gap {foot_gap:g}mm", replace(row, foot_gap_mm=foot_gap), size


def _free(model: RowModel, fit: Fit, wanted_mm: float) -> Iterator[Way]:
    """Yield another count and another size, where the gap follows from them."""
    row = model.row
    fewer = count_for(model, fit.size, fit.scale, wanted_mm)
    if fewer and fewer < fit.count and model.spec.size != "find":
        gap = model.clearance_mm(fit.size, fewer, fit.scale)
        yield f"--count {fewer} ({gap_words(gap)})", replace(row, count=fewer), fit.size
    size = offered_size(model, fit.size, fit.count, fit.scale, wanted_mm)
    if size is not None:
        yield f"--size {size_words(size)}", row, size


def _made(model: RowModel, row: RowSpec, size: Size | None) -> tuple[Size, Layout] | None:
    """Return the size and the layout that a row comes to on a size (None: to be found); None where it is refused."""
    spec = replace(model.spec, size="find" if size is None else size, rows=(row,))
    tried = RowModel(spec, row, model.preset)
    try:
        fit = fit_row(tried, size)
        return fit.size, tried.layout(fit.size, fit.count, fit.scale)
    except FrameforgeError:
        return None
