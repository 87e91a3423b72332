"""The pieces of a recipe as they lie on their sheets, moved and turned by the maker, and what is wrong there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.job.kept_layouts import LayoutStore, keeping_layouts
from frameforge.job.laying import Search, Telling, designs_of, layouts_of, sheet_names_of
from frameforge.job.made import MadePiece
from frameforge.job.make_sheets import parts_of, search_of, sheet_groups
from frameforge.job.motif_source import MotifSource
from frameforge.job.part import Part
from frameforge.job.sheet_terms import SheetGroup
from frameforge.job.stated import stated_layouts, statements_of
from frameforge.job.stoppable import never_stopped
from frameforge.recipe.model import LaidTable
from frameforge.recipe.recipe import Recipe
from frameforge.sheet.clear import clear_place
from frameforge.sheet.design import Design, Placed
from frameforge.sheet.lay import Laid, LaidSheet
from frameforge.sheet.nearness import Body, Neighbours

__all__ = ["LAYOUTS", "OnSheets", "SheetHeld", "laid_by_search", "laid_tables", "on_sheets"]

LAYOUTS: Final[LayoutStore] = LayoutStore()
"""What was laid last, to be looked at or to be taken."""

_STEP_MM = 0.1
"""Pieces are moved by whole tenths of a millimetre from where they lay."""

_ROUND_MM = 6
"""Decimals of a place: a millionth of a millimetre, as a layout that was found is kept."""


@dataclass(frozen=True)
class SheetHeld:
    """One sheet: the group of pieces that may lie on it, its number among the sheets of its card, what lies there.

    ``rows`` are the numbers (from 0, in the list of all places) of its pieces.
    """

    group: int
    number: int
    laid: LaidSheet
    rows: tuple[int, ...]
    regions: tuple[tuple[Region, ...], ...]

    @cached_property
    def neighbours(self) -> Neighbours:
        """Its pieces, made ready for asking how near they are."""
        return Neighbours(self.regions)


class OnSheets:
    """All pieces of a recipe on their sheets, by the places of a list: as they were found, or as they were moved."""

    def __init__(
        self,
        recipe: Recipe,
        groups: Sequence[SheetGroup],
        tables: Sequence[LaidTable],
        before: OnSheets | None = None,
    ) -> None:
        """Lay the pieces where the list says; what lay so ``before``, of the same groups, is not laid anew.

        Raises InputError for a list that does not go with the pieces.
        """
        self.recipe = recipe
        self.groups = tuple(groups)
        self.tables = tuple(tables)
        self._turned: dict[tuple[str, float], tuple[Region, complex]] = before._turned if before else {}
        self._bodies: dict[tuple[str, float], Body] = before._bodies if before else {}
        self._lying: dict[LaidTable, tuple[Region, ...]] = before._lying if before else {}
        self.search: Search = search_of(recipe.tables.sheets)
        where = recipe.source.place(("sheets", "laid"))
        layouts = stated_layouts(
            self.groups, self.tables, lambda number: f"{where}, laid {number + 1}", "free", has_hosts=False
        )
        self.layouts: tuple[Laid, ...] = tuple(laid for laid in layouts if laid is not None)
        if len(self.layouts) != len(self.groups):
            say = "not every piece has a place. Show the sheets again, and they are laid."
            raise InputError(say, where="desk, laid", code="laid")
        self.sheets = tuple(self._held())

    def _held(self) -> list[SheetHeld]:
        found = []
        numbers: dict[str | None, int] = {}
        for k, (group, laid) in enumerate(zip(self.groups, self.layouts, strict=True)):
            designs = designs_of(group, self.search.turn)
            names = {part.name.casefold() for part in group.parts}
            for one in laid.sheets:
                numbers[group.card] = number = numbers.get(group.card, 0) + 1
                rows = tuple(
                    row
                    for row, table in enumerate(self.tables)
                    if table.sheet == number and table.piece.casefold() in names
                )
                regions = tuple(
                    self._regions(self.tables[row], place, designs) for row, place in zip(rows, one.placed, strict=True)
                )
                found.append(SheetHeld(k, number, one, rows, regions))
        return found

    def _regions(self, table: LaidTable, place: Placed, designs: tuple[Design, ...]) -> tuple[Region, ...]:
        """Return a piece where it lies, kept from before where it lay there then."""
        if table not in self._lying:
            self._lying[table] = place.regions(designs)
        return self._lying[table]

    def body(self, row: int, middle: complex, turn_deg: float) -> Body:
        """Return a piece made ready for measuring, its middle at a point, turned clockwise so."""
        key = self.tables[row].piece.casefold(), turn_deg % 360
        if key not in self._bodies:
            self._bodies[key] = Body((self.turned(row, turn_deg)[0],))
        return self._bodies[key].moved(middle)

    def part_of(self, row: int) -> Part:
        """Return the piece that a place is of."""
        name = self.tables[row].piece.casefold()
        return next(part for group in self.groups for part in group.parts if part.name.casefold() == name)

    def sheet_of(self, row: int) -> SheetHeld:
        """Return the sheet that a place is on."""
        return next(sheet for sheet in self.sheets if row in sheet.rows)

    def name_of(self, row: int) -> str:
        """Return what a piece is called: "badge 3", without a number where there is one of it."""
        name = self.tables[row].piece.casefold()
        alike = [k for k, table in enumerate(self.tables) if table.piece.casefold() == name]
        part = self.part_of(row)
        return f"{part.name} {alike.index(row) + 1}" if len(alike) > 1 else part.name

    def turned(self, row: int, turn_deg: float) -> tuple[Region, complex]:
        """Return a piece turned clockwise about its middle, which then lies at 0, and the middle of its upright box."""
        key = self.tables[row].piece.casefold(), turn_deg % 360
        if key not in self._turned:
            region = self.part_of(row).cut.region
            turn = Affine.from_turn(math.radians(-turn_deg)) if turn_deg % 360 else Affine(1)
            found = region.transformed(turn.after(Affine.from_move(-bounds(region).center)))
            self._turned[key] = found, bounds(found).center
        return self._turned[key]

    def middle(self, row: int) -> complex:
        """Return where the middle of a piece lies on its sheet (mm): the point it is turned about."""
        table = self.tables[row]
        _, center = self.turned(row, table.turn)
        return complex(table.from_left, table.from_bottom) - center

    def stepped(self, row: int, middle: complex) -> complex:
        """Return a middle put where whole steps from where a piece lies now lead nearest to it."""
        now = self.middle(row)
        way = middle - now
        return now + complex(round(way.real / _STEP_MM) * _STEP_MM, round(way.imag / _STEP_MM) * _STEP_MM)

    def moved(self, row: int, sheet: SheetHeld | None, middle: complex, turn_deg: float) -> tuple[LaidTable, ...]:
        """Return the places with one piece moved: onto a sheet (None: a new one), its middle to a point, turned so."""
        _, center = self.turned(row, turn_deg)
        at = middle + center
        old = self.tables[row]
        new = replace(
            old,
            from_left=max(round(at.real, _ROUND_MM), 0.0),
            from_bottom=max(round(at.imag, _ROUND_MM), 0.0),
            turn=round(turn_deg % 360, 6) % 360,
        )
        if sheet is None:
            new = replace(new, sheet=math.inf)  # type: ignore[arg-type]  # behind all others, numbered at once
        elif sheet.number != old.sheet:
            names = sheet_names_of(self.groups[sheet.group])
            new = replace(new, sheet=sheet.number, size=names[sheet.laid.kind] if len(names) > 1 else None)
        return self._numbered((*self.tables[:row], new, *self.tables[row + 1 :]))

    def cleared(self, row: int) -> tuple[LaidTable, ...] | None:
        """Return the places with one piece moved a little so that it lies clear; None where no such place is found."""
        sheet = self.sheet_of(row)
        move = clear_place(sheet.regions, sheet.rows.index(row), sheet.laid.sheet, sheet.laid.used)
        if move is None:
            return None
        return self.moved(row, sheet, self.middle(row) + move, self.tables[row].turn)

    def _numbered(self, tables: tuple[LaidTable, ...]) -> tuple[LaidTable, ...]:
        """Return places with the sheets of each card numbered without a break, group by group."""
        group_of = {part.name.casefold(): k for k, group in enumerate(self.groups) for part in group.parts}
        keys = [(group_of[table.piece.casefold()], table.sheet) for table in tables]
        numbers: dict[tuple[int, int], int] = {}
        counts: dict[str | None, int] = {}
        for key in sorted(set(keys)):
            card = self.groups[key[0]].card
            counts[card] = numbers[key] = counts.get(card, 0) + 1
        return tuple(replace(table, sheet=numbers[key]) for table, key in zip(tables, keys, strict=True))


def on_sheets(recipe: Recipe, pieces: Sequence[MadePiece], source: MotifSource, laid: object) -> OnSheets:
    """Return the pieces of a recipe by the places that the page holds (``laid_tables``), or else by the recipe's own.

    Raises InputError where there are none, or they do not go with the pieces.
    """
    groups = sheet_groups(recipe, parts_of(recipe, pieces), source.beside)
    tables = _tables_of(laid) if laid is not None else recipe.tables.sheets.laid if recipe.tables.sheets else ()
    return OnSheets(recipe, groups, tables)


def laid_by_search(recipe: Recipe, pieces: Sequence[MadePiece], source: MotifSource, tell: Telling) -> OnSheets:
    """Return the pieces of a recipe where it says that they lie, and else where the placer lays them.

    Raises LeftOverError for pieces that no sheet takes, InputError for places that do not go with the pieces.
    """
    groups = sheet_groups(recipe, parts_of(recipe, pieces), source.beside)
    sheets = recipe.tables.sheets
    search = search_of(sheets)

    def where(number: int) -> str:
        return recipe.source.place(("sheets", "laid", number))

    known = stated_layouts(groups, sheets.laid, where, search.turn) if sheets and sheets.laid else [None] * len(groups)
    if all(laid is not None for laid in known) and sheets:
        return OnSheets(recipe, groups, sheets.laid)
    with keeping_layouts(LAYOUTS):
        found, _ = layouts_of(groups, search, tell, never_stopped, known)
    return OnSheets(recipe, groups, statements_of(found))


def laid_tables(tables: Sequence[LaidTable], unit: str = "mm") -> list[dict[str, Any]]:
    """Return places as they stand in a recipe; where its bare numbers are no millimetres, with their unit."""
    return [_as_raw(table, unit) for table in tables]


def _as_raw(table: LaidTable, unit: str) -> dict[str, Any]:
    def length(mm: float) -> float | int | str:
        number = int(mm) if mm == int(mm) else mm
        return number if unit == "mm" else f"{number}mm"

    found: dict[str, Any] = {"piece": table.piece, "sheet": table.sheet}
    if table.size is not None:
        found["size"] = table.size
    found |= {"from_left": length(table.from_left), "from_bottom": length(table.from_bottom)}
    if table.turn:
        found["turn"] = int(table.turn) if table.turn == int(table.turn) else table.turn
    return found


_FIELDS = {"piece": str, "sheet": int, "from_left": float, "from_bottom": float, "turn": float, "size": str}
_MOST = 10_000


def _tables_of(laid: object) -> tuple[LaidTable, ...]:
    """Return the places that the page hands back, as it was told them in mm. Raises InputError for anything else."""
    say = "the places of the pieces cannot be read. Load the page again."
    if not isinstance(laid, list) or len(laid) > _MOST:
        raise InputError(say, where="desk, laid", code="laid")
    return tuple(_table_of(entry, say) for entry in laid)


def _table_of(entry: object, say: str) -> LaidTable:
    values: dict[str, Any] = {}
    for key, value in entry.items() if isinstance(entry, Mapping) else ():
        kind = _FIELDS.get(key)
        is_sound = isinstance(value, (int, float) if kind is float else kind or ()) and not isinstance(value, bool)
        if kind is None or not is_sound or (kind is float and not 0 <= value < 1e5):
            raise InputError(say, where="desk, laid", code="laid")
        values[key] = kind(value)
    if not {"piece", "from_left", "from_bottom"} <= values.keys():
        raise InputError(say, where="desk, laid", code="laid")
    return LaidTable(**values)
