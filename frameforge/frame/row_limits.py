"""What a row may not do: stand in itself, or come out at the other side of a narrow rim."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from frameforge.errors import GeometryError
from frameforge.frame.fit import Fit
from frameforge.frame.fold import check_folds
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.offers import foot_holds, scale_way, things
from frameforge.frame.others import others_within
from frameforge.frame.spec import Size
from frameforge.frame.standing import standing_at
from frameforge.frame.teeth import check_floors, check_teeth
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, size_words
from frameforge.tolerances import CHORD_MM, GAP_SLACK_MM, ROOT_MM
from frameforge.units import format_floor

__all__ = ["check_row", "standing_in_each_other"]

_ROOT_SAMPLES = 33
_STEPS = 90


def check_row(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse a row whose motifs that are no neighbours meet, or whose roots come out at the opening.

    Raises RefusedError, or GeometryError where a bent motif folds over itself.
    """
    check_folds(layout)
    met = standing_in_each_other(layout)
    if met:
        raise _tips_meet(model, fit, met[0])
    if layout.track.meets != "none":
        check_teeth(model, fit, layout)
        check_floors(model, fit, layout)
    if layout.track.meets == "base":
        _check_roots(model, fit, layout)


def standing_in_each_other(layout: Layout) -> list[tuple[int, int]]:
    """Return the pairs of repeats, no neighbours on the ring, whose outlines cross."""
    return [(pair.first, pair.second) for pair in others_within(layout, 0.0)]


def _tips_meet(model: RowModel, fit: Fit, pair: tuple[int, int]) -> GeometryError:
    """Return the refusal of repeats that are no neighbours and meet, with a scale and a count at which none do."""
    numbers = " and ".join(str(k + 1) for k in pair)
    say = f"the {things(model, 2)} reach into each other ({numbers} from the first, clockwise)."

    def ways() -> list[Way]:
        index = model.spec.rows.index(model.row) if model.row in model.spec.rows else 0
        fewer = next((n for n in range(fit.count - model.step, 0, -model.step) if _is_apart(model, fit, n)), None)
        found = [] if fewer is None else [Way(f"--count {fewer}", row={"count": fewer}, index=index)]
        smaller = _scale_at_which(model, fit, lambda layout: not standing_in_each_other(layout))
        return found if smaller is None else [*found, scale_way(model, smaller)]

    return RefusedError(say, ways, _or_smaller, where=model.spec.name, code="tips-meet")


def _or_smaller(words: list[str]) -> str:
    return sentence_of(words) or " Take a smaller motif."


def _is_apart(model: RowModel, fit: Fit, count: int) -> bool:
    """Whether so many repeats go round without any that meet."""
    try:
        layout = model.layout(fit.size, count, fit.scale)
    except GeometryError:
        return False
    return min(model.gaps_mm(fit.size, layout), default=0.0) >= -GAP_SLACK_MM


def _scale_at_which(model: RowModel, fit: Fit, holds: Callable[[Layout], bool]) -> float | None:
    """Return the greatest smaller scale, in steps of .01, at which the row as it would stand holds."""
    from frameforge.frame.rest_fill import relaid  # here, since only a refusal tries other scales

    for step in range(1, _STEPS):
        scale = round(down(fit.scale, 0.01) - 0.01 * step, 2)
        smaller = relaid(model, fit, scale) if scale > 0 else None
        if smaller and foot_holds(model, scale) and holds(smaller):
            return scale
    return None


def _root_depth_over(model: RowModel, fit: Fit, layout: Layout, *, below: float) -> bool:
    """Whether any foot line, lowered by ``below``, comes out at the opening."""
    _, opening = edges_of(model.spec, fit.size)
    if opening is None:
        return False
    # No point of the opening lies further out than this: a root beyond it need not be looked at point by point.
    farthest = max(opening.size.width_mm, opening.size.height_mm) / 2 + CHORD_MM
    for ready, seat, there in zip(layout.readies, layout.seats, layout.is_there, strict=True):
        if not there:
            continue
        half = ready.foot_mm / 2
        foot = np.linspace(-half, half, _ROOT_SAMPLES).astype(np.complex128) - 1j * below
        root = standing_at(layout.track, ready, seat).carried(foot)
        if float(np.abs(root).min()) > farthest:
            continue
        for point in root.tolist():
            edge = opening.point(opening.tau_towards(math.atan2(point.real, point.imag)))
            if abs(point) < abs(edge):
                return True
    return False


def _check_roots(model: RowModel, fit: Fit, layout: Layout) -> None:
    """Refuse feet whose roots come out at the inner side of the rim, with openings and scales that hold."""
    if not _root_depth_over(model, fit, layout, below=ROOT_MM):
        return
    deepest = max(seat.sagitta_mm for seat in layout.seats) + ROOT_MM
    say = f"the roots of the {things(model, 2)} go {format_floor(deepest)} into the rim and come out at the opening."

    def ways() -> list[Way]:
        smaller = _scale_at_which(model, fit, lambda made: not _root_depth_over(model, fit, made, below=ROOT_MM))
        return [*_other_openings(model, fit, deepest), *([] if smaller is None else [scale_way(model, smaller)])]

    numbers = {"depth_mm": deepest}
    raise RefusedError(say, ways, _or_smaller, where=model.spec.name, code="root-through-rim", **numbers)


def _other_openings(model: RowModel, fit: Fit, deepest: float) -> list[Way]:
    """Return the opening, or the rim, that the deepest root stays clear of."""
    base, _ = edges_of(model.spec, fit.size)
    if model.spec.opening is None:
        rim = math.ceil(deepest * 10) / 10
        return [Way(f"--rim {rim:g}mm", piece={"rim_mm": rim})]
    width = down(2 * (base.half_width_mm - deepest), 0.1)
    height = down(2 * (base.half_height_mm - deepest), 0.1)
    if min(width, height) <= 0:
        return []
    return [Way(f"--opening {size_words(Size(width, height))}", piece={"opening": Size(width, height)})]
