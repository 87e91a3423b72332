"""The pieces of a recipe as parts to be laid on sheets, and the sheets of each card."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from pathlib import Path

from frameforge.errors import InputError
from frameforge.job.laid_sheet import SheetsMade
from frameforge.job.laying import SEED, Search, Stated, Telling, laid_out
from frameforge.job.made import MadePiece
from frameforge.job.naming import file_word, free_name
from frameforge.job.output import cut_piece
from frameforge.job.part import Part
from frameforge.job.sheet_terms import SheetGroup, SheetTerms, default_size, groups_of, terms_of
from frameforge.job.stoppable import Stoppable
from frameforge.job.used_sheet import UsedSheet, read_used_sheet
from frameforge.recipe.model import CardTable, SheetsTable
from frameforge.recipe.recipe import Recipe
from frameforge.sheet.lay import Laid

__all__ = ["part_of", "parts_of", "search_of", "sheet_groups", "sheet_namer", "sheets_of", "sheets_of_parts"]


def sheets_of(
    recipe: Recipe, pieces: Sequence[MadePiece], beside: Path, tell: Telling, stoppable: Stoppable
) -> SheetsMade:
    """Return the pieces of a recipe laid on sheets; ``beside`` is the folder that files are named from.

    Raises NestError for pieces that no sheet takes, InputError and FileError for sheets that cannot be understood.
    """
    return sheets_of_parts(recipe, parts_of(recipe, pieces), beside, tell, stoppable)


def sheets_of_parts(
    recipe: Recipe, parts: Sequence[Part], beside: Path, tell: Telling, stoppable: Stoppable
) -> SheetsMade:
    """Return parts laid on the sheets that a recipe speaks of, as ``sheets_of`` does."""
    groups = sheet_groups(recipe, parts, beside)
    namer = sheet_namer({part.name for part in parts})
    return laid_out(groups, search_of(recipe.tables.sheets), tell, stoppable, namer, _stated(recipe))


def sheet_groups(recipe: Recipe, parts: Sequence[Part], beside: Path) -> tuple[SheetGroup, ...]:
    """Return parts in groups that are laid together, on the sheets that a recipe speaks of.

    Raises InputError and FileError for sheets that cannot be understood.
    """
    terms = _Terms(recipe, beside, {part.card for part in parts})
    return groups_of(parts, terms.of_card, terms.where)


def parts_of(recipe: Recipe, pieces: Sequence[MadePiece]) -> list[Part]:
    """Return the pieces of a recipe as they are laid, each on the sheets that its table names."""
    return [part_of(piece, _sheet_of(recipe, piece)) for piece in pieces]


def _stated(recipe: Recipe) -> Stated:
    """Return what gives the layouts that a recipe states, each found to lie clear."""
    sheets = recipe.tables.sheets
    if sheets is None or not sheets.laid:
        return lambda groups: [None] * len(groups)

    def stated(groups: Sequence[SheetGroup]) -> Sequence[Laid | None]:
        from frameforge.job.stated import stated_layouts  # here, since few recipes state one
        from frameforge.job.stated_proof import refuse_near

        def where(number: int) -> str:
            return recipe.source.place(("sheets", "laid", number))

        layouts = stated_layouts(groups, sheets.laid, where, sheets.turn)
        refuse_near(groups, layouts, sheets.laid, where, sheets.turn)
        return layouts

    return stated


def part_of(made: MadePiece, sheet: SheetsTable | None = None) -> Part:
    """Return a piece as it is laid, with every line of it; ``sheet`` holds the sizes it must lie on, where said."""
    return Part(
        name=made.name,
        cut=cut_piece(made),
        copies=made.copies,
        preset=made.preset,
        area_mm2=made.area_mm2,
        cut_length_mm=made.cut_length_mm,
        lifts=made.lifts,
        card=made.card,
        sheets=sheet.sheet if sheet else None,
        lead_in_mm=made.lead_in_mm,
        kerf_mm=made.kerf_mm,
    )


def search_of(sheets: SheetsTable | None) -> Search:
    """Return how a layout is looked for: as [sheets] says, else as we do."""
    if sheets is None:
        return Search()
    return Search(sheets.turn, SEED if sheets.seed is None else sheets.seed, sheets.tries)


class _NameGiver:
    """Names sheets by their card and number, none as another file of the run."""

    def __init__(self, taken: Collection[str]) -> None:
        self._taken = set(taken)

    def __call__(self, card: str | None, number: int) -> str:
        name = free_name(f"{file_word(card)}-sheet-{number}" if card else f"sheet-{number}", self._taken)
        self._taken.add(name)
        return name


def sheet_namer(taken: Collection[str]) -> _NameGiver:
    """Return the function that names sheets: "moss-sheet-1"; ``taken`` are names it must not give."""
    return _NameGiver(taken)


def _sheet_of(recipe: Recipe, made: MadePiece) -> SheetsTable | None:
    """Return the sheet that the table of a piece names."""
    kind, index = made.origin
    tables = getattr(recipe.tables, kind)
    sheet = getattr(tables[index], "sheet", None)
    return SheetsTable(sheet=sheet) if sheet else None


class _Terms:
    """What a recipe says of the sheets of each card, files of begun sheets read."""

    def __init__(self, recipe: Recipe, beside: Path, cards: Collection[str | None]) -> None:
        self._recipe, self._beside, self._cards = recipe, beside, cards

    def of_card(self, card: str | None) -> SheetTerms:
        """Return what holds for a card."""
        tables = self._recipe.tables
        table = tables.card.get(card or "", CardTable())
        return terms_of(tables.sheets, table, default_size(self._recipe), self._used(card, table))

    def where(self, card: str | None) -> str:
        """Return the place of a card's margin for messages."""
        tables, source = self._recipe.tables, self._recipe.source
        own = tables.card.get(card or "", CardTable())
        return source.place(("card", card or "", "margin") if own.margin is not None else ("sheets", "margin"))

    def _used(self, card: str | None, table: CardTable) -> tuple[UsedSheet, ...]:
        """Return the begun sheets of a card. Raises InputError where nothing tells which card they are of."""
        general = self._recipe.tables.sheets or SheetsTable()
        path: tuple[str | int, ...] = ("card", card or "", "used") if table.used else ("sheets", "used")
        if not table.used and general.used and len(self._cards) > 1:
            named = sorted(card or "no card named" for card in self._cards)
            say = f"the pieces are of several cards ({', '.join(named)}). Write used below the card it is of."
            raise InputError(say, where=self._recipe.source.place(path), code="several-cards")
        where = self._recipe.source.place(path)
        is_typed = self._recipe.source.option_of(path) is not None
        folder = Path() if is_typed else self._beside
        return tuple(read_used_sheet(folder / name, where=where) for name in table.used or general.used)
