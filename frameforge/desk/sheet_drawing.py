"""Sheets as the page draws them: pieces that can be taken up one by one, what is wrong with a ring round the place."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from frameforge.desk.marks import point_values
from frameforge.desk.on_sheets import OnSheets, SheetHeld, laid_tables
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.job.laid_sheet import LaidPiece, SheetMade, SheetsMade
from frameforge.job.laying import copies_of
from frameforge.job.make_sheets import sheet_namer
from frameforge.job.part import Part
from frameforge.job.sheet_files import kind_numbers, listed_words, widest_place
from frameforge.job.sheet_words import closing_line, percent, size_words
from frameforge.job.stated_proof import sheet_faults, too_near_words
from frameforge.picture.elements import BAR_MM, mm_to_px
from frameforge.picture.look import BENCH, card_colour
from frameforge.picture.path_text import open_text, region_text
from frameforge.sheet.nearness import Body, Neighbours, nearest_edge
from frameforge.sheet.verify import Fault
from frameforge.units import format_mm

__all__ = ["drawn_sheets", "sheet_scale", "to_sheet_px"]

_GREATEST_SCALE: Final = 3.0
"""Pixels for a millimetre at most: a small sheet stays recognisably small."""

_LEAST_RING_PX: Final = 9.0
_DIGITS: Final = 2
_STEP_MM, _STRIDE_MM = 1.0, 10.0
"""How far an arrow key moves a piece, and with Shift."""


def sheet_scale(held: OnSheets, width_px: float) -> float:
    """Return how many pixels a millimetre takes, the same for all sheets, the widest ``width_px`` wide."""
    return min(width_px / max(sheet.laid.sheet.width_mm for sheet in held.sheets), _GREATEST_SCALE)


def to_sheet_px(sheet: SheetHeld, scale: float) -> Affine:
    """Return the map from mm on a sheet, y up, to px from its upper left corner."""
    return mm_to_px(scale, complex(0, sheet.laid.sheet.height_mm * scale))


def drawn_sheets(held: OnSheets, width_px: float) -> dict[str, Any]:
    """Return all sheets with their pieces as plain values for the page, and what is wrong with them.

    Positions are px from the upper left corner of their sheet; shapes are drawn about the middle of their piece.
    """
    scale = sheet_scale(held, width_px)
    made = _made(held)
    numbers = kind_numbers(made)
    parts = list({id(part): part for group in held.groups for part in group.parts}.values())
    shapes = {id(part): k for k, part in enumerate(parts)}
    spots = {id(part): _spot(part) for part in parts if numbers[id(part)]}
    pieces = [
        {
            "row": row,
            "sheet": k,
            "shape": shapes[id(held.part_of(row))],
            "number": numbers[id(held.part_of(row))],
            "words": held.name_of(row),
            "turn": held.tables[row].turn,
            "x": to_sheet_px(sheet, scale).apply(held.middle(row)).real,
            "y": to_sheet_px(sheet, scale).apply(held.middle(row)).imag,
        }
        for k, sheet in enumerate(held.sheets)
        for row in sheet.rows
    ]
    return {
        "laid": laid_tables(held.tables),
        "scale": scale,
        "step": _STEP_MM * scale,
        "stride": _STRIDE_MM * scale,
        "bar": round(BAR_MM * scale, _DIGITS),
        "shapes": [_shape(part, scale, spots.get(id(part), 0j)) for part in parts],
        "pieces": sorted(pieces, key=lambda piece: piece["row"]),
        "sheets": [_sheet(sheet, one, scale, numbers) for sheet, one in zip(held.sheets, made.sheets, strict=True)],
        "faults": list(_faults(held, scale)),
        "said": [_last_words(held), closing_line(made)],
    }


def _made(held: OnSheets) -> SheetsMade:
    """Return the sheets as they are told; lines stand as they were before they were laid."""
    names = sheet_namer({part.name for group in held.groups for part in group.parts})
    sheets = []
    for sheet in held.sheets:
        group = held.groups[sheet.group]
        copies = copies_of(group)
        pieces = []
        for place in sheet.laid.placed:
            part, copy = copies[place.design][place.copy - 1]
            pieces.append(LaidPiece(part, copy, place.x_mm, place.y_mm, place.turn_deg, None, part.cut))
        size, laid = group.sizes[sheet.laid.kind], sheet.laid
        name = names(group.card, sheet.number)
        of = (name, group.card, size, laid.sheet, laid.used, tuple(pieces), group.price, group.stack)
        sheets.append(SheetMade(*of))
    parts = tuple(part for group in held.groups for part in group.parts)
    return SheetsMade(tuple(sheets), parts, 0)


def _sheet(sheet: SheetHeld, made: SheetMade, scale: float, numbers: dict[int, str]) -> dict[str, Any]:
    to_px = to_sheet_px(sheet, scale)
    of = sheet.laid.sheet
    card = "" if made.card is None or made.card in made.name else f", {made.card}"
    return {
        "name": made.name,
        "words": f"{made.name}{card}",
        "card": made.card or "no colour named",
        "group": sheet.group,
        "colour": card_colour(made.card),
        "bench": BENCH,
        "width": round(of.width_mm * scale, _DIGITS),
        "height": round(of.height_mm * scale, _DIGITS),
        "margin": round(of.margin_mm * scale, _DIGITS),
        "used": region_text((region.transformed(to_px) for region in made.used), _DIGITS),
        "lines": [size_words(made), listed_words(made, numbers), f"card used {percent(made.card_used)}"],
        "rows": list(sheet.rows),
    }


def _shape(part: Part, scale: float, spot: complex) -> dict[str, Any]:
    """Return the outline of a piece about its middle, the lines within it, and where its number stands."""
    box = bounds(part.cut.region)
    to_px = mm_to_px(scale, 0j, box.center)
    inner = [*part.cut.creases, *_loose(part)]
    return {
        "path": region_text([part.cut.region.transformed(to_px)], _DIGITS),
        "openings": " ".join(
            region_text([type(part.cut.region)(hole.reversed()).transformed(to_px)], _DIGITS)
            for hole in part.cut.region.holes
        ),
        "lines": [open_text([segment.transformed(to_px) for segment in run], _DIGITS) for run in inner],
        "spot": point_values(to_px.apply(spot)),
    }


def _loose(part: Part) -> Iterator[Any]:
    """Yield lines that cut within the card of a piece, as between rings."""
    own = part.cut.machine_cuts
    if own is not None and part.cut.region.holes is not None:
        box = bounds(part.cut.region)
        for run in own:
            inner = bounds(run)
            if _is_within(inner, box):
                yield run


def _is_within(inner: Box, outer: Box) -> bool:
    return inner.width_mm < outer.width_mm - 1e-6 and inner.height_mm < outer.height_mm - 1e-6


def _spot(part: Part) -> complex:
    return widest_place(part)[0]


def _faults(held: OnSheets, scale: float) -> Iterator[dict[str, Any]]:
    """Yield what the proof finds wrong, each with its place."""
    first = 0
    for group, laid in zip(held.groups, held.layouts, strict=True):
        for fault in sheet_faults(group, laid, held.search.turn):
            number = first + fault.sheet
            sheet = held.sheets[number]
            at, size_mm = _place(sheet, fault)
            yield {
                "sheet": number,
                "rows": [sheet.rows[place] for place in fault.places],
                "words": f"{too_near_words(group, sheet.laid, fault)}.",
                "row": sheet.rows[fault.places[-1]],
                "name": held.name_of(sheet.rows[fault.places[-1]]),
                **point_values(to_sheet_px(sheet, scale).apply(at)),
                "r": round(max(size_mm * scale / 2, _LEAST_RING_PX), _DIGITS),
            }
        first += len(laid.sheets)


def _place(sheet: SheetHeld, fault: Fault) -> tuple[complex, float]:
    """Return where a fault is, and the distance wanted there."""
    of = sheet.laid.sheet
    mine = Body(sheet.regions[fault.places[-1]])
    if "margin" in fault.say:
        found = nearest_edge(mine, of)
        return found.at, of.margin_mm
    others = [(region,) for region in sheet.laid.used] if "used" in fault.say else [sheet.regions[fault.places[0]]]
    near = Neighbours(others).nearest(mine)
    assert near is not None
    return (near.at + near.other_at) / 2, of.apart_mm


def _last_words(held: OnSheets) -> str:
    """Return how much of the last sheet is used, from its left margin on."""
    last = held.sheets[-1]
    right = max(bounds(regions).right for regions in last.regions)
    of = last.laid.sheet
    reach = format_mm(max(right - of.margin_mm, 0.0))
    return f"Of the last sheet {reach} of {format_mm(of.usable_mm[0])} are used, from its left margin on."
