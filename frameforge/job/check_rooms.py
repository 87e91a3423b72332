"""What the files of a check must go into: an envelope, a lid, and a sheet, each less what stays free."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from frameforge.card.envelope import EACH_SIDE_MM
from frameforge.card.sheet_size import SheetSize, larger_sheets, parse_sheet
from frameforge.check.too_big import Allowed
from frameforge.errors import InputError
from frameforge.job.sheet_terms import MARGIN_MM
from frameforge.recipe.fields import as_envelope
from frameforge.units import format_floor, parse_length_mm

__all__ = ["envelope_room", "sheet_room"]


def envelope_room(typed: str, command: str) -> Allowed:
    """Return the room in what is named, less what is left on each side. Raises InputError for another word."""
    try:
        found = as_envelope(typed, "mm")
    except InputError as fault:
        say = fault.say if "nearest" in fault.say else f"{fault.say} Write for example C6, A5, 114x162mm or 76mm."
        raise InputError(say, where=f'{command}, --goes-in "{typed}"', code=fault.code) from fault
    what = f"{found.words} with {EACH_SIDE_MM:g} mm each side"
    kind: Literal["sheet", "envelope"] = "sheet" if found.kind == "sheet" else "envelope"
    return Allowed(found.short_mm, found.long_mm, what, kind, is_round=found.kind == "circle")


def sheet_room(sheet: str | None, margin: str | None, command: str) -> Allowed:
    """Return the room on a sheet less its margin, with all larger sheets to be offered.

    Raises InputError for what is no sheet, for no margin, for a margin that leaves nothing, and for a margin alone.
    """
    where = f'{command}, --margin "{margin}"'
    margin_mm = MARGIN_MM
    if margin is not None:
        if sheet is None:
            raise InputError("of which sheet. Name it too, for example: --sheet A4", where=where, code="alone")
        try:
            margin_mm = parse_length_mm(margin)
        except InputError as fault:
            raise InputError(fault.say, where=where, code=fault.code) from fault
    try:
        size = parse_sheet(sheet)
    except InputError as fault:
        raise InputError(fault.say, where=f'{command}, --sheet "{sheet}"', code=fault.code) from fault
    least = min(size.width_mm, size.height_mm)
    if not 0 <= margin_mm < least / 2:
        say = f"a margin of {format_floor(margin_mm)} leaves nothing of {size.words}. Write less than {least / 2:g}mm."
        raise InputError(say, where=where, code="range")
    larger = tuple(_room(other, margin_mm) for other in larger_sheets(size))
    return replace(_room(size, margin_mm), larger=larger)


def _room(size: SheetSize, margin_mm: float) -> Allowed:
    """Return the room on a sheet; a piece may be turned, so that its shorter side comes first."""
    short, long = sorted((size.width_mm, size.height_mm))
    what = f"{size.words} with {format_floor(margin_mm)} margin"
    typed = f"--sheet {size.typed}"
    return Allowed(short - 2 * margin_mm, long - 2 * margin_mm, what, "sheet", typed=typed)
