"""Whether pieces lie clear of one another where the recipe says they lie, and what to do where they do not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from frameforge.errors import FrameforgeError, NestError
from frameforge.job.laying import copies_of, designs_of
from frameforge.job.sheet_terms import SheetGroup
from frameforge.job.stated import Where
from frameforge.recipe.model import LaidTable
from frameforge.sheet.clear import clear_place
from frameforge.sheet.design import Turning
from frameforge.sheet.lay import Laid, LaidSheet
from frameforge.sheet.verify import Fault, faults_on
from frameforge.units import format_floor

__all__ = ["copy_words", "refuse_near", "sheet_faults", "too_near_words"]

_LEAST_OFFER_MM = 0.01


def sheet_faults(group: SheetGroup, laid: Laid, turn: Turning) -> tuple[Fault, ...]:
    """Return everything that the proof finds wrong with the layout of a group; sheets are counted from 0."""
    sheets = laid.sheets
    return faults_on(laid.layout, designs_of(group, turn), [one.sheet for one in sheets], [one.used for one in sheets])


@dataclass(frozen=True, slots=True)
class _Found:
    """One fault on a sheet of a group, with what stands there."""

    group: SheetGroup
    laid: LaidSheet
    sheet_name: str
    fault: Fault
    turn: Turning


def refuse_near(
    groups: Sequence[SheetGroup],
    layouts: Sequence[Laid | None],
    tables: Sequence[LaidTable],
    where: Where,
    turn: Turning,
) -> None:
    """Raise NestError, a line for each place, where stated pieces lie nearer than wanted to one another or to an edge.

    Every line offers a place that holds, found by trial, or the distance that there is.
    """
    found: list[_Found] = []
    for group, laid in zip(groups, layouts, strict=True):
        faults = () if laid is None else sheet_faults(group, laid, turn)
        assert laid is not None or not faults
        for fault in faults:
            sheet = laid.sheets[fault.sheet]  # type: ignore[union-attr]  # there are faults
            number = fault.sheet + 1 + _before(groups, layouts, group)
            name = f"{group.card} sheet {number}" if group.card else f"sheet {number}"
            found.append(_Found(group, sheet, name, fault, turn))
    if not found:
        return
    least = _least(found)
    numbers = _numbers(groups, tables)
    lines: list[FrameforgeError] = []
    for one in found:
        mover = one.fault.places[-1]
        said = too_near_words(one.group, one.laid, one.fault)
        say = f"on {one.sheet_name} {said}. {_ways(one, mover, least)}"
        number = numbers[_copy_key(one.group, one.laid, mover)]
        lines.append(NestError(say, where=where(number), code="too-near", measured=one.fault.measured_mm))
    raise NestError.from_many(lines)


def _before(groups: Sequence[SheetGroup], layouts: Sequence[Laid | None], group: SheetGroup) -> int:
    """Return how many sheets of the same card the groups before one take."""
    ahead = groups[: [id(one) for one in groups].index(id(group))]
    return sum(len(laid.sheets) for one, laid in zip(ahead, layouts, strict=False) if laid and one.card == group.card)


def too_near_words(group: SheetGroup, laid: LaidSheet, fault: Fault) -> str:
    """Return what is wrong: "badge 3 lies 1.24 mm from badge 5, 3 mm wanted"."""
    first, last = (copy_words(group, laid, place) for place in (fault.places[0], fault.places[-1]))
    if "margin" in fault.say:
        edge = laid.sheet.margin_mm - fault.measured_mm
        wanted = format_floor(laid.sheet.margin_mm)
        if edge < 0:
            return f"{first} reaches {format_floor(-edge)} over the edge"
        return f"{first} lies {format_floor(edge)} from the edge, {wanted} wanted"
    other = "what was cut before" if "used" in fault.say else first
    if fault.say.startswith("overlap"):
        return f"{last} lies over {other}"
    return f"{last} lies {format_floor(fault.measured_mm)} from {other}, {format_floor(laid.sheet.apart_mm)} wanted"


def _copy_key(group: SheetGroup, laid: LaidSheet, place: int) -> tuple[str, int]:
    """Return the name of the piece at a place of a sheet, and which copy of it that is, from 1."""
    placed = laid.placed[place]
    part, copy = copies_of(group)[placed.design][placed.copy - 1]
    return part.name, copy


def copy_words(group: SheetGroup, laid: LaidSheet, place: int) -> str:
    """Return what a piece on a sheet is called: "badge 3", without a number where there is one of it."""
    name, copy = _copy_key(group, laid, place)
    part = next(part for part in group.parts if part.name == name)
    return f"{name} {copy}" if group.laid_copies(part) > 1 else name


def _numbers(groups: Sequence[SheetGroup], tables: Sequence[LaidTable]) -> Mapping[tuple[str, int], int]:
    """Return the number of the statement of each copy, by name and copy."""
    names = {part.name.casefold(): part.name for group in groups for part in group.parts}
    counts: dict[str, int] = {}
    found = {}
    for number, table in enumerate(tables):
        name = names[table.piece.casefold()]
        counts[name] = counts.get(name, 0) + 1
        found[name, counts[name]] = number
    return found


def _least(found: Sequence[_Found]) -> Mapping[str, float]:
    """Return the distances that would do, by option: only where they would do for all pieces that lie too near."""
    least: dict[str, float] = {}
    for one in found:
        is_edge = "margin" in one.fault.say
        key = "margin" if is_edge else "apart"
        there = one.laid.sheet.margin_mm - one.fault.measured_mm if is_edge else one.fault.measured_mm
        if one.fault.say.startswith("overlap"):
            there = 0.0
        if one.group.notes or any(part.lead_in_mm for part in one.group.parts):
            there = 0.0  # what a lead-in needs cannot be taken away
        least[key] = min(least.get(key, math.inf), there)
    return {key: math.floor(mm * 100 + 1e-4) / 100 for key, mm in least.items() if mm >= _LEAST_OFFER_MM}


def _ways(one: _Found, mover: int, least: Mapping[str, float]) -> str:
    """Return what to do: a place near by where the piece lies clear, or the distance that there is."""
    ways = list(_offers(one, mover, least))
    if not ways:
        return "Lay it elsewhere, or leave out laid to have the pieces laid anew."
    return f"{' or '.join(ways)}."


def _offers(one: _Found, mover: int, least: Mapping[str, float]) -> Iterator[str]:
    regions = [place.regions(designs_of(one.group, one.turn)) for place in one.laid.placed]
    placed = one.laid.placed[mover]
    move = clear_place(regions, mover, one.laid.sheet, one.laid.used)
    if move is not None:
        x, y = placed.x_mm + move.real, placed.y_mm + move.imag
        yield f"Write from_left = {round(x, 6):g}mm, from_bottom = {round(y, 6):g}mm"
    key = "margin" if "margin" in one.fault.say else "apart"
    if key in least:
        yield f"{'t' if move is not None else 'T'}ake --{key} {least[key]:g}mm"
