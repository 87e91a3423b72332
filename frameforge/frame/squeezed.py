"""squeezed: a bent motif whose tip is squeezed so much that little is left of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from frameforge.errors import FrameforgeError
from frameforge.finding import Finding
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.fold import squeezes
from frameforge.frame.layout import Layout
from frameforge.frame.model import RowModel
from frameforge.frame.row_limits import check_row
from frameforge.frame.spec import RowSpec
from frameforge.frame.ways import sentence_of
from frameforge.frame.wording import down, place_words
from frameforge.units import format_floor

__all__ = ["LEAST_SQUEEZE", "squeezed"]

LEAST_SQUEEZE = 0.25
"""Less than this is left of the width of a motif, and it is hard to know again (common practice, no source)."""

_TRIES = 6


def squeezed(
    model: RowModel, fit: Fit, layout: Layout, positions: Sequence[int], directions: Sequence[float]
) -> list[Finding]:
    """Return a warning for every repeat that is squeezed to less than a quarter of its width somewhere.

    ``directions`` are those of the repeats, degrees clockwise from the top.
    """
    found = [squeeze for squeeze in squeezes(layout) if squeeze.factor < LEAST_SQUEEZE]
    if not found:
        return []
    ways = sentence_of([*_ways(model, fit, min(squeeze.factor for squeeze in found))]).strip()
    warnings = []
    for squeeze in found:
        say = (
            f"bent so far in, what is drawn 1 mm wide comes to {format_floor(squeeze.factor)}, less than "
            f"{LEAST_SQUEEZE:g} mm. {ways}"
        )
        name = layout.readies[squeeze.k].motif.name
        where = place_words(name, positions[squeeze.k], directions[squeeze.k])
        warnings.append(Finding(
            "squeezed", "warning", say.rstrip(), where, model.spec.name, squeeze.spot.real, squeeze.spot.imag,
            squeeze.factor, LEAST_SQUEEZE, "mm",
        ))  # fmt: skip
    return warnings


def _ways(model: RowModel, fit: Fit, least: float) -> list[str]:
    """Return a smaller motif that is squeezed less, and the other seat, where they go."""
    smaller = next((words for words, row in _smaller(model.row, fit, least) if _holds(model, fit, row)), None)
    drawn = replace(model.row, seat="as-drawn")
    return [*([smaller] if smaller else []), *(["--seat as-drawn"] if _holds(model, fit, drawn) else [])]


def _smaller(row: RowSpec, fit: Fit, least: float) -> Iterator[tuple[str, RowSpec]]:
    """Yield smaller motifs, by scale or by foot as the row says it; how far in they reach falls with the size."""
    part = (1 - LEAST_SQUEEZE) / (1 - least)
    for step in range(_TRIES):
        if isinstance(row.foot_mm, int | float):
            foot = max(round(down(row.foot_mm * part, 0.1) - 0.1 * step, 1), 0.1)
            yield f"--foot {foot:g}mm", replace(row, foot_mm=foot)
        elif row.foot_mm is None and row.scale != "find":
            scale = max(round(down(fit.scale * part, 0.01) - 0.01 * step, 2), 0.01)
            yield f"--scale {scale:g}", replace(row, scale=scale)


def _holds(model: RowModel, fit: Fit, row: RowSpec) -> bool:
    """Whether a row can be made in this one's stead, and is not squeezed so."""
    tried = RowModel(replace(model.spec, rows=(row,)), row, model.preset)
    try:
        found = fit_row(tried, None if model.spec.size == "find" else fit.size)
        layout = tried.layout(found.size, found.count, found.scale)
        check_row(tried, found, layout)
    except FrameforgeError:
        return False
    return all(squeeze.factor >= LEAST_SQUEEZE for squeeze in squeezes(layout))
