"""The refusal of a piece that fits no sheet, with the least larger sheet that takes it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from frameforge.card.sheet_size import SheetSize, larger_sheets
from frameforge.geometry.measure import bounds
from frameforge.job.left_over import LeftOverError
from frameforge.job.sheet_terms import SheetGroup
from frameforge.sheet.design import Design, Sheet, Turning
from frameforge.sheet.stock import LeftOver, Stock, StockSheet
from frameforge.sheet.stock import too_big as fits_none
from frameforge.units import format_floor, format_mm

__all__ = ["too_big"]

_ROUND = 0.95
"""A piece whose width and height agree to this share is told by the greater of them, as round ones are spoken of."""


def too_big(group: SheetGroup, left: LeftOver, turn: Turning) -> LeftOverError:
    """Return the refusal of a part that lies on no sheet: its size, what the sheet takes, and what would take it."""
    part, size, kind = group.parts[left.design], group.sizes[left.kind], group.stock.kinds[left.kind]
    box = bounds(part.cut.region)
    low, high = sorted((box.width_mm, box.height_mm))
    is_round = low >= _ROUND * high
    across = _outer(high, min(left.usable_mm)) if is_round else _both(box.width_mm, box.height_mm)
    takes = _takes(left.usable_mm, is_round=is_round)
    margin = format_floor(kind.sheet.margin_mm)
    offer = _offer(Design(part.name, (part.cut.region,), 1, turn), size, kind.sheet, is_round=is_round)
    say = f"{across} across, {size.words} with {margin} margin takes {takes}. Make it smaller{offer}."
    told = {
        "name": part.name,
        "copies": left.copies,
        "why": left.why,
        "width_mm": box.width_mm,
        "height_mm": box.height_mm,
        "usable_mm": list(left.usable_mm),
    }
    return LeftOverError(say, (told,), where=part.name, width=box.width_mm, height=box.height_mm)


def _outer(mm: float, room_mm: float) -> str:
    """Return an outer size to .1 mm, finer where that would read like the room it does not fit."""
    return format_mm(mm) if format_mm(mm) != format_mm(room_mm) else f"{math.ceil(mm * 100 - 1e-6) / 100:.2f} mm"


def _offer(design: Design, size: SheetSize, sheet: Sheet, *, is_round: bool) -> str:
    """Return the larger sheet that takes the design, as it is typed; empty where there is none."""
    for larger in _candidates(size):
        tried = replace(sheet, width_mm=larger.width_mm, height_mm=larger.height_mm)
        if not fits_none((design,), Stock((StockSheet(tried),))):
            return f", or use --sheet {larger.typed} (takes {_takes(tried.usable_mm, is_round=is_round)})"
    return ""


def _candidates(size: SheetSize) -> Iterator[SheetSize]:
    """Yield the sheet itself the other way round, then all larger ones, either way round, the least first."""
    yield from (size.landscape(), size.portrait()) if size.source else ()
    for larger in larger_sheets(size):
        yield from (larger, larger.landscape(), larger.portrait())


def _takes(usable_mm: tuple[float, float], *, is_round: bool) -> str:
    """Return the room on a sheet: its shorter side for a round piece, both for another."""
    return format_floor(min(usable_mm)) if is_round else _both(*usable_mm)


def _both(width_mm: float, height_mm: float) -> str:
    return f"{format_mm(width_mm).removesuffix(' mm')} x {format_mm(height_mm)}"
