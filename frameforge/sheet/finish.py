"""A draft made ready: hosts told, pieces moved together, copies numbered, and the whole proved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from frameforge.sheet.design import Design, Layout, Placed
from frameforge.sheet.draft import Draft, Sheets, numbered
from frameforge.sheet.openings import with_hosts
from frameforge.sheet.slide import slid
from frameforge.sheet.stock import Stock
from frameforge.sheet.verify import faults_on

__all__ = ["finished"]

MOST_MOVED = 150
"""Pieces on different sheets up to which all are moved together; beyond it only the last sheet's are."""


def finished(draft: Draft, designs: tuple[Design, ...], stock: Stock, *, is_hurried: bool = False) -> Draft | None:
    """Return the proved draft, pieces moved together unless that does not hold; None when it does not hold at all.

    ``is_hurried`` leaves the pieces where they are.
    """
    told = with_hosts(draft.layout, designs)
    plain = tuple((kind, placed) for (kind, _), placed in zip(draft.sheets, told.sheets, strict=True))
    tried = [plain] if is_hurried else [_together(plain, designs, stock), plain]
    for sheets in tried:
        ready = replace(draft, sheets=numbered(sheets))
        if not _faults(ready, designs, stock):
            return ready
    return None


def _together(sheets: Sheets, designs: tuple[Design, ...], stock: Stock) -> Sheets:
    """Return the sheets with their pieces moved left and down; sheets that are alike are worked out once."""
    different = {_content(kind, placed) for kind, placed in sheets}
    is_small = sum(len(content[1]) for content in different) <= MOST_MOVED
    moved: dict[object, tuple[Placed, ...]] = {}
    result = []
    for k, (kind, placed) in enumerate(sheets):
        key = _content(kind, placed)
        if key not in moved:
            sheet, used = stock.kinds[kind].sheet, stock.kinds[kind].used
            moved[key] = slid(placed, designs, sheet, used, is_whole=is_small or k == len(sheets) - 1)
        result.append((kind, moved[key]))
    return tuple(result)


def _content(kind: int, placed: Sequence[Placed]) -> tuple[int, tuple[tuple[int, float, float, float], ...]]:
    return kind, tuple((p.design, p.x_mm, p.y_mm, p.turn_deg) for p in placed)


def _faults(draft: Draft, designs: tuple[Design, ...], stock: Stock) -> bool:
    """Return whether the proof finds anything wrong, copies that no sheet was left for not counted."""
    laid = draft.laid
    numbers = [i for i in range(len(designs)) if laid[i]]
    asked = tuple(replace(designs[i], copies=laid[i]) for i in numbers)
    place_of = {i: k for k, i in enumerate(numbers)}
    layout = Layout(tuple(tuple(replace(p, design=place_of[p.design]) for p in placed) for _, placed in draft.sheets))
    kinds = [stock.kinds[kind] for kind, _ in draft.sheets]
    too_many = any(laid[i] > design.copies for i, design in enumerate(designs))
    return too_many or bool(faults_on(layout, asked, [k.sheet for k in kinds], [k.used for k in kinds]))
