"""What would work instead: counts, sizes and scales for a message, each computed and tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.row_edge import closing_sizes, is_on_opening
from frameforge.frame.solve import count_for, scale_for
from frameforge.frame.spec import LARGEST_MM, Size
from frameforge.frame.ways import Way
from frameforge.frame.wording import down, plural, round_words, size_words, up
from frameforge.motif.bare_foot import BARE_FOOT
from frameforge.tolerances import GAP_SLACK_MM
from frameforge.units import format_floor

__all__ = [
    "count_offer",
    "edge_said",
    "foot_holds",
    "gap_kind",
    "offered_scale",
    "offered_size",
    "scale_way",
    "size_way",
    "things",
    "ways_out",
]

_TRIES = 20
_SIZE_MM = 0.01
_SCALE = 2e-4
"""As near as sizes and scales are sought that are offered in steps of .1 mm and .01: the gap moves less than they."""
_MOST_EDGE_MM = math.pi * LARGEST_MM

T = TypeVar("T")


def things(model: RowModel, count: int) -> str:
    """Return the row's motifs as a word: "arches"; a pattern of several is "motifs"."""
    names = {ornament.motif.name for ornament in model.row.pattern}
    return plural(names.pop() if len(names) == 1 else "motif", count)


def gap_kind(model: RowModel) -> str:
    """Return what the row's stated gap is called: "foot gap" between feet, "gap" between outlines and of bare feet."""
    is_bare = all(ornament.motif.name == BARE_FOOT for ornament in model.row.pattern)
    return "gap" if model.row.foot_gap_mm is None or is_bare else "foot gap"


def edge_said(model: RowModel, size: Size) -> str:
    """Return the edge that the row goes round: "a 100 mm circle", "a 60 mm opening"; and what of it is kept free."""
    edge = _edge_said(model, size)
    return f"{edge}, {model.zone[0]:g} degrees of it kept free," if model.zone else edge


def _edge_said(model: RowModel, size: Size) -> str:
    row = model.row
    base, opening = edges_of(model.spec, size)
    if opening is None or (row.on or ("opening" if row.place == "in" else "base")) == "base":
        return round_words(base.size)
    return f"a {size_words(opening.size).removesuffix('mm').replace('x', ' x ')} mm opening"


def offered_size(model: RowModel, given: Size, count: int, scale: float, gap_mm: float) -> Size | None:
    """Return the least size, in steps of .1 mm and of the given proportion, at which the gap is at least as wide.

    It is that of the edge which decides: the opening where the row stands on one of stated size, else the base. None
    where there is none up to ``LARGEST_MM``.
    """
    opening = model.spec.opening if is_on_opening(model) else None
    asked = opening or given
    # Feet alone would need a larger edge: nothing to try.
    if sum(ready.foot_mm for ready in model.readies(model.unit, scale)) * count / model.unit > _MOST_EDGE_MM:
        return None
    found = closing_sizes(model, given, count, scale, gap_mm, settled_mm=_SIZE_MM / count)
    exact = found and (found[0].opening if opening else found[1])
    if not exact or max(exact.width_mm, exact.height_mm) > LARGEST_MM - 0.1 * _TRIES:
        return None
    ratio = asked.width_mm / asked.height_mm

    def stepped(k: int) -> Size:
        width = up(exact.width_mm, 0.1) + 0.1 * k
        return Size(round(width, 1), round(width / ratio, 1))

    def holds(size: Size) -> bool:
        sized = RowModel(replace(model.spec, opening=size), model.row, model.preset) if opening else model
        base = given if opening else size
        is_wide = sized.clearance_mm(base, count, scale) >= gap_mm - GAP_SLACK_MM
        return is_wide and not sized.folds(base, count, scale)

    return _first_that_holds(stepped, holds)


def offered_scale(model: RowModel, size: Size, count: int, gap_mm: float) -> float | None:
    """Return the greatest scale, in steps of .01, at which the gap is at least as wide; None when there is none."""
    width_mm = min(ready.box.width_mm for ready in model.readies(model.unit, 1.0))
    exact = scale_for(model, size, count, gap_mm, settled_mm=_SCALE * width_mm)
    if exact is None:
        return None
    return _first_that_holds(
        lambda k: round(down(exact, 0.01) - 0.01 * k, 2),
        lambda scale: (
            scale > 0
            and model.clearance_mm(size, count, scale) >= gap_mm - GAP_SLACK_MM
            and not model.folds(size, count, scale)
        ),
    )


def count_offer(model: RowModel, size: Size, count: int, scale: float) -> str:
    """Return "--count 17 (gap 2.41 mm)" with the gap measured; a single one has no gap."""
    gap = model.clearance_mm(size, count, scale)
    return f"--count {count} ({gap_kind(model)} {format_floor(gap)})" if math.isfinite(gap) else f"--count {count}"


def ways_out(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> Iterator[Way]:
    """Yield what to take so that gaps of ``gap_mm`` hold: another count, another size, another scale."""
    index = model.spec.rows.index(model.row) if model.row in model.spec.rows else 0
    fitting = count_for(model, size, scale, gap_mm)
    if fitting and fitting != count:
        yield Way(count_offer(model, size, fitting, scale), row={"count": fitting}, index=index)
    bigger = size_way(model, size, count, scale, gap_mm)
    if bigger is not None:
        yield bigger
    smaller = offered_scale(model, size, count, gap_mm)
    if smaller is not None and foot_holds(model, smaller):
        yield scale_way(model, smaller)


def size_way(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> Way | None:
    """Return the base, or the opening that the row stands on, at which the gap holds; None where there is none."""
    bigger = None if model.spec.is_size_fixed else offered_size(model, size, count, scale, gap_mm)
    if bigger is None:
        return None
    key = "opening" if is_on_opening(model) else "size"
    return Way(f"--{key} {size_words(bigger)}", piece={key: bigger})


def scale_way(model: RowModel, scale: float) -> Way:
    """Return a scale as it is typed, "--scale 0.96"; where the maker typed a foot, by its width: "--foot 19.2mm"."""
    index = model.spec.rows.index(model.row) if model.row in model.spec.rows else 0
    first = model.row.pattern[0]
    if model.row.foot_mm is None and first.motif.name != BARE_FOOT:
        return Way(f"--scale {scale:g}", row={"scale": scale}, index=index)
    foot = down(first.motif.foot_mm * first.scale * scale, 0.01)
    return Way(f"--foot {foot:g}mm", row={"foot_mm": foot}, index=index)


def foot_holds(model: RowModel, scale: float) -> bool:
    """Whether every foot keeps the card's least neck at a scale (motifs without a foot always do)."""
    feet = [r.foot_mm for r in model.readies(model.unit, scale)]
    return all(foot == 0 or foot >= model.preset.least_neck_mm for foot in feet)


def _first_that_holds(candidate: Callable[[int], T], holds: Callable[[T], bool]) -> T | None:
    return next((c for c in map(candidate, range(_TRIES)) if holds(c)), None)
