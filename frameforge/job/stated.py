"""Pieces that the recipe says the places of: the layout as it is written there, nothing looked for."""

from __future__ import annotations

import difflib
import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from frameforge.errors import InputError
from frameforge.job.laying import copies_of, designs_of, sheet_names_of
from frameforge.job.sheet_terms import SheetGroup
from frameforge.recipe.model import LaidTable
from frameforge.sheet.design import Design, Layout, Placed, Turning
from frameforge.sheet.lay import Laid, LaidSheet, sheets_at_least
from frameforge.sheet.openings import with_hosts

__all__ = ["STATED", "Where", "stated_layouts", "statements_of"]

Where = Callable[[int], str]
"""Gives the place of one statement, by its number from 0, for messages."""

STATED: Final = "as stated"
"""What such a layout was found by."""

_ANEW: Final = "or leave out laid to have the pieces laid anew"
_STEP_DEG: Final = {"quarter": 90.0, "half": 180.0, "none": 360.0}
_LEAST_DEG: Final = 1e-9


@dataclass(frozen=True, slots=True)
class _Stated:
    """One statement, with its number from 0 in the recipe."""

    number: int
    table: LaidTable


def stated_layouts(
    groups: Sequence[SheetGroup], tables: Sequence[LaidTable], where: Where, turn: Turning, *, has_hosts: bool = True
) -> tuple[Laid | None, ...]:
    """Return the layout that the recipe states for each group, None for a group of whose card it says nothing.

    Whether the pieces lie clear of one another is not looked at; ``has_hosts`` tells whether it is looked at in whose
    opening a piece lies. Raises InputError with every statement that means no
    piece or no sheet, turns a piece as it may not, or leaves a copy without a place.
    """
    by_name = {part.name.casefold(): (k, part) for k, group in enumerate(groups) for part in group.parts}
    faults: list[InputError] = []
    of_group: dict[int, list[_Stated]] = {}
    for number, table in enumerate(tables):
        found = by_name.get(table.piece.casefold())
        say = _unknown_say(table.piece, [part.name for _, part in by_name.values()]) if found is None else ""
        say = say or _turn_say(table.turn, turn)
        if say:
            faults.append(InputError(say, where=where(number), code="laid"))
        if found is not None:
            of_group.setdefault(found[0], []).append(_Stated(number, table))
    cards = {groups[k].card for k in of_group}
    asked = {k: of_group.get(k, []) for k, group in enumerate(groups) if group.card in cards}
    for k, stated in asked.items():
        faults += _count_faults(groups[k], stated, where)
    faults += _number_faults(groups, asked, where)
    kinds = {k: _kinds(groups[k], stated, where, faults) for k, stated in asked.items()}
    if faults:
        raise InputError.from_many(list(faults))
    return tuple(
        _laid(group, asked[k], kinds[k], turn, has_hosts=has_hosts) if k in asked else None
        for k, group in enumerate(groups)
    )


def statements_of(found: Sequence[tuple[SheetGroup, Laid]]) -> tuple[LaidTable, ...]:
    """Return the statements that give layouts back, to a millionth of a millimetre, sheet by sheet.

    Laid so again no distance is shorter by more than the proof lets pass.
    """
    tables: list[LaidTable] = []
    numbers: Counter[str | None] = Counter()
    for group, laid in found:
        copies, names = copies_of(group), sheet_names_of(group)
        for sheet in laid.sheets:
            numbers[group.card] += 1
            size = names[sheet.kind] if len(names) > 1 else None
            for placed in sheet.placed:
                part, _ = copies[placed.design][placed.copy - 1]
                at, turn = (round(placed.x_mm, 6), round(placed.y_mm, 6)), round(-placed.turn_deg % 360, 9)
                tables.append(LaidTable(part.name, *at, numbers[group.card], turn % 360, size))
    return tuple(tables)


def _unknown_say(name: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.0)
    return f'no piece is called "{name}"; the nearest is {near[0]}. Write that, {_ANEW}.'


def _turn_say(turn_deg: float, turn: Turning) -> str:
    """Return the sentence for a piece turned as pieces of the recipe may not be; empty where it may."""
    step = _STEP_DEG.get(turn)
    rest = 0.0 if step is None else abs(math.remainder(turn_deg, step))
    if step is None or rest <= _LEAST_DEG:
        return ""
    may = "not at all" if turn == "none" else f"by {step:g} deg or a multiple of that"
    return f'{turn_deg:g} deg of turn, and by turn = "{turn}" pieces turn {may}. Write another turn, or turn = "free".'


