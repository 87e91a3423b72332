"""What is said of sheets: one line for each, and the closing line of them all."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Sequence

from frameforge.frame.wording import plural
from frameforge.job.laid_sheet import SheetMade, SheetsMade
from frameforge.job.part import Part
from frameforge.sheet.off_cuts import OffCut
from frameforge.units import format_mm, format_seconds
from frameforge.write.report import ReportTable

__all__ = [
    "closing_line",
    "percent",
    "rest_words",
    "sheet_lines",
    "sheet_tables",
    "size_words",
    "what_lies",
    "what_words",
    "work_words",
]

_PLAIN = re.compile(r"[^\W\d_]+(?:[- ][^\W\d_]+)*")
"""A name made of words alone, which can stand in a sentence."""


def closing_line(made: SheetsMade) -> str:
    """Return the closing line: "24 badges on 3 sheets: moss 1, sand 1, brick 1. Card used 49 %."."""
    sheets = "1 sheet" if made.count == 1 else f"{made.count} sheets"
    cards = ", ".join(f"{card or 'other'} {count}" for card, count in made.of_card().items())
    named = f": {cards}" if set(made.of_card()) != {None} else ""
    return f"{what_words(made.parts)} on {sheets}{named}. Card used {percent(made.card_used)}."


def percent(share: float) -> str:
    """Return a share in whole per cent, never rounded up."""
    return f"{math.floor(100 * share + 1e-9)} %"


def what_words(parts: Sequence[Part]) -> str:
    """Return how many pieces there are, by their name where they have one: "24 badges", "26 pieces".

    A name that differs by the colour of the card alone is one name: badge-moss and badge-sand are badges.
    """
    count = sum(part.copies for part in parts)
    names = {part.kind or _without_card(part) for part in parts}
    name = names.pop() if len(names) == 1 else ""
    if not _PLAIN.fullmatch(name):
        return "1 piece" if count == 1 else f"{count} pieces"
    return f"{count} {plural(name, count)}"


def _without_card(part: Part) -> str:
    """Return a name without the words of its card."""
    words = re.split(r"[-_ ]+", part.name)
    card = re.split(r"[-_ ]+", part.card.casefold()) if part.card else []
    return " ".join(word for word in words if word.casefold() not in card)


def what_lies(sheet: SheetMade) -> str:
    """Return what lies on a sheet: "8 x badge, 2 x gate-sign"."""
    return ", ".join(f"{count} x {name}" for name, count in sheet.counts().items())


def sheet_lines(made: SheetsMade) -> list[str]:
    """Return what is said of all sheets: one line each, the largest rests, what was cut short, the closing line."""
    lines = [line for _, alike in itertools.groupby(made.sheets, _said_alike) for line in _lines_of(list(alike))]
    lines += [f"{note[0].upper()}{note[1:]}" for note in made.notes]
    lines += [line for line in (_surplus(made), _cost(made)) if line]
    if made.is_interrupted:
        lines.append("Stopped early: this is the best layout found until then.")
    return [*lines, closing_line(made)]


def _said_alike(sheet: SheetMade) -> tuple[object, ...]:
    """Return what is the same for sheets that are told in one line."""
    return sheet.card, size_words(sheet), sheet.stack, tuple(sorted(sheet.counts().items()))


def _lines_of(sheets: Sequence[SheetMade]) -> list[str]:
    """Return what is said of sheets in a row that hold the same: "moss-sheet-1, A4 (210 x 297 mm): 8 x badge. ..."."""
    first = sheets[0]
    more = f" to {sheets[-1].name.rsplit('-', 1)[-1]}" if len(sheets) > 1 else ""
    stack = f", {first.stack} at once" if first.stack > 1 else ""
    each = " each" if more else ""
    line = f"{first.name}{more}, {size_words(first)}{stack}: {what_lies(first)}{each}. Card used "
    line += f"{percent(first.card_used)}, {work_words(first)}{each}."
    rests = {rest_words(sheet.off_cuts[0]) if sheet.off_cuts else "" for sheet in sheets}
    return [line, *(f"  Left of it: {rest}." for rest in rests if rest and len(rests) == 1)]


def size_words(sheet: SheetMade) -> str:
    """Return the size of a sheet: "A4 (210 x 297 mm)"; one that is called by its sides is not told twice."""
    sides = f"{format_mm(sheet.sheet.width_mm).removesuffix(' mm')} x {format_mm(sheet.sheet.height_mm)}"
    begun = " begun before" if sheet.used else ""
    return f"{sides}{begun}" if sheet.size.name == sides else f"{sheet.size.name} ({sides}){begun}"


def work_words(sheet: SheetMade) -> str:
    """Return what cutting a sheet takes: "4.3 m to cut in 40 lifts, about 3 min 50 s"."""
    lifts = f"{sheet.lifts} lift{'s' if sheet.lifts != 1 else ''}"
    return f"{format_mm(sheet.cut_length_mm)} to cut in {lifts}, about {format_seconds(sheet.cut_s)}"


def rest_words(cut: OffCut) -> str:
    """Return a rest by what fits in it: "a disc of 61.2 mm, or 40.5 x 190 mm"; cut to .1 so that it does."""
    disc = math.floor(cut.disc_mm * 10 + 1e-9) / 10
    sides = (math.floor(side * 10 + 1e-9) / 10 for side in (cut.rectangle.width_mm, cut.rectangle.height_mm))
    width, height = (f"{side:g}" for side in sides)
    return f"a disc of {disc:g} mm, or {width} x {height} mm"


def _surplus(made: SheetsMade) -> str:
    """Return how many more pieces a stack gives than were asked for."""
    cut = sum(len(sheet.pieces) * sheet.stack for sheet in made.sheets)
    more = cut - made.copies
    return f"The stacks give {more} more than asked for." if more > 0 else ""


def _cost(made: SheetsMade) -> str:
    return "" if made.cost is None else f"Cost of the sheets: {made.cost:.2f}."


def sheet_tables(made: SheetsMade) -> tuple[ReportTable, ...]:
    """Return the tables of a report: the sheets, and the rests that are worth keeping."""
    head = ("sheet", "card", "size", "at once", "pieces", "card used", "to cut", "lifts", "time", "cost")
    rows = [
        (
            sheet.name, sheet.card or "-", size_words(sheet), str(sheet.stack), what_lies(sheet),
            f"{100 * sheet.card_used:.2f} %", format_mm(sheet.cut_length_mm), str(sheet.lifts),
            format_seconds(sheet.cut_s), "-" if sheet.cost is None else f"{sheet.cost:.2f}",
        )
        for sheet in made.sheets
    ]  # fmt: skip
    waste = f"Waste {100 * (1 - made.card_used):.2f} %, about {format_seconds(made.cut_s)} of cutting."
    notes = [closing_line(made), waste, *(line for line in (_surplus(made), _cost(made)) if line), *made.notes]
    found = [ReportTable("Sheets", (head, *rows), tuple(notes))]
    if rests := [row for sheet in made.sheets for row in _rest_rows(sheet)]:
        found.append(ReportTable("Off-cuts worth keeping", (("sheet", "where", "disc", "rectangle"), *rests)))
    return tuple(found)


def _rest_rows(sheet: SheetMade) -> list[tuple[str, ...]]:
    """Return a row for each rest of a sheet; equal openings of like pieces stand once with their number."""
    rows: dict[tuple[str, ...], int] = {}
    for cut in sheet.off_cuts:
        where = "rest of the sheet" if cut.opening_of is None else f"opening of {_name(sheet, cut.opening_of)}"
        disc, sides = rest_words(cut).removeprefix("a disc of ").split(", or ")
        rows[(where, disc, sides)] = rows.get((where, disc, sides), 0) + 1
    return [
        (sheet.name, f"{where}, {count} times" if count > 1 else where, disc, sides)
        for (where, disc, sides), count in rows.items()
    ]


def _name(sheet: SheetMade, number: int) -> str:
    return sheet.pieces[number].part.name
