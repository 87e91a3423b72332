"""What would work instead: counts, sizes and scales for a message, each computed and tried."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeVar

from frameforge.frame.model import RowModel
from frameforge.frame.solve import count_for, growth_of, scale_for, size_for
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.wording import down, gap_words, plural, size_words, up
from frameforge.motif.bare_foot import BARE_FOOT
from frameforge.tolerances import GAP_SLACK_MM

__all__ = [
    "count_offer",
    "foot_holds",
    "offered_scale",
    "offered_size",
    "scale_offer",
    "things",
    "ways_out",
]

_TRIES = 20

T = TypeVar("T")


def things(model: RowModel, count: int) -> str:
    """Return the row's motifs as a word: "arches"; a pattern of several is "motifs"."""
    names = {ornament.motif.name for ornament in model.row.pattern}
    return plural(names.pop() if len(names) == 1 else "motif", count)


def offered_size(model: RowModel, given: Size, count: int, scale: float, gap_mm: float) -> Size | None:
    """Return the least size, in steps of .1 mm and of the given proportion, at which the gap is at least as wide."""
    spec = PieceSpec(model.spec.name, "find")
    exact = size_for(model, growth_of(spec, given), count, scale, gap_mm)
    if exact is None:
        return None
    ratio = given.width_mm / given.height_mm
    return _first_that_holds(
        lambda k: Size(
            round(up(exact.width_mm, 0.1) + 0.1 * k, 1), round((up(exact.width_mm, 0.1) + 0.1 * k) / ratio, 1)
        ),
        lambda size: model.clearance_mm(size, count, scale) >= gap_mm - GAP_SLACK_MM,
    )


def offered_scale(model: RowModel, size: Size, count: int, gap_mm: float) -> float | None:
    """Return the greatest scale, in steps of .01, at which the gap is at least as wide; None when there is none."""
    exact = scale_for(model, size, count, gap_mm)
    if exact is None:
        return None
    return _first_that_holds(
        lambda k: round(down(exact, 0.01) - 0.01 * k, 2),
        lambda scale: scale > 0 and model.clearance_mm(size, count, scale) >= gap_mm - GAP_SLACK_MM,
    )


def count_offer(model: RowModel, size: Size, count: int, scale: float) -> str:
    """Return "--count 17 (gap 2.41 mm)" with the gap measured; a single one has no gap."""
    gap = model.clearance_mm(size, count, scale)
    return f"--count {count} (gap {gap_words(gap)})" if math.isfinite(gap) else f"--count {count}"


def ways_out(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> list[str]:
    """Return what to take so that gaps of ``gap_mm`` hold: another count, another size, another scale."""
    ways = []
    fitting = count_for(model, size, scale, gap_mm)
    if fitting and fitting != count:
        ways.append(count_offer(model, size, fitting, scale))
    bigger = offered_size(model, size, count, scale, gap_mm)
    if bigger is not None:
        ways.append(f"--size {size_words(bigger)}")
    smaller = offered_scale(model, size, count, gap_mm)
    if smaller is not None and foot_holds(model, smaller):
        ways.append(scale_offer(model, smaller))
    return ways


def scale_offer(model: RowModel, scale: float) -> str:
    """Return a scale as it is typed: "--scale 0.96"; a bare foot is typed by its width: "--foot 19.2mm"."""
    first = model.row.pattern[0].motif
    return f"--foot {first.foot_mm * scale:.4g}mm" if first.name == BARE_FOOT else f"--scale {scale:g}"


def foot_holds(model: RowModel, scale: float) -> bool:
    """Whether every foot keeps the card's least neck at a scale (motifs without a foot always do)."""
    feet = [r.foot_mm for r in model.readies(model.unit, scale)]
    return all(foot == 0 or foot >= model.preset.least_neck_mm for foot in feet)


def _first_that_holds(candidate: Callable[[int], T], holds: Callable[[T], bool]) -> T | None:
    return next((c for c in map(candidate, range(_TRIES)) if holds(c)), None)
