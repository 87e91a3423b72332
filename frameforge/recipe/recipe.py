"""A recipe: TOML text to checked values, or every fault in it at once."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.recipe.crowd import crowd_faults, is_too_deep
from frameforge.recipe.faults import Fault, clashes
from frameforge.recipe.fold_faults import fold_faults
from frameforge.recipe.from_opening import opening_faults, with_inner_sizes
from frameforge.recipe.lines import line_numbers, line_of
from frameforge.recipe.model import PieceTable, RecipeTable, RingsTable
from frameforge.recipe.open_size import with_open_sizes
from frameforge.recipe.set_faults import layer_faults, ring_faults
from frameforge.recipe.single_tables import with_lists
from frameforge.recipe.source import Source
from frameforge.recipe.walk import walk

__all__ = ["Recipe", "as_error", "check_recipe", "parse_toml", "read_recipe"]


@dataclass(frozen=True, slots=True)
class Recipe:
    """A recipe whose every value was checked; ``raw`` is the same as it was written, for keeping."""

    tables: RecipeTable
    raw: Mapping[str, Any]
    source: Source

    @property
    def pieces(self) -> tuple[PieceTable, ...]:
        """The pieces asked for; at least one where there are no rings."""
        return self.tables.piece

    def asked(self, origin: tuple[str, int]) -> PieceTable | RingsTable:
        """Return the table that asks for pieces, by its kind ("piece" or "rings") and its number from 0."""
        kind, index = origin
        return self.tables.rings[index] if kind == "rings" else self.tables.piece[index]

    @property
    def given_names(self) -> frozenset[str]:
        """The names that were written."""
        pieces = (piece.name for piece in self.tables.piece)
        return frozenset(name for name in (*pieces, *(rings.name for rings in self.tables.rings)) if name)


def read_recipe(text: str, name: str) -> Recipe:
    """Return the recipe of a TOML text that stands in a file called ``name``. Raises InputError with every fault."""
    return check_recipe(parse_toml(text, name), Source(name=name, lines=line_numbers(text)))


_MOST_TOLD: Final = 50
"""Faults told at once: a screen is full of them."""

_AT: Final = re.compile(r"\(at line (\d+), column \d+\)")
_BARE: Final = re.compile(r"=\s*(?P<value>[^\s\"'\[\]{}#=][^\[\]{}#=]*?)\s*(?:#.*)?$")
_SAYS: Final = (
    ("twice", "this stands here a second time. Leave out one of the two."),
    ("overwrite", "this stands here a second time. Leave out one of the two."),
    ("Duplicate", "this stands here a second time. Leave out one of the two."),
    ("Unterminated", "a text is not closed. Write the quote at its end."),
    ("Illegal character", "a text is not closed, or holds a sign that cannot stand here. Look at its quotes."),
    ("Unclosed", "a bracket is not closed. Write the bracket at its end."),
    ("Expected '='", "a key without a value. Write it as key = value."),
)
"""What tomllib says about a text, by a piece of it, and what the maker is told."""


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """Return the tables of a TOML text. Raises InputError with the line where it cannot be read on."""
    try:
        if is_too_deep(text):
            raise RecursionError
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as caught:
        found = _AT.search(str(caught))
        line = int(found[1]) if found else None
        where = f"{name} line {line}" if line else name
        raise InputError(_toml_say(text, str(caught), line), where=where, code="toml") from caught
    except RecursionError as caught:
        say = "brackets or keys within others, too deep for a recipe. Write it plainer."
        raise InputError(say, where=name, code="toml") from caught
    except ValueError as caught:  # Python reads whole numbers of up to 4300 digits
        say = "a number of thousands of digits. Write one that can be measured, for example 100."
        raise InputError(say, where=name, code="toml") from caught


def _toml_say(text: str, what: str, line: int | None) -> str:
    """Return the sentence for a text that is not TOML, with the commonest slips named."""
    shown = text.splitlines()[line - 1] if line and line <= len(text.splitlines()) else ""
    for part, say in _SAYS:
        if part in what:
            return say
    if (bare := _BARE.search(shown)) and bare["value"].isprintable():
        value = bare["value"]
        if re.fullmatch(r"[-+]?\.\d+", value):
            return f"{value} has no digit before its point. Write {value.replace('.', '0.')}."
        quote = "'" if '"' in value else '"'
        return f"{value} needs quotes. Write {quote}{value}{quote}."
    return "this line cannot be read. Look at its quotes, brackets and = sign."


def check_recipe(raw: Mapping[str, Any], source: Source) -> Recipe:
    """Return the recipe of tables as they were written. Raises InputError that says every fault, a line each."""
    if crowd := crowd_faults(raw):
        raise as_error(crowd, source)
    raw = with_open_sizes(with_lists(raw))
    names = _names(raw)
    source = Source(source.name, source.lines, source.options, source.command, names)
    tables, faults = walk(raw)
    faults += clashes(raw)
    if tables is not None:
        faults += _piece_faults(tables)
    if faults or tables is None:
        raise as_error(faults, source)
    return Recipe(*with_inner_sizes(tables, raw), source)


def _names(raw: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the names of the pieces as far as they can be told, "" for those without one."""
    pieces = raw.get("piece")
    if not isinstance(pieces, list):
        return ()
    return tuple(str(piece.get("name", "")) if isinstance(piece, Mapping) else "" for piece in pieces)