def _count_faults(group: SheetGroup, stated: Sequence[_Stated], where: Where) -> list[InputError]:
    """Return a fault for each piece of a group with more or fewer places than it is laid times."""
    found = []
    numbers: dict[str, list[int]] = {}
    for one in stated:
        numbers.setdefault(one.table.piece.casefold(), []).append(one.number)
    first = stated[0].number if stated else 0
    for part in group.parts:
        mine, wanted = numbers.get(part.name.casefold(), []), group.laid_copies(part)
        if len(mine) == wanted:
            continue
        more = wanted - len(mine)
        what = f"say where {more} more lie" if more > 0 else f"leave out {-more}"
        times = "once" if wanted == 1 else f"{wanted} times"
        say = f"{part.name} is laid {times}, and laid says so {len(mine)} times. {what[0].upper()}{what[1:]}, {_ANEW}."
        place = where(mine[wanted] if more < 0 else mine[-1] if mine else first)
        found.append(InputError(say, where=place, code="laid"))
    return found


def _number_faults(groups: Sequence[SheetGroup], asked: dict[int, list[_Stated]], where: Where) -> list[InputError]:
    """Return the faults of numbers that leave a sheet empty, or that pieces of different sheets share."""
    found = []
    last: dict[str | None, int] = {}
    for k, stated in asked.items():
        card = groups[k].card
        before = last.get(card, 0)
        numbers = {one.table.sheet for one in stated}
        expected = set(range(before + 1, before + len(numbers) + 1))
        if numbers != expected and stated:
            wrong = next(one for one in stated if one.table.sheet not in expected)
            of = f" of {card}" if card else ""
            why = (
                f"the sheets{of} before it end with {before}" if before else f"sheet {min(expected - numbers)} is empty"
            )
            say = f"sheet {wrong.table.sheet}{of}, and {why}. Number them from {before + 1} without a break."
            found.append(InputError(say, where=where(wrong.number), code="laid"))
        last[card] = before + len(numbers)
    return found


def _kinds(group: SheetGroup, stated: Sequence[_Stated], where: Where, faults: list[InputError]) -> dict[int, int]:
    """Return the kind (its place in the stock) of each sheet by its number, faults added for those that are none."""
    usual = next(k for k, kind in enumerate(group.stock.kinds) if kind.how_many is None)
    names = sheet_names_of(group)
    found: dict[int, int] = {}
    for one in stated:
        size = one.table.size
        kind = found.get(one.table.sheet, usual) if size is None else _kind_of(size, names)
        if kind is None:
            say = f'no sheet to lie on is called "{size}". Write {" or ".join(names)}.'
        elif found.setdefault(one.table.sheet, kind) != kind:
            say = f"sheet {one.table.sheet} is {names[found[one.table.sheet]]} before. Give one of them another number."
        else:
            continue
        faults.append(InputError(say, where=where(one.number), code="laid"))
    for kind, count in Counter(found.values()).items():
        limit = group.stock.kinds[kind].how_many
        if limit is not None and count > limit:
            say = f"there is one sheet {names[kind]}, and laid names {count}. Write another size for the others."
            number = next(one.number for one in stated if found.get(one.table.sheet) == kind)
            faults.append(InputError(say, where=where(number), code="laid"))
    return found


def _kind_of(size: str, names: Sequence[str]) -> int | None:
    """Return the place of a sheet's name, blanks and capitals aside."""
    plain = ["".join(name.split()).casefold() for name in names]
    wanted = "".join(size.split()).casefold()
    return plain.index(wanted) if wanted in plain else None


def _laid(
    group: SheetGroup, stated: Sequence[_Stated], kinds: dict[int, int], turn: Turning, *, has_hosts: bool
) -> Laid:
    """Return the layout of one group. Copies of a piece are counted in the order of the recipe."""
    designs, copies = designs_of(group, turn), copies_of(group)
    free = {
        (id(part), copy): (design, number)
        for design, of_design in enumerate(copies)
        for number, (part, copy) in enumerate(of_design, start=1)
    }
    parts = {part.name.casefold(): part for part in group.parts}
    given: Counter[int] = Counter()
    sheets: dict[int, list[Placed]] = {number: [] for number in sorted(kinds)}
    for one in stated:
        part = parts[one.table.piece.casefold()]
        given[id(part)] += 1
        sheets[one.table.sheet].append(_placed(one.table, *free[id(part), given[id(part)]]))
    layout = Layout(tuple(map(tuple, sheets.values())))
    return _of_stock(group, designs, tuple(kinds[number] for number in sheets), layout, has_hosts=has_hosts)


def _placed(table: LaidTable, design: int, copy: int) -> Placed:
    return Placed(design, copy, table.from_left, table.from_bottom, -table.turn % 360)


def _of_stock(
    group: SheetGroup, designs: tuple[Design, ...], kinds: tuple[int, ...], layout: Layout, *, has_hosts: bool
) -> Laid:
    """Return the layout on sheets of the stock, every piece told whose opening it lies in where that is asked for."""
    told = with_hosts(layout, designs) if has_hosts else layout
    stock = group.stock
    laid = tuple(
        LaidSheet(kind, stock.kinds[kind].sheet, stock.kinds[kind].used, placed)
        for kind, placed in zip(kinds, told.sheets, strict=True)
    )
    return Laid(laid, (), sheets_at_least(designs, stock), STATED, 0, False)
