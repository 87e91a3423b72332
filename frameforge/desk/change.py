"""A recipe changed by blanks of the sentence: what was put in is laid over it as options of a command are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from frameforge.desk.address import Holder, holder_of, is_place, path_of
from frameforge.desk.edit import as_written, put_in, taken_out
from frameforge.desk.paths import refuse_paths
from frameforge.desk.recipe_text import recipe_text
from frameforge.desk.shape import shaped
from frameforge.desk.stale_places import without_stale_places
from frameforge.errors import InputError
from frameforge.recipe.fold_options import FOLD_OPTIONS
from frameforge.recipe.from_options import FILE_OPTIONS, PIECE_OPTIONS, ROW_OPTIONS, SHEET_OPTIONS, with_options
from frameforge.recipe.lines import Path, line_numbers
from frameforge.recipe.recipe import Recipe, check_recipe, parse_toml
from frameforge.recipe.single_tables import with_lists
from frameforge.recipe.source import Source
from frameforge.recipe.text_fields import TEXT_OPTIONS

__all__ = ["DESK", "RECIPE_NAME", "Change", "changed_text", "checked"]

RECIPE_NAME: Final = "recipe"
DESK: Final = "desk"
"""What stands before a blank's name where a message says its place."""

_TABLE_OF: Final = {"layers": "layer"}
_OPTIONS: Final = frozenset(
    (*PIECE_OPTIONS, *FOLD_OPTIONS, *TEXT_OPTIONS, *FILE_OPTIONS, *SHEET_OPTIONS, "hole", "layers", "units", "rings")
)
"""What goes in as an option of a command does, with all that an option takes away; the rest is put in its place."""


_MANY: Final = frozenset(("motif", "filler", "skip", "mend", "hole", "sheet", "used"))
_SWITCHES: Final = frozenset(
    ("keep_counters", "test_piece", "one_path", "one_file", "as_cut", "hand_out", "split_kinds", "mirror", "flip")
)


class Change:
    """What the page wants changed: ``options`` by their addresses as typed, the addresses to ``leave_out``.

    ``at`` names the table that is meant where an address names none: "piece.1"; the first one where it is left out.
    """

    __slots__ = ("at", "leave_out", "options")

    def __init__(self, options: Mapping[str, Any], leave_out: Iterable[str], at: str = "") -> None:
        self.options = dict(options)
        self.leave_out = tuple(leave_out)
        self.at = at

    def __bool__(self) -> bool:
        """Whether there is anything to change."""
        return bool(self.options or self.leave_out)


def changed_text(text: str, change: Change) -> str:
    """Return the recipe text with a change laid over it; without one, the text as it stands.

    Raises InputError with every fault that the change brings, said of the blank, or that stood there before, said of
    its line.
    """
    raw = parse_toml(text, RECIPE_NAME)
    refuse_paths(raw)
    if not change:
        return text
    checked(text)
    before = raw = dict(with_lists(raw))
    holder = holder_of(change.at, raw)
    raw = _left_out(raw, change.leave_out, holder)
    options = dict(change.options)
    if (shape := options.pop("shape", None)) is not None:
        options |= shaped(_table(raw, holder), raw.get("units", "mm"), str(shape), where=DESK)
    result, places = _laid(raw, options, holder)
    result = without_stale_places(before, result)
    refuse_paths(result)
    check_recipe(result, Source(RECIPE_NAME, options=places, command=DESK))
    return recipe_text(result)


def checked(text: str) -> Recipe:
    """Return the checked recipe of a text. Raises InputError with every fault, said of its line."""
    raw = parse_toml(text, RECIPE_NAME)
    refuse_paths(raw)
    return check_recipe(raw, Source(RECIPE_NAME, line_numbers(text), command=DESK))


def _table(raw: Mapping[str, Any], holder: Holder) -> Mapping[str, Any]:
    """Return the table that a holder names; an empty one where there is none yet."""
    kind, number = holder
    tables = raw.get(kind) or []
    return tables[number] if number < len(tables) else {}


def _left_out(raw: dict[str, Any], addresses: Iterable[str], holder: Holder) -> dict[str, Any]:
    """Return the recipe without what stands at some addresses, the last of a list first, so that none slips."""
    paths = {_gone(address, holder) for address in addresses}
    paths = {path for path in paths if is_place(path)}
    for path in paths:
        if path[0] == "motif":
            _check_unused(raw, str(path[1]))
    for path in sorted(paths, key=lambda path: [(isinstance(part, str), part) for part in path], reverse=True):
        raw = taken_out(raw, path)
    return raw


def _check_unused(raw: Mapping[str, Any], name: str) -> None:
    """Refuse to take a drawing away that stands in a piece."""
    tables = [table for kind in ("piece", "rings") for table in raw.get(kind) or []]
    rows = [row for table in tables for row in table.get("row", [])]
    if any(name in (row.get("filler"), *_motifs(row.get("motif"))) for row in rows):
        say = f"{name} stands in this recipe. Choose another motif there first."
        raise InputError(say, where=f"{DESK}, --motif", code="in-use")