def _piece_faults(tables: RecipeTable) -> list[Fault]:
    """Return faults between values that are sound alone: names twice, cards unknown, a base against its size."""
    if not tables.piece and not tables.rings:
        return [Fault((), 'no piece in it. Write [[piece]] and below it size = "100mm".')]
    found = [*ring_faults(tables), *opening_faults(tables)]
    seen: dict[str, int] = {}
    for index, piece in enumerate(tables.piece):
        if piece.name is not None and seen.setdefault(piece.name.casefold(), index) != index:
            found.append(
                Fault(("piece", index, "name"), "a piece before it is called so. Take another name.", piece.name, True)
            )
        if tables.card and piece.card is not None and piece.card not in tables.card:
            near = difflib.get_close_matches(piece.card, tables.card, n=1, cutoff=0.0)[0]
            say = f"there is no [card.{piece.card}]; the nearest is {near}."
            found.append(Fault(("piece", index, "card"), say, piece.card, True))
        found += _trial_faults(index, piece)
        found += _base_faults(index, piece)
        found += _row_faults(index, piece)
        found += layer_faults(index, piece, tables.card)
        found += fold_faults(index, piece)
    return found


_TABLED: Final = ("hole", "fold", "lid", "stand")
_SHAPING: Final = ("opening", "rim", "row", *_TABLED, "ratio", "grow_from", "base")
"""Keys of a piece that tell what it shall look like, and those of them that hold lists of tables."""


def _trial_faults(index: int, piece: PieceTable) -> list[Fault]:
    """Return the fault of a test piece that is told what it shall look like: it has its own shape."""
    shaped = [key for key in _SHAPING if getattr(piece, key)]
    if piece.test_piece and (shaped or piece.size != "find"):
        key = shaped[0] if shaped else "size"
        inner: tuple[str | int, ...] = (0, "motif") if key == "row" else (0,) if key in _TABLED else ()
        return [Fault(("piece", index, key, *inner), "a test piece has its own size and shape. Leave this out.")]
    return []


def _base_faults(index: int, piece: PieceTable) -> list[Fault]:
    """Return the fault of a base whose size has the other shape."""
    if piece.base is None or isinstance(piece.size, str) or (piece.base == "circle") == piece.size.is_circle:
        return []
    say = "a circle has one size" if piece.base == "circle" else "an oval has two sizes that differ, such as 150x100mm"
    return [Fault(("piece", index, "base"), f"{say}. Leave out base, the size tells.", piece.base, True)]


def _row_faults(index: int, piece: PieceTable) -> list[Fault]:
    """Return the faults of rows that stand on an opening which is not there, and of rests said two ways."""
    say = "there is no opening to stand on. Write opening or rim above [[piece.row]]."
    has_opening = piece.opening is not None or piece.rim is not None
    found = [
        Fault(("piece", index, "row", place, "on"), say, row.on, True)
        for place, row in enumerate(piece.row)
        if row.on == "opening" and not has_opening
    ]
    for place, row in enumerate(piece.row):
        if row.filler is not None and row.rest in ("spread", "size"):
            say = f'a filler goes with rest "filler", not with "{row.rest}". Leave out one of them.'
            found.append(Fault(("piece", index, "row", place, "filler"), say, row.filler, True))
    return found


def as_error(faults: list[Fault], source: Source) -> InputError:
    """Return one error of all faults, in the order of their lines, each line once."""
    ordered = sorted(faults, key=lambda fault: line_of(fault.path, source.lines) or 0)
    errors = []
    for fault in ordered:
        where = source.label(fault.path, fault.found) if fault.has_found else source.place(fault.path)
        errors.append(InputError(fault.say, where=where, code="recipe"))
    unique = list({str(error): error for error in errors}.values())
    if len(unique) > _MOST_TOLD:
        say = f"and {len(unique) - _MOST_TOLD} more. Mend those above first."
        unique = [*unique[:_MOST_TOLD], InputError(say, where=source.name or "make", code="recipe")]
    return InputError.from_many([*unique])  # type: ignore[return-value]  # from_many keeps the class