def _motifs(pattern: Any) -> list[Any]:
    """Return the names of the motifs of a row."""
    entries = pattern if isinstance(pattern, list) else [pattern]
    return [entry.get("motif") if isinstance(entry, Mapping) else entry for entry in entries]


def _gone(address: str, holder: Holder) -> Path:
    if address in FILE_OPTIONS:
        return ("files", address)
    return path_of(_TABLE_OF.get(address, address), holder)


def _laid(raw: dict[str, Any], options: Mapping[str, Any], usual: Holder) -> tuple[dict[str, Any], dict[Path, str]]:
    """Return the recipe with options laid over it, and where each of its values comes from."""
    together: dict[tuple[Holder, int], dict[str, Any]] = {}
    apart: dict[Path, Any] = {}
    for address, value in options.items():
        path = path_of(address, usual)
        place = _option_place(address, path, usual)
        _check_typed(address if place is None else place[2], value)
        if place is None:
            apart[path] = as_written(path, value)
        else:
            holder, row, key = place
            together.setdefault((holder, row), {})[key] = value
    places: dict[Path, str] = {}
    for (holder, row), given in together.items():
        raw = _with_options(raw, holder, row, given, places)
    for path, value in apart.items():
        if not is_place(path) or path[0] == "motif":
            raise InputError("a recipe has no such place. Write it in the recipe.", where=DESK, code="no-place")
        raw = put_in(_without_rival(raw, path), path, value)
        places[path] = f"--{str(path[-1]).replace('_', '-')}"
    return _with_cards(raw), places


def _with_cards(raw: dict[str, Any]) -> dict[str, Any]:
    """Return the recipe with a table for every colour that is used, where some have one: then all must be known."""
    if not raw.get("card"):
        return raw
    tables = [table for kind in ("piece", "rings") for table in raw.get(kind) or []]
    used = [table["card"] for one in tables for table in (one, *one.get("layer", [])) if "card" in table]
    return {**raw, "card": {**raw["card"], **{str(name): {} for name in used if name not in raw["card"]}}}


def _check_typed(address: str, value: Any) -> None:
    """Refuse a list or a switch where a key takes neither."""
    key = address.rpartition(".")[2]
    if (value is True and key not in _SWITCHES) or (isinstance(value, list) and key not in _MANY):
        raise InputError("not a text.", where=f"{DESK}, --{key.replace('_', '-')}", code="text")


def _option_place(address: str, path: Path, usual: Holder) -> tuple[Holder, int, str] | None:
    """Return table, row and key of what is laid over the recipe as an option; None for what is put in its place."""
    if "." not in address and address in _OPTIONS:
        return usual, 0, address
    match path:
        case (("piece" | "rings") as kind, int(number), str(key)) if key in _OPTIONS and key not in SHEET_OPTIONS:
            return (kind, number), 0, key
        case ("rings", int(number), "sizes"):
            return ("rings", number), 0, "rings"
        case (("piece" | "rings") as kind, int(number), "row", int(row), str(key)) if key in ROW_OPTIONS:
            return (kind, number), row, key
    return None


def _with_options(
    raw: Mapping[str, Any], holder: Holder, row: int, given: Mapping[str, Any], places: dict[Path, str]
) -> dict[str, Any]:
    """Return the recipe with options laid over one table of it, and over one row of that.

    The table and its row are taken by themselves, as an option has to be of one piece with one row.
    """
    kind, number = holder
    table = dict(_table(raw, holder))
    rows = list(table.get("row", []))
    if row > len(rows) or number > len(raw.get(kind) or []):
        raise InputError("there are fewer of these. Add one after the other.", where=DESK, code="no-place")
    if rows:
        table["row"] = rows[row : row + 1]
    if "size" in given:
        table.pop("from_opening", None)
    alone: dict[str, Any] = {key: value for key, value in raw.items() if key not in ("piece", "rings")}
    alone[kind] = [table] if table else []
    laid, source = with_options(alone, Source(RECIPE_NAME, command=DESK), given)
    changed = dict(laid[kind][0]) if laid.get(kind) else table
    if len(rows) > 1 or row:
        rows[row : row + 1] = changed.get("row", [])
        changed["row"] = rows
    tables = list(raw.get(kind, []))
    tables[number : number + 1] = [changed]
    for path, option in source.options.items():
        places[_moved(path, holder, row)] = option
    found = {**raw, **{key: value for key, value in laid.items() if key != kind}, kind: tables}
    return {key: value for key, value in found.items() if key in laid or key in ("piece", "rings")}


def _moved(path: Path, holder: Holder, row: int) -> Path:
    """Return where a value of a table taken by itself stands in the whole recipe."""
    if path[:2] != (holder[0], 0):
        return path
    rest = path[2:]
    if rest[:2] == ("row", 0):
        rest = ("row", row, *rest[2:])
    return (*holder, *rest)


def _without_rival(raw: dict[str, Any], path: Path) -> dict[str, Any]:
    """Return the recipe without what says the same as a value that is put in: a size, and what tells the size."""
    if path[-1] != "from_opening":
        return raw
    return taken_out(raw, (*path[:-1], "size"))
